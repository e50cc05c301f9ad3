"""A day's ladders as its records stand now: asked of the worker, kept, and found again."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.errors import InputError
from leanladder.records import days, history, live, plans, stored
from leanladder.records.models import Plan
from leanladder.web.today import Careful, Inputs, Reading, planned

KEPT = 12  # plans of a day that stay on record
AT_HAND = 8  # plans that this process keeps read


class Worked(NamedTuple):
    """A day's ladders: the day's key, day and circuit, the digest of what went in, the day word."""

    pk: int
    day: Day
    circuit: Circuit
    entries: tuple[DayLadder, ...]
    digest: str
    word: str


class Progress(NamedTuple):
    """How far a day's plan is: state, runs done and to do, and why it failed."""

    state: str
    done: int = 0
    of: int = 0
    error: str = ""


def inputs_of(day_pk: int) -> Inputs:
    """Return what a plan of a day counts on as its records stand now."""
    readings = tuple(
        Reading(
            each.at,
            each.run_name,
            each.track_c,
            each.air_c,
            each.cloud,
            each.wind_mps,
            each.humidity_pct,
            each.seen_dry,
        )
        for each in reversed(live.all_measured(day_pk))
    )
    careful = tuple(
        Careful(each.level, each.chance_of_100, each.colder_k or 0.0)
        for each in reversed(live.lowered(day_pk))
    )
    return Inputs(_file_digest(day_pk, history.latest()), readings, careful)


@lru_cache(maxsize=AT_HAND)
def _file_digest(day_pk: int, _latest: str) -> str:
    """The digest of a day's file, made anew only after a change: pages ask for it every few seconds."""
    return days.day_file(day_pk).digest


def progress(day_pk: int, inputs: Inputs | None = None) -> Progress:
    """Return how far the plan of a day is, and see to it that one is being made."""
    plan = _wanted(day_pk, inputs or inputs_of(day_pk))
    return Progress(plan.state, plan.done, plan.of, plan.error)


def worked(day_pk: int, inputs: Inputs | None = None) -> Worked | None:
    """Return a day's ladders as records stand now; None while they are worked out, or where that failed."""
    plan = _wanted(day_pk, inputs or inputs_of(day_pk))
    return _read(plan.pk) if plan.state == plans.State.DONE else None


@lru_cache(maxsize=AT_HAND)
def _read(plan_pk: int) -> Worked:
    """A plan as it was kept: it never changes once it is done."""
    plan = plans.plan(plan_pk)
    found = stored.from_json(plan.content)
    if not isinstance(found, tuple):
        raise TypeError("a plan was kept as something else")
    day, circuit, entries, word = found
    return Worked(plan.day_id, day, circuit, entries, plan.digest, word)


def forget_read() -> None:
    """Forget what this process has read: only tests give a key twice."""
    _read.cache_clear()
    _file_digest.cache_clear()


def run_entries(found: Worked, run_name: str) -> tuple[DayLadder, ...]:
    """Return a run's combinations by its name; none for a name the day does not have."""
    return tuple(entry for entry in found.entries if entry.session.name == run_name)


def _wanted(day_pk: int, inputs: Inputs) -> Plan:
    """The plan for some inputs; asked of the worker where there is none."""
    return plans.wanted(day_pk, inputs.digest(), lambda plan: _asked(plan.pk, inputs.written()))


def ask_again(plan: Plan) -> None:
    """Ask the worker for a plan whose job was lost; one that records have overtaken is forgotten."""
    try:
        inputs = inputs_of(plan.day_id)
    except InputError:  # the day cannot be read as it stands now
        plans.forget(plan.pk)
        return
    if inputs.digest() == plan.digest:
        _asked(plan.pk, inputs.written())
    else:
        plans.forget(plan.pk)  # whoever still looks for it asks anew


def _asked(plan_pk: int, inputs: str) -> None:
    """Ask the worker for a plan."""
    from leanladder.web.jobs.plans import work_out  # noqa: PLC0415  # the task needs this module in turn

    work_out.enqueue(plan_pk, inputs)


def work_out_now(plan_pk: int, inputs: Inputs) -> None:
    """Work a plan out and keep it, where records still stand as when it was asked for."""
    plan = plans.plan(plan_pk)
    if inputs_of(plan.day_id) != replace(inputs, again=None):
        plans.forget(plan_pk)  # overtaken: whoever looks next asks for the day as it is by then
        return
    plans.tell_progress(plan_pk, 0, 0)
    with tempfile.TemporaryDirectory() as folder:
        standing = planned(days.write_day(plan.day_id, Path(folder)), inputs, _teller(plan_pk))
    plans.keep_plan(plan.day_id, plan.digest, content=stored.to_json(tuple(standing)))
    plans.forget_plans(plan.day_id, KEPT)


def _teller(plan_pk: int) -> Callable[[int, int], None]:
    def told(done: int, of: int) -> None:
        plans.tell_progress(plan_pk, done, of)

    return told


def failed(plan_pk: int, why: str) -> None:
    """Keep why a plan could not be made."""
    plan = plans.plan(plan_pk)
    plans.keep_plan(plan.day_id, plan.digest, state=plans.State.FAILED, error=why)
