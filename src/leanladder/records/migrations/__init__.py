"""The tables, step by step."""
