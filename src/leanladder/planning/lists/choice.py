"""Which of the evening's sets counts at the circuit, by what is measured there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder, SetName
from leanladder.domain.paper import SetChoice, SetRow
from leanladder.planning.sets import SETS

Plans = Mapping[BandEnd, Sequence[DayLadder]]


def set_choice(
    day: Day, circuit: Circuit, plans: Plans, words: Mapping[SetName, str], language: str
) -> SetChoice:
    """Return the least track and air of each set, session by session, rounded up to whole degrees.

    A set counts where both are at least as warm as it needs; the mildest such set is taken. None stands for
    a set without a number in that session. A milder set never needs less than a colder one.
    """
    return SetChoice(
        school=day.school,
        circuit=circuit.name,
        date=day.date,
        language=language,
        rows=tuple(SetRow(run.name, run.at, _needs(plans, run.name)) for run in day.sessions),
        words=tuple((name, words[name]) for name in SETS if name in words),
    )


def _needs(plans: Plans, session: str) -> tuple[tuple[SetName, int | None, int | None], ...]:
    needs: list[tuple[SetName, int | None, int | None]] = []
    track_c = air_c = -math.inf
    for name, band in SETS.items():
        ladders = [
            entry.ladder for entry in plans.get(band, ()) if entry.session.name == session and entry.ladder
        ]
        if not ladders:
            needs.append((name, None, None))
            continue
        # What a colder set needs a milder one needs too: a measured track may stand in one of them alone.
        track_c = max(track_c, *(ladder.session.road.open_c for ladder in ladders))
        air_c = max(air_c, *(ladder.session.weather.air_c for ladder in ladders))
        needs.append((name, math.ceil(track_c), math.ceil(air_c)))
    return tuple(needs)
