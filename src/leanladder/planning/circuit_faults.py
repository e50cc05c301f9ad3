"""What makes an outline no circuit, in plain words."""

from __future__ import annotations

import numpy as np

from leanladder.domain.circuit import Outline
from leanladder.domain.errors import Fault, InputError, LeanladderError, OutsideModelError
from leanladder.geometry.line import Line
from leanladder.wording import text

SHORTEST_M = 200.0
LONGEST_M = 30_000.0
RANGE = "200 m to 30 km"
FEW = 10
TIGHTEST_M = 2.5  # a machine cannot turn tighter: handlebars at full lock, common practice
NOT_METRES = "If the columns are degrees, name them lat,lon."


def check_figures(outline: Outline) -> None:
    """Raise InputError for a point that is not finite or, in degrees, not on the globe."""
    if len(outline.points) and not np.isfinite(outline.points).all():
        row = int(np.flatnonzero(~np.isfinite(outline.points).all(axis=1))[0])
        raise _fault(outline, "a point is not a finite number.", f"point {row + 1}", "finite numbers", None)
    if outline.frame == "degrees" and len(outline.points):
        most = np.abs(outline.points).max(axis=0)
        if most[0] > 90.0 or most[1] > 180.0:
            value = f"{most[0]:g}, {most[1]:g}"
            remedy = "Are latitude and longitude swapped?"
            raise _fault(outline, "a point does not lie on the globe.", value, "90, 180 deg", remedy)


def check_length(outline: Outline, length_m: float) -> None:
    """Raise InputError for a lap that is no circuit's length."""
    if length_m < SHORTEST_M:
        raise no_lap(outline, "short")
    if length_m > LONGEST_M:
        message = "the outline is too long for a circuit."
        metres = outline.frame == "metres"
        remedy = f"Keep one lap. {'x_m and y_m are metres.' if metres else text('remedy.road')}"
        raise _fault(outline, message, f"{length_m / 1000.0:.1f} km", RANGE, remedy)


def check_radius(outline: Outline, line: Line) -> None:
    """Raise InputError where the line turns tighter than any machine can: a stray point or a stop."""
    gained = np.abs(np.diff(line.turned_rad, append=line.whole_turn_rad))
    # Over one step the heading gives the turn even where the line folds back on itself.
    bent = np.maximum(np.abs(line.curvature_per_m), gained / line.step_m)
    tightest = int(np.argmax(bent))
    if bent[tightest] * TIGHTEST_M > 1.0:
        message = f"the line turns on the spot near {line.s_m[tightest]:.0f} m."
        remedy = "Take out stray points, stops and pieces ridden twice."
        value = f"a radius of {1.0 / bent[tightest]:.1f} m"
        raise _fault(outline, message, value, f"{TIGHTEST_M:g} m or more", remedy)


def no_lap(outline: Outline, word: str) -> LeanladderError:
    """Return the error for one of the words that `geometry.closing.close` raises."""
    if word == "route":
        return open_route(outline)
    if word == "few":
        few = outline.frame == "degrees" or len(outline.points) < FEW
        remedy = "A circuit needs a point every 20 m or so, more where it bends." if few else NOT_METRES
        return _fault(outline, "there are too few different points.", None, "3 or more", remedy)
    if word == "open":
        message = "the line does not come back to its start."
        allowed = "a gap of at most a tenth of the lap"
        remedy = "Record all of a lap, or cut the track to one, from a point on the circuit back to it."
        return _fault(outline, message, None, allowed, remedy)
    units = NOT_METRES if outline.frame == "metres" else None
    return _fault(outline, "the outline is too short for a circuit.", None, RANGE, units)


def open_route(outline: Outline) -> OutsideModelError:
    """Return the refusal for a line from one place to another: no circuit, whatever anyone states of it."""
    code = "open_route"
    fault = Fault(outline.source or None, None, "points", None, None, text(f"remedy.{code}"))
    return OutsideModelError(code, text(code), fault)


def _fault(
    outline: Outline, message: str, value: str | None, allowed: str | None, remedy: str | None
) -> InputError:
    return InputError(message, Fault(outline.source or None, None, "points", value, allowed, remedy))
