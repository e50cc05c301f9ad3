"""The circuit: its outline as surveyed, its corners, and what the notes say of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Outline:
    """Points along a circuit as an importer read them, in the file's order.

    points (n, 2): x, y [m] when frame is "metres"; latitude, longitude [deg, WGS84] when
    "degrees". elevation_m (n,) or None; width_m (n, 2) to the right and left, or None.
    A repeated last point is kept: geometry closes the line. source is the file; remarks say what
    the importer chose among what the file holds.
    """

    name: str
    frame: Literal["metres", "degrees"]
    points: Floats
    elevation_m: Floats | None = None
    width_m: Floats | None = None
    source: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner of the circuit, in riding order from 1.

    start_m, apex_m, end_m are distances along the lap [m]; a corner across the start line has
    end_m below start_m. radius_m is the tightest radius of the smoothed line [m]; turn_deg
    the heading it turns through [deg, positive]; same_side_gap_m the distance from the end of
    the last corner of the same side to this start, over the start line where need be [m].
    """

    number: int
    name: str
    side: Side
    start_m: float
    apex_m: float
    end_m: float
    radius_m: float
    turn_deg: float
    same_side_gap_m: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the lap from from_m to to_m [m], wrapping over the start line if to_m is less."""

    from_m: float
    to_m: float


@dataclass(frozen=True, slots=True)
class Patch:
    """A stretch whose surface is not the circuit's: a catalogue name."""

    stretch: Stretch
    surface: str


@dataclass(frozen=True, slots=True)
class CornerName:
    """A name for the corner whose apex lies nearest to at_m [m]."""

    at_m: float
    name: str


@dataclass(frozen=True, slots=True)
class Bank:
    """Bank of a stretch [deg], positive where the road tilts into the turn."""

    stretch: Stretch
    bank_deg: float


@dataclass(frozen=True, slots=True)
class CircuitNotes:
    """What the school knows of a circuit beyond its line (circuit-notes/1).

    Distances are along the lap in riding direction from the start line [m], after reverse and
    start_at_m were applied, except start_at_m itself, which is along the file's line in riding direction.
    """

    name: str | None = None
    names: tuple[CornerName, ...] = ()
    merges: tuple[Stretch, ...] = ()
    splits_m: tuple[float, ...] = ()
    reverse: bool = False
    start_at_m: float = 0.0
    pit_exit_m: float | None = None
    pit_entry_m: float | None = None
    zone: str | None = None
    banks: tuple[Bank, ...] = ()
    elevation: tuple[tuple[float, float], ...] = ()
    shaded: tuple[Stretch, ...] = ()
    patches: tuple[Patch, ...] = ()
    hard_upright_allowed: bool = False
    closed_course: bool | None = None
    source: str = ""
    file: str | None = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """A closed circuit on an even grid, with its corners.

    Arrays are (n,), at distances s_m = i * length_m / n along the lap [m]: x_m, y_m [m],
    curvature_per_m [1/m, positive turning left], elevation_m [m], bank_deg [deg, positive
    into the turn], shaded [bool]. net_turns is the heading gained over a lap in whole turns,
    positive left. latitude_deg and longitude_deg [deg] are None for a file without them.
    """

    name: str
    length_m: float
    net_turns: int
    s_m: Floats
    x_m: Floats
    y_m: Floats
    curvature_per_m: Floats
    elevation_m: Floats
    bank_deg: Floats
    shaded: NDArray[np.bool_]
    corners: tuple[Corner, ...]
    patches: tuple[Patch, ...] = ()
    pit_exit_m: float | None = None
    pit_entry_m: float | None = None
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    zone: str | None = None
    hard_upright_allowed: bool = False
    closed_course: bool = False
    source: str = ""
    remarks: tuple[str, ...] = field(default=())
