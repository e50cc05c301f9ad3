"""The tables. What a day's file knows is kept as the file writes it, so that one set of checks serves."""

from __future__ import annotations

from leanladder.records.models.changes import Change
from leanladder.records.models.circuits import Circuit, OwnFile
from leanladder.records.models.days import Brought, Day, Group, Place, Run
from leanladder.records.models.given import Given, Link, Plan, Seen
from leanladder.records.models.live import Lowered, Measured, Rained, Standing
from leanladder.records.models.people import Person
from leanladder.records.models.stable import Machine, Rider

__all__ = [
    "Brought",
    "Change",
    "Circuit",
    "Day",
    "Given",
    "Group",
    "Link",
    "Lowered",
    "Machine",
    "Measured",
    "OwnFile",
    "Person",
    "Place",
    "Plan",
    "Rained",
    "Rider",
    "Run",
    "Seen",
    "Standing",
]
