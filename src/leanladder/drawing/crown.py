"""The tyre's section as an arc, standing as ridden: how warm each part is, and where the rider stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, degrees, inf, radians, sin

from leanladder.domain.circuit import Side
from leanladder.domain.ladder import Rubber
from leanladder.domain.why import RibReading
from leanladder.drawing.hatch import HOT, Step, step_of
from leanladder.drawing.svg import (
    SCREEN,
    Inks,
    Name,
    Point,
    document,
    fill,
    label,
    line,
    named,
    number,
    stroke,
)

# Shares of the crown's radius: rubber and carcass as drawn, room above its middle and beside it.
_THICK, _ABOVE, _BESIDE = 0.29, 0.5, 0.16
# Where figures stand, and the motorcycle's upright: from, to (above the middle), half its bars.
_FIGURES, _MAST, _BARS = 0.59, (0.45, -0.2), 0.13
# Below the ground [px].
_BELOW, _TEXT, _EDGE = 46.0, 13.0, 1.6
# Screen strokes against those of a map at 150 to the inch, and the thinnest.
_SCALE, _LEAST_PEN = 0.66, 0.7
# Figures at the arc keep this far apart [px].
_APART = 19.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A part of the tread between two crown angles [deg, negative left]: its rubber [degC], its figure.

    hot: past its range; words: what is written at it.
    """

    from_deg: float
    to_deg: float
    rubber_c: float
    hot: bool = False
    words: str = ""


@dataclass(frozen=True, slots=True)
class Standing:
    """A tyre as ridden: its strips from left to right, bike lean [deg] to a side, half its patch [deg].

    The patch is told as the crown angle from its middle to its edge.
    """

    strips: tuple[Strip, ...]
    side: Side
    bike_lean_deg: float
    patch_half_deg: float


@dataclass(frozen=True, slots=True)
class CrownWords:
    """A crown's words: which tyre, what the mark below it says, and a line with its figures."""

    end: str
    here: str
    reading: str = ""


def half_crown_deg(width_m: float, crown_radius_m: float) -> float:
    """Return the crown angle [deg] from the middle to the edge of a tread of width_m [m], measured flat."""
    return degrees(width_m / 2 / crown_radius_m)


def thirds(
    rubber: Rubber, half_deg: float, *, hot_from_c: float = inf, worded: Callable[[float], str] | None = None
) -> tuple[Strip, ...]:
    """Return a tyre's three strips, half_deg [deg] of crown to either side; hot above hot_from_c [degC].

    worded writes a temperature [degC] in the reader's unit.
    """
    write, each = worded or _whole, 2 * half_deg / 3
    told = (rubber.left_c, rubber.centre_c, rubber.right_c)
    return tuple(
        Strip(each * (index - 1.5), each * (index - 0.5), warm, warm > hot_from_c, write(warm))
        for index, warm in enumerate(told)
    )


def ribs(
    readings: Sequence[RibReading], *, hot_from_c: float = inf, worded: Callable[[float], str] | None = None
) -> tuple[Strip, ...]:
    """Return a strip a rib, from the left edge to the right, by the outer 2 mm; hot above hot_from_c [degC].

    Raises ValueError for fewer than two ribs.
    """
    if len(readings) < 2:
        raise ValueError("a crown has two ribs or more")
    write, half = worded or _whole, (readings[1].at_deg - readings[0].at_deg) / 2
    return tuple(
        Strip(rib.at_deg - half, rib.at_deg + half, rib.outer_c, rib.outer_c > hot_from_c, write(rib.outer_c))
        for rib in readings
    )


def crown(
    standing: Standing, words: CrownWords, name: Name, *, radius: float = 104.0, inks: Inks = SCREEN
) -> str:
    """Return a tyre cut across, seen from behind, standing at its lean on the ground.

    Strokes stand across the tread and close up with warmth, a whole number a strip, their ink cover exact;
    past its range they cross. Below the ground the patch and where the rider stands. radius [px] of crown.
    """
    tyre = _Tyre(standing, radius, (radius * (1 + _BESIDE), radius * _ABOVE + 4))
    ground = tyre.stands[1]
    size = 2 * tyre.middle[0], ground + _BELOW
    parts = [
        line((0.0, ground), (size[0], ground), inks.ink, 2.5),
        *(_strip(tyre, strip, inks) for strip in standing.strips),
        *(line(tyre.at(edge, 1 - _THICK), tyre.at(edge, 1.0), inks.ink, _EDGE) for edge in tyre.edges_deg),
        *_figures(tyre, inks),
        *_rider(tyre, inks),
        *_stands(tyre, words, inks),
    ]
    return named(document(*size, parts), name, "crown")


@dataclass(frozen=True, slots=True)
class _Tyre:
    """A standing tyre on its drawing: the crown's radius and middle [px]."""

    standing: Standing
    radius: float
    middle: Point

    @property
    def edges_deg(self) -> tuple[float, float]:
        """The crown angles of the tread's edges [deg], left and right."""
        return self.standing.strips[0].from_deg, self.standing.strips[-1].to_deg

    @property
    def stands(self) -> Point:
        """The point [px] that touches the ground: straight below, or the edge where it leans past that."""
        left, right = self.edges_deg
        return self.at(min(max(self.lean_deg, left), right), 1.0)

    @property
    def patch(self) -> tuple[float, float]:
        """From where to where the patch lies on the ground [px], no further than the tread."""
        left, right = self.edges_deg
        half = self.standing.patch_half_deg
        ends = (max(self.lean_deg - half, left), min(self.lean_deg + half, right))
        reach = [radians(end - self.lean_deg) * self.radius for end in ends]
        return self.middle[0] + reach[0], self.middle[0] + reach[1]

    @property
    def lean_deg(self) -> float:
        return self.standing.bike_lean_deg * (-1 if self.standing.side == "left" else 1)

    def at(self, crown_deg: float, share: float) -> Point:
        """Return the point [px] at a crown angle [deg] and a share of the radius from the middle."""
        angle = radians(crown_deg - self.lean_deg)
        reach = share * self.radius
        return self.middle[0] + reach * sin(angle), self.middle[1] + reach * cos(angle)

    def arc(self, from_deg: float, to_deg: float, share: float) -> str:
        """Return the path of an arc, from left to right."""
        (x1, y1), (x2, y2), reach = (
            self.at(from_deg, share),
            self.at(to_deg, share),
            number(share * self.radius),
        )
        return f"M{number(x1)} {number(y1)}A{reach} {reach} 0 0 0 {number(x2)} {number(y2)}"

    def bears(self, strip: Strip) -> bool:
        """Whether a part of the patch lies on a strip."""
        half = self.standing.patch_half_deg
        return strip.from_deg < self.lean_deg + half and strip.to_deg > self.lean_deg - half


def _strip(tyre: _Tyre, strip: Strip, inks: Inks) -> str:
    inner = 1 - _THICK
    outer_arc = tyre.arc(strip.from_deg, strip.to_deg, 1.0)
    inner_arc = tyre.arc(strip.from_deg, strip.to_deg, inner)
    corners = [tyre.at(strip.from_deg, inner), tyre.at(strip.to_deg, inner)]
    back = number(inner * tyre.radius)
    (x1, y1), (x2, y2) = corners
    region = f"{outer_arc}L{number(x2)} {number(y2)}A{back} {back} 0 0 1 {number(x1)} {number(y1)}Z"
    return (
        fill(region, inks.ground)
        + _hatched(tyre, strip, inks)
        + stroke(outer_arc + inner_arc, inks.ink, _EDGE)
    )


def _hatched(tyre: _Tyre, strip: Strip, inks: Inks) -> str:
    """Return strokes across the tread, and along it too where it is past its range."""
    step = HOT if strip.hot else step_of(strip.rubber_c)
    width = radians(strip.to_deg - strip.from_deg) * tyre.radius * (1 - _THICK / 2)
    count, pen = _even(width, step)
    each = (strip.to_deg - strip.from_deg) / count
    places = [strip.from_deg + each * (index + 0.5) for index in range(count)]
    drawn = "".join(
        line(tyre.at(place, 1 - _THICK), tyre.at(place, 1.0), inks.hatch, pen) for place in places
    )
    if not strip.hot:
        return drawn
    rows, pen = _even(_THICK * tyre.radius, step)
    shares = [1 - _THICK * (index + 0.5) / rows for index in range(rows)]
    along = "".join(tyre.arc(strip.from_deg, strip.to_deg, share) for share in shares)
    return drawn + stroke(along, inks.hatch, pen)


def _even(width: float, step: Step) -> tuple[int, float]:
    """Return how many strokes fill a width [px], and their pen, so that their ink cover is the step's."""
    count = max(1, round(width / (step.pitch * _SCALE)))
    return count, max(_LEAST_PEN, step.cover * width / count)


def _figures(tyre: _Tyre, inks: Inks) -> list[str]:
    """Return figures inside the arc: first those under load, then what else has room."""
    kept: list[tuple[Point, Strip]] = []
    strips = tyre.standing.strips
    middle = tyre.lean_deg
    edges = (strips[0], strips[-1])
    order = sorted(
        strips, key=lambda strip: (not tyre.bears(strip), strip not in edges, abs(_middle(strip) - middle))
    )
    for strip in order:
        x, y = tyre.at(_middle(strip), _FIGURES)
        if strip.words and all((x - a) ** 2 + (y - b) ** 2 >= _APART**2 for (a, b), _ in kept):
            kept.append(((x, y), strip))
    return [
        label(
            (x, y + 4.5),
            strip.words,
            _TEXT,
            inks.ink if tyre.bears(strip) else inks.soft,
            bold=tyre.bears(strip),
        )
        for (x, y), strip in kept
    ]


def _rider(tyre: _Tyre, inks: Inks) -> list[str]:
    """Return the motorcycle's middle plane with its bars, and a dotted upright to see its lean by."""
    foot, top = tyre.at(0.0, _MAST[0]), tyre.at(0.0, _MAST[1])
    # Along the bars: at right angles to the middle plane.
    turned = radians(tyre.lean_deg)
    reach = _BARS * tyre.radius
    bars = [(top[0] + way * reach * cos(turned), top[1] + way * reach * sin(turned)) for way in (-1, 1)]
    plumb = [(tyre.middle[0], tyre.middle[1] + share * tyre.radius) for share in _MAST]
    return [
        stroke(f"M{_xy(plumb[0])}L{_xy(plumb[1])}", inks.soft, 1.0, dash="2 3"),
        line(foot, top, inks.ink, 2.5),
        stroke(f"M{_xy(bars[0])}L{_xy(bars[1])}", inks.ink, 5.0, cap="round"),
    ]


def _stands(tyre: _Tyre, words: CrownWords, inks: Inks) -> list[str]:
    """Return what is below the ground: the patch in a bracket, the mark, and the words."""
    (x, y), (left, right) = tyre.stands, tyre.patch
    bracket = f"M{number(left)} {number(y + 3)}v5H{number(right)}v-5"
    mark = f"M{number(x)} {number(y + 9)}l7 11h-14z"
    return [
        stroke(bracket, inks.ink, 2.0),
        fill(mark, inks.ink),
        label((0.0, y + 20), words.end, 14.5, inks.ink, anchor="start"),
        label((x + 12, y + 20), words.here, _TEXT, inks.ink, anchor="start"),
        label((0.0, y + 39), words.reading, _TEXT, inks.ink, bold=False, anchor="start"),
    ]


def _middle(strip: Strip) -> float:
    return (strip.from_deg + strip.to_deg) / 2


def _xy(at: Point) -> str:
    return f"{number(at[0])} {number(at[1])}"


def _whole(rubber_c: float) -> str:
    return number(round(rubber_c))
