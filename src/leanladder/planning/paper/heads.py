"""The figures at a coach's sheet's head: road, air, tyres and machines, each with where it came from."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from functools import lru_cache

from leanladder.domain.day import DayLadder
from leanladder.domain.errors import LeanladderError
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import Figure
from leanladder.domain.sentence import Sentence
from leanladder.domain.weather import Origin, Weather
from leanladder.planning.day_weather import minute_of
from leanladder.planning.morning import settle_road
from leanladder.planning.paper.run import Run


def head_figures(run: Run, entry: DayLadder, ladder: Ladder) -> tuple[Figure, ...]:
    """Return the figures at the head of an entry's sheet."""
    return tuple(_figures(run, entry, ladder))


def _figures(run: Run, entry: DayLadder, ladder: Ladder) -> Iterator[Figure]:
    session, at = ladder.session, f"{run.heading.at:%H:%M}"
    road = session.road
    note = Sentence(f"figure.{road.origin}", {"at": at})
    yield Figure("figure.track", _degrees(road.open_c, road.origin), road.origin, note)
    yield _air(ladder, at)
    yield from _track_end(run, ladder)
    yield _tyres(entry, ladder)
    count = len(entry.machines)
    same = entry.tyres[0] == entry.tyres[1]
    families = {"front": entry.tyres[0], "rear": entry.tyres[1]}
    alike = Sentence("figure.one_family" if same else "figure.two_families", families)
    yield Figure("figure.machines", f"{count}", "measured", alike)


def _air(ladder: Ladder, at: str) -> Figure:
    """The air counts as measured where the track was: whoever measures one has the other at hand."""
    weather = ladder.session.weather
    origin, code = _air_origin(ladder)
    return Figure("figure.air", _degrees(weather.air_c, origin), origin, Sentence(code, {"at": at}))


def _air_origin(ladder: Ladder) -> tuple[Origin, str]:
    measured = ladder.session.weather.track_c is not None
    return ("measured", "figure.measured") if measured else ("assumed", "figure.forecast")


def _track_end(run: Run, ladder: Ladder) -> Iterator[Figure]:
    """The track at the end of the session in the same air, where it is computed at its start."""
    weather, heading = ladder.session.weather, run.heading
    lasts_min = minute_of(heading.valid_until) - minute_of(heading.valid_from)
    if ladder.session.road.origin != "computed" or weather.at is None or lasts_min <= 0.0:
        return
    later_c = _track_c(replace(weather, at=weather.at + timedelta(minutes=lasts_min)))
    if later_c is not None:
        note = Sentence("figure.at_end", {"at": f"{heading.valid_until:%H:%M}"})
        yield Figure("figure.track_end", f"{math.floor(later_c)} °C", "computed", note)


@lru_cache(maxsize=16)
def _track_c(weather: Weather) -> float | None:
    """The track in the open [degC], None where there is none; a session's entries ask alike."""
    try:
        return settle_road(weather, has_shade=False)[0].open_c
    except LeanladderError:
        return None


def _tyres(entry: DayLadder, ladder: Ladder) -> Figure:
    start, air_c = ladder.session.start, ladder.session.weather.air_c
    label = "figure.tyres"
    if start.kind == "cold":
        return Figure(
            label, _degrees(air_c, _air_origin(ladder)[0]), "assumed", Sentence("figure.start_cold")
        )
    if start.kind == "warmers":
        warmers_c = f"{air_c if start.warmers_c is None else start.warmers_c:g}"
        note = Sentence("figure.start_warmers", {"warmers_c": warmers_c, "on_min": f"{start.on_min:g}"})
        return Figure(label, f"{start.off_min:g} min", "assumed", note)
    origin: Origin = "assumed" if entry.after is None else "computed"
    note = Sentence(
        "figure.start_stopped" if entry.after is None else "figure.start_after", {"session": entry.after}
    )
    return Figure(label, f"{start.off_min:g} min", origin, note)


def _degrees(value_c: float, origin: Origin) -> str:
    """A temperature that the road or the air must reach: as measured, else rounded up, as sets are chosen."""
    shown = f"{value_c:.1f}".removesuffix(".0") if origin == "measured" else f"{math.ceil(value_c - 1e-9)}"
    return f"{shown} °C"
