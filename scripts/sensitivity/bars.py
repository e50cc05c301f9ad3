"""The figure of effects: a pair of bars a figure, one spread down and up, the largest first."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from scripts.plot import GROUND, HAIR, INK, SMALL, SOFT, TEXT, TONE
from scripts.sensitivity.effects import DOWN, UP, Effect, Moved

from leanladder.drawing import svg

NAMES, PLOT, RIGHT, TOP, ROW, BAR = 250.0, 420.0, 24.0, 76.0, 26.0, 9.0
TICK_DEG = 0.5


def short(name: str) -> str:
    """Return a figure's name as the picture writes it: family and machine are the same throughout."""
    table, _, path = name.partition(".")
    *places, figure = path.split(".")
    places = [place for place in places if place != "compound"]
    start = {"tyres": [*places, "tyre"], "machines": ["machine", *places]}.get(table.partition("/")[0])
    return " ".join([*(start or [table, *places]), figure])


def picture(alt: str, effects: Sequence[Effect]) -> str:
    """Return the bars of some effects as SVG; alt says in a sentence what it shows."""
    most = max((abs(moved.largest_deg) for one in effects for moved in _both(one) if moved), default=TICK_DEG)
    reach = math.ceil(most / TICK_DEG) * TICK_DEG
    tall = TOP + ROW * len(effects) + 40.0
    wide = NAMES + PLOT + RIGHT
    ground = f"M0 0h{svg.number(wide)}v{svg.number(tall)}h-{svg.number(wide)}z"
    parts = [f"<title>{escape(alt)}</title>", svg.fill(ground, GROUND), *_head()]
    parts += _axis(reach, TOP + ROW * len(effects))
    for row, one in enumerate(effects):
        parts += _pair(one, TOP + ROW * row, reach)
    return svg.document(wide, tall, parts) + "\n"


def _both(one: Effect) -> tuple[Moved | None, Moved | None]:
    return one.moved[DOWN], one.moved[UP]


def _at(deg: float, reach: float) -> float:
    return NAMES + PLOT * (0.5 + 0.5 * deg / reach)


def _head() -> list[str]:
    lines = [
        svg.label((8, 20), "Change of the physical cap, degrees of bike lean", TEXT, INK, anchor="start")
    ]
    x, y = 8.0, 42.0
    for words, tone in (("one spread less", GROUND), ("one spread more", TONE)):
        lines += [
            _bar(x, y - 9, 26, tone),
            svg.label((x + 34, y), words, SMALL, INK, bold=False, anchor="start"),
        ]
        x += 150.0
    lines.append(svg.stroke(svg.points([(x, y - 4), (x + 26, y - 4)]), INK, 1.0))
    words = "to the largest change of one turn; bars are means"
    lines.append(svg.label((x + 34, y), words, SMALL, INK, bold=False, anchor="start"))
    return lines


def _axis(reach: float, foot: float) -> list[str]:
    parts = []
    ticks = round(reach / TICK_DEG)
    each = max(1, math.ceil(ticks / 5))
    for tick in range(-ticks, ticks + 1):
        if tick % each:
            continue
        x = _at(tick * TICK_DEG, reach)
        ink, width = (INK, 1.2) if tick == 0 else (HAIR, 0.6)
        parts.append(svg.stroke(svg.points([(x, TOP - 8), (x, foot)]), ink, width))
        said = f"{tick * TICK_DEG:+g}".replace("-", "\N{MINUS SIGN}") if tick else "0"
        parts.append(svg.label((x, foot + 18), said, SMALL, SOFT, bold=False))
    return parts


def _pair(one: Effect, top: float, reach: float) -> list[str]:
    parts = [
        svg.label((NAMES - 10, top + ROW / 2 + 2), short(one.name), SMALL, INK, bold=False, anchor="end")
    ]
    for place, (moved, tone) in enumerate(zip(_both(one), (GROUND, TONE), strict=True)):
        if moved is None:
            continue
        y = top + 2 + place * (BAR + 2)
        zero, end = _at(0.0, reach), _at(moved.mean_deg, reach)
        far = _at(moved.largest_deg, reach)
        parts.append(svg.stroke(svg.points([(zero, y + BAR / 2), (far, y + BAR / 2)]), INK, 1.0))
        parts.append(_bar(min(zero, end), y, abs(end - zero), tone))
    return parts


def _bar(x: float, y: float, wide: float, tone: str) -> str:
    place = " ".join(
        f'{name}="{svg.number(value)}"'
        for name, value in (("x", x), ("y", y), ("width", wide), ("height", BAR))
    )
    return f'<rect {place} fill="{tone}" stroke="{INK}" stroke-width="0.8"/>'
