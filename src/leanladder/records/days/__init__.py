"""Days on record: the file of one, its editing, and what comes in from files."""

from __future__ import annotations

from leanladder.records.days.editing import (
    bring,
    order_groups,
    place,
    remove_day,
    remove_group,
    remove_run,
    save_day,
    save_group,
    save_run,
    take_away,
    unplace,
)
from leanladder.records.days.folder import DayFolder, day_file, export_day, write_day
from leanladder.records.days.importing import demo_day, import_day
from leanladder.records.days.reading import day, days, groups, places, runs, written_day

__all__ = [
    "DayFolder",
    "bring",
    "day",
    "day_file",
    "days",
    "demo_day",
    "export_day",
    "groups",
    "import_day",
    "order_groups",
    "place",
    "places",
    "remove_day",
    "remove_group",
    "remove_run",
    "runs",
    "save_day",
    "save_group",
    "save_run",
    "take_away",
    "unplace",
    "write_day",
    "written_day",
]
