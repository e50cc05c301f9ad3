"""A circuit from its outline and the school's notes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from leanladder.domain.circuit import Circuit, CircuitNotes, Corner, Outline, Side
from leanladder.geometry import corners as found
from leanladder.geometry.closing import Lap, close
from leanladder.geometry.line import FINER, Line, distances, survey_line
from leanladder.geometry.projection import to_metres
from leanladder.planning import circuit_faults as faults
from leanladder.planning import circuit_notes as noted

Floats = NDArray[np.float64]

NOTHING = CircuitNotes()
# What latitudes and longitudes off a map or a receiver are known to be off by at the least, across
# the line [m]; lines in metres are taken as surveyed. Judgement.
MAP_ERROR_M = 0.3
GAP_SAID_M = 60.0  # a closed gap wider than this is mentioned


def build(
    outline: Outline,
    notes: CircuitNotes | None = None,
    *,
    reverse: bool = False,
    closed_course: bool = False,
) -> Circuit:
    """Return the circuit of an outline: one closed lap on an even grid of 2 to 4 m, with its corners.

    reverse says, like the notes' own, that the file's points run against the riding direction;
    closed_course, like the notes' own, that no other traffic is there. Corners are numbered in
    riding order from the start line. Raises InputError where the outline is no lap of 200 m to
    30 km or a note does not fit it, OutsideModelError where it is an open route.
    """
    known = notes or NOTHING
    points, latitude, longitude = _in_metres(outline)
    lap = _one_lap(outline, points)
    rows = _riding_order(lap, backwards=reverse or known.reverse)
    ridden = lap.points[rows]
    length = distances(ridden)[1]
    faults.check_length(outline, length)
    noted.check(known, length)
    error = MAP_ERROR_M if outline.frame == "degrees" else 0.0
    line = survey_line(ridden, known.start_at_m, error)
    faults.check_radius(outline, line)
    pieces, remarks = noted.pieces(line, known)
    corners, name_remarks = noted.named(_corners(line, pieces), known, length)
    grid = line.every(FINER)
    heights = None if outline.elevation_m is None else outline.elevation_m[lap.index[rows]]
    return Circuit(
        name=known.name or outline.name,
        length_m=length,
        net_turns=line.net_turns,
        s_m=grid.s_m,
        x_m=grid.x_m,
        y_m=grid.y_m,
        curvature_per_m=grid.curvature_per_m,
        elevation_m=noted.elevation(grid, known, ridden, heights),
        bank_deg=noted.banks(grid.s_m, known),
        shaded=noted.shaded(grid.s_m, known),
        corners=corners,
        patches=known.patches,
        pit_exit_m=known.pit_exit_m,
        pit_entry_m=known.pit_entry_m,
        latitude_deg=latitude,
        longitude_deg=longitude,
        zone=known.zone,
        hard_upright_allowed=known.hard_upright_allowed,
        closed_course=closed_course or known.closed_course is True,
        source=known.source or Path(outline.source).name,
        remarks=(
            *outline.remarks,
            *_lap_remarks(lap),
            *remarks,
            *name_remarks,
            *_start_remarks(corners, known),
        ),
    )


def _in_metres(outline: Outline) -> tuple[Floats, float | None, float | None]:
    """Return the points [m] and the centre's latitude and longitude [deg] if they are known."""
    faults.check_figures(outline)
    if outline.frame == "metres":
        return outline.points, None, None
    return to_metres(outline.points)


def _one_lap(outline: Outline, points: Floats) -> Lap:
    """Return the lap in the points; raises InputError or OutsideModelError in plain words."""
    try:
        return close(points)
    except ValueError as error:
        raise faults.no_lap(outline, str(error)) from None


def _riding_order(lap: Lap, *, backwards: bool) -> NDArray[np.intp]:
    """Return the lap's rows in riding order; the first stays the first."""
    rows = np.arange(len(lap.points))
    return np.concatenate([rows[:1], rows[:0:-1]]) if backwards else rows


def _corners(line: Line, pieces: list[found.Piece]) -> tuple[Corner, ...]:
    """Return the corners, numbered, each with the gap since the last of its side."""
    bends = [found.bend(line, piece) for piece in pieces]
    return tuple(
        Corner(
            number=row + 1,
            name="",
            side=_side(bend.side),
            start_m=bend.start_m,
            apex_m=bend.apex_m,
            end_m=bend.end_m,
            radius_m=bend.radius_m,
            turn_deg=bend.turn_deg,
            same_side_gap_m=_gap(bends, row, line.length_m),
        )
        for row, bend in enumerate(bends)
    )


def _side(side: str) -> Side:
    return "left" if side == "left" else "right"


def _gap(bends: list[found.Bend], row: int, length_m: float) -> float:
    """Return the distance [m] from the end of the last corner of the same side to this one's start."""
    before = [bends[row - back] for back in range(1, len(bends) + 1)]
    last = next(bend for bend in before if bend.side == bends[row].side)
    return float((bends[row].start_m - last.end_m) % length_m)


def _lap_remarks(lap: Lap) -> tuple[str, ...]:
    """Return what was done to close the lap."""
    remarks = []
    if lap.laps > 1.0:
        remarks.append(f"The track passes its own start again ({lap.laps:.1f} laps); its first lap is used.")
    if lap.gap_m > GAP_SAID_M:
        remarks.append(f"The line was open by {lap.gap_m:.0f} m; the gap is closed by a straight.")
    return tuple(remarks)


def _start_remarks(corners: tuple[Corner, ...], notes: CircuitNotes) -> tuple[str, ...]:
    """Return a remark if the start line lies within a corner."""
    across = next((corner for corner in corners if corner.end_m < corner.start_m), None)
    if across is None:
        return ()
    remedy = "" if notes.start_at_m else " Give start_at_m in the circuit's notes to move it."
    return (f"The start line lies within turn {across.number}.{remedy}",)
