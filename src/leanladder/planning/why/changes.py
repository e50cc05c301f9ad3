"""What one change alone does to the same rung."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from leanladder.domain.condition import Condition
from leanladder.domain.errors import InputError, LeanladderError, OutsideModelError
from leanladder.domain.ladder import Ladder, Rung
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session, Start
from leanladder.domain.why import Change, ChangeKind
from leanladder.planning import starts
from leanladder.planning.ladder import follow
from leanladder.planning.laps import MOST_LAPS
from leanladder.planning.riding import Wheels
from leanladder.planning.scrubbing import Scrubbed
from leanladder.planning.setting import Setting
from leanladder.planning.tables import Tables
from leanladder.planning.weather_checks import check_weather
from leanladder.planning.why.figures import warmers, why_figures

Begin = Callable[[Setting], Wheels]


class Asked(NamedTuple):
    """The rung to be compared with: its session and tables, lap and corner, and how its tyres began.

    before, scrubbed: both tyres as the lap began, their heat and how far they are scrubbed.
    """

    session: Session
    tables: Tables
    begin: Begin | None
    lap: int
    rung: Rung
    before: Wheels
    scrubbed: Scrubbed


def changes(asked: Asked) -> tuple[Change, ...]:
    """Return each change with the cap it leads to, or why it does not apply."""
    return (
        _warmer_track(asked),
        _another_start(asked, "warmers", warmers()),
        _another_start(asked, "cold_start", Start("cold")),
        _one_more_lap(asked),
        _stop(asked),
    )


def _warmer_track(asked: Asked) -> Change:
    session, road, by_k = asked.session, asked.session.road, why_figures()["warmer_k"]
    warmer = replace(road, open_c=road.open_c + by_k, shaded_c=road.shaded_c + by_k)
    what = Sentence("why.warmer_track", {"by_k": f"{by_k:g}", "track_c": round(warmer.open_c)})
    try:
        check_weather(replace(session.weather, track_c=warmer.open_c))
    except InputError:
        return Change("warmer_track", what, asked.lap, why_not=Sentence("why.not_so_warm"))
    return _compared(
        asked, Change("warmer_track", what, asked.lap), replace(session, road=warmer), asked.begin
    )


def _another_start(asked: Asked, kind: ChangeKind, start: Start) -> Change:
    if start.kind == "warmers":
        figures = {name: f"{getattr(start, name):g}" for name in ("warmers_c", "on_min", "off_min")}
        change = Change(kind, Sentence("start.warmers", figures), asked.lap)
    else:
        change = Change(kind, Sentence("start.cold"), asked.lap)
    if asked.begin is None and asked.session.start.kind == start.kind:
        return replace(change, why_not=Sentence("why.not_already"))
    return _compared(asked, change, replace(asked.session, start=start), None)


def _one_more_lap(asked: Asked) -> Change:
    lap = asked.lap + 1
    change = Change("one_more_lap", Sentence("why.one_more_lap", {"lap": lap}), lap)
    if lap > MOST_LAPS:
        return replace(change, why_not=Sentence("why.not_so_long"))
    return _compared(asked, change, asked.session, asked.begin)


def _stop(asked: Asked) -> Change:
    """A stop before this lap, wheels in the shade; laps then count anew, from the pit exit."""
    stop_min = why_figures()["stop_min"]

    def stood(place: Setting) -> Wheels:
        front, rear = (
            starts.stood(state, tyre, place, stop_min, in_sun=False)
            for state, tyre in zip(asked.before, (place.front, place.rear), strict=True)
        )
        return Wheels(front, rear)

    session = asked.session
    states = (session.front_state, session.rear_state)
    front, rear = (opened(*each) for each in zip(states, asked.scrubbed, strict=True))
    change = Change("stop", Sentence("why.stop", {"stop_min": f"{stop_min:g}"}), 1)
    return _compared(asked, change, replace(session, front_state=front, rear_state=rear), stood)


def opened(state: Condition | None, sides: tuple[float, float]) -> Condition:
    """Return a tyre's condition with its sides scrubbed as far as given [deg, bike lean]; infinite: all."""
    left, right = (side if math.isfinite(side) else None for side in sides)
    return replace(state or Condition(), scrubbed_left_deg=left, scrubbed_right_deg=right)


def _compared(asked: Asked, change: Change, session: Session, begin: Begin | None) -> Change:
    """A change with the cap of the same corner in the ladder that it leads to."""
    try:
        ladder = follow(replace(session, laps=change.lap), asked.tables, begin=begin).ladder
    except OutsideModelError as error:
        return replace(change, why_not=Sentence(error.code))
    except LeanladderError:
        return replace(change, why_not=Sentence("why.not_so_long"))
    return next(_answers(asked, change, ladder), replace(change, why_not=Sentence("why.not_behind")))


def _answers(asked: Asked, change: Change, ladder: Ladder) -> Iterator[Change]:
    for rung in ladder.laps[change.lap - 1].rungs:
        if rung.number == asked.rung.number:
            yield replace(
                change,
                cap_bike_deg=rung.cap_bike_deg,
                cap_lean_deg=rung.cap_lean_deg,
                difference_deg=rung.cap_bike_deg - asked.rung.cap_bike_deg,
                limited_by=rung.limited_by,
            )
