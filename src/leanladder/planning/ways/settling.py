"""Where the limits are going to be, and from which minute on they stay near to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from leanladder.domain.circuit import Side
from leanladder.domain.session import Session
from leanladder.planning.ladder import follow
from leanladder.planning.riding import Caps
from leanladder.planning.tables import Tables
from leanladder.planning.ways.base import Base
from leanladder.planning.ways.pacing import Laps


class Settled(NamedTuple):
    """Where the caps are going to be: a lap of the ladder's own riding, its caps by corner [deg]."""

    lap: int
    caps_deg: Mapping[int, float]
    engine: str
    parameters: str


def settled(session: Session, tables: Tables, ways: Mapping[str, float]) -> Settled:
    """Return where the caps are about when the ladder's own riding has gone on; checks the session too."""
    asked = replace(session, laps=int(ways["settled_lap"]))
    ladder = follow(asked, tables, minutes=ways["settled_min"]).ladder
    lap = ladder.laps[: asked.laps][-1]
    caps = {rung.number: rung.cap_bike_deg for rung in lap.rungs}
    return Settled(lap.lap, caps, ladder.engine, ladder.parameters)


def settled_cap_deg(session: Session, caps_deg: Mapping[int, float]) -> float | None:
    """Return the mean [deg] of the busier side's settled caps, None without any."""
    side = busier(session)
    corners = session.circuit.corners
    own = [caps_deg[each.number] for each in corners if each.side == side and each.number in caps_deg]
    return sum(own) / len(own) if own else None


def busier(session: Session) -> Side:
    """Return the side with more of the turns, right where both have as many."""
    corners = session.circuit.corners
    rights = sum(corner.side == "right" for corner in corners)
    return "right" if 2 * rights >= len(corners) else "left"


def ready_minute(made: Base, laps: Laps, caps: list[Caps], settled_deg: Mapping[int, float]) -> float | None:
    """Return the minute of the busier side's first corner from which on no cap is far below where it will be.

    None if there is none within the laps. caps: of each lap; settled_deg: by corner.
    """
    corners, side = made.place.session.circuit.corners, busier(made.place.session)
    began_s, seen = 0.0, list[tuple[float, bool]]()
    for lap, found in zip(laps, caps, strict=True):
        passed = np.concatenate([[0.0], np.cumsum(lap.moves.dt_s)])
        for index in lap.way.ridden:
            corner = corners[index]
            if corner.side == side and corner.number in settled_deg:
                near = found.cap[index] >= settled_deg[corner.number] - made.ways["settled_deg"]
                seen.append((began_s + float(passed[lap.way.arrivals[index]]), bool(near)))
        began_s += float(passed[-1])
    away = max((place for place, (_, near) in enumerate(seen) if not near), default=-1)
    return seen[away + 1][0] / 60.0 if away + 1 < len(seen) else None
