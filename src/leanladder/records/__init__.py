"""What the school keeps: people, circuits, machines, riders, days, and every ladder that was given out.

Plain functions save and return; nothing outside this package touches the tables.
"""
