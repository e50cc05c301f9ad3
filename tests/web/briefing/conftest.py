"""Two short runs of the example day, planned once: one from cold, one that mixes cold tyres and warmers."""

from __future__ import annotations

import os
from dataclasses import replace
from importlib.resources import as_file, files

import django
import pytest

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from leanladder.domain.day import DayLadder  # noqa: E402  # only once Django is set up
from leanladder.importers import read_outline  # noqa: E402  # the same
from leanladder.interchange.day import read_day  # noqa: E402  # the same
from leanladder.interchange.notes import read_notes  # noqa: E402  # the same
from leanladder.planning import circuits  # noqa: E402  # the same
from leanladder.planning.day import plan_day  # noqa: E402  # the same
from leanladder.web.plans import Worked, run_entries  # noqa: E402  # the same

LAPS = {"larks 1": 4, "plovers 1": 3}


@pytest.fixture(scope="session")
def worked() -> Worked:
    """Give the example's first two runs, planned over few laps."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
        circuit = circuits.build(
            read_outline(folder / "circuit.csv"), read_notes(folder / "circuit-notes.toml")
        )
    sessions = tuple(replace(run, minutes=None, laps=LAPS[run.name]) for run in day.sessions[:2])
    day = replace(day, sessions=sessions)
    return Worked(1, day, circuit, plan_day(day, circuit), "0" * 12, "heron")


@pytest.fixture(scope="session")
def larks(worked: Worked) -> tuple[DayLadder, ...]:
    """Give the run from cold."""
    return run_entries(worked, "larks 1")


@pytest.fixture(scope="session")
def plovers(worked: Worked) -> tuple[DayLadder, ...]:
    """Give the run that mixes."""
    return run_entries(worked, "plovers 1")
