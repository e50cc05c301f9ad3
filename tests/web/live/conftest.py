"""The example day with ladders that were worked out once, over two laps a run."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from importlib.resources import as_file, files

import django
import pytest

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from django.test import Client  # noqa: E402  # only once Django is set up

from leanladder.domain.day import DayLadder  # noqa: E402  # the same
from leanladder.importers import read_outline  # noqa: E402  # the same
from leanladder.interchange.day import read_day  # noqa: E402  # the same
from leanladder.interchange.notes import read_notes  # noqa: E402  # the same
from leanladder.planning import circuits  # noqa: E402  # the same
from leanladder.planning.day import plan_day  # noqa: E402  # the same
from leanladder.records import people, plans, stored  # noqa: E402  # the same
from leanladder.records.models import Day, Person  # noqa: E402  # the same
from leanladder.web.plans import Worked, inputs_of  # noqa: E402  # the same

LAPS = 2
Stands = Callable[[], None]


@pytest.fixture(scope="session")
def worked() -> Worked:
    """Give the example's first two runs, planned over few laps."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
        circuit = circuits.build(
            read_outline(folder / "circuit.csv"), read_notes(folder / "circuit-notes.toml")
        )
    sessions = tuple(replace(run, minutes=None, laps=LAPS) for run in day.sessions[:2])
    day = replace(day, sessions=sessions)
    return Worked(1, day, circuit, plan_day(day, circuit), "0" * 12, "heron")


@pytest.fixture(scope="session")
def larks(worked: Worked) -> tuple[DayLadder, ...]:
    """Give the combinations of the first run."""
    return tuple(entry for entry in worked.entries if entry.session.name == "larks 1")


@pytest.fixture
def stands(demo: Day, worked: Worked) -> Stands:
    """Give what the worker does: the plan for the day as it stands is there."""
    content = stored.to_json((worked.day, worked.circuit, worked.entries, worked.word))

    def done() -> None:
        digest = inputs_of(demo.pk).digest()
        plans.wanted(demo.pk, digest, lambda _plan: None)
        plans.keep_plan(demo.pk, digest, content=content)

    return done


@pytest.fixture
def planned(demo: Day, stands: Stands) -> Day:
    """Give the example day with its ladders worked out."""
    stands()
    return demo


@pytest.fixture
def isolde(_asked: None) -> Person:
    """Give a coach of the other group, plovers."""
    return people.add_person("isolde", "a long enough word", "coach", "Isolde", by=None)


@pytest.fixture
def heads(head: Person, asks: Callable[[Person | None], Client]) -> Client:
    """Give the head instructor's browser."""
    return asks(head)


@pytest.fixture
def coachs(coach: Person, asks: Callable[[Person | None], Client]) -> Client:
    """Give the browser of a coach of larks."""
    return asks(coach)
