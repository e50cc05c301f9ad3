"""`leanladder why DAY`: the limit of one combination of a day's session."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from leanladder.cli import asked as ask
from leanladder.cli.common import language
from leanladder.cli.day_changes import Changes, changes, cut, instead, weathers
from leanladder.cli.plan_day import day_circuit, day_notices
from leanladder.cli.progress import progress
from leanladder.domain.day import Day
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import Notice
from leanladder.domain.why import Why
from leanladder.interchange.day import read_day
from leanladder.interchange.nearest import nearest
from leanladder.planning.day import Planned, begun_day
from leanladder.planning.why import why


def why_of_day(
    path: Path, given: Mapping[str, object], rung: tuple[int, int], machine: object
) -> tuple[Why, Sequence[Notice]]:
    """Return why a day's limit is what it is, and the warnings of its ladder.

    given: the options about the day, by their parameters' names; rung: lap and corner; machine: one of the
    day's machines by name, or None. Raises InputError where these leave open which ladder is meant, and
    OutsideModelError where that has no number.
    """
    changed = changes(given)
    day = cut(_whole(path, changed), changed)
    circuit = day_circuit(day, closed_course=changed.closed_course)
    weather = weathers(day, circuit, changed)
    with progress(wanted=True) as told:
        planned = begun_day(
            day,
            circuit,
            weather,
            band=changed.band,
            instead=instead(day, changed),
            chance=changed.chance,
            progress=told,
        )
    out = [each for each in planned if each.entry.session.name == changed.session]
    found = _of_machine(out, machine, day)
    if found.entry.ladder is None:
        raise found.entry.refusal or InputError("this session has no ladder.")
    with ask.in_options():
        answer = why(found.entry.ladder.session, *rung, begin=found.begin)
    return answer, day_notices(found.entry, changed, language())[1]


def _whole(path: Path, changed: Changes) -> Day:
    """The day as its file has it; raises InputError where no session of it is named."""
    whole = read_day(path)
    if changed.session is None:
        names = ", ".join(run.name for run in whole.sessions)
        raise InputError("a day has many ladders.", Fault(None, None, "--session", None, names, "Name one."))
    return whole


def _of_machine(planned: Sequence[Planned], machine: object, day: Day) -> Planned:
    """The one whose machine is named, or the only one there is."""
    names = list(dict.fromkeys(name for each in planned for name in each.entry.machines))
    if machine is None and len(planned) == 1:
        return planned[0]
    for each in planned:
        if machine in each.entry.machines:
            return each
    close = None if machine is None else nearest(str(machine), names)
    remedy = f"Did you mean {close}?" if close else "Name the machine of one of its riders."
    what = "several combinations go out." if machine is None else "no such machine goes out in this session."
    value = None if machine is None else str(machine)
    raise InputError(what, Fault(day.file, None, "--machine", value, ", ".join(names), remedy))
