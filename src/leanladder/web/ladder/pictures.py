"""The page's drawings: the ladder's cells, the circuit, both crowns, temperatures and pressures."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from leanladder import drawing, wording
from leanladder.domain.ladder import Ladder, Lap, Rubber, Rung
from leanladder.domain.session import FittedTyre
from leanladder.domain.why import TyreWhy, Why
from leanladder.drawing import SCREEN, Name
from leanladder.planning.paper.cells import is_hot, shoulder_c
from leanladder.web.ladder.figures import Units

MAP_SIZE, CHART_SIZE = (500.0, 430.0), (430.0, 260.0)
CROWN_RADIUS = 96.0


@dataclass(frozen=True, slots=True)
class Reader:
    """Who looks: their language and units."""

    language: str
    units: Units

    def say(self, code: str, **figures: object) -> str:
        """Return a text by its code."""
        return wording.text(code, self.language, **figures)


def cell(ladder: Ladder, lap: Lap, rung: Rung, reader: Reader, *, chosen: bool, given: bool) -> str:
    """Return one turn on one lap; given: False while it is only being tried."""
    told = drawing.LadderCell(
        math.floor(rung.cap_bike_deg),
        shoulder_c(rung),
        rung.limited_by,
        least_margin=rung.number == lap.least_margin,
        hot=is_hot(ladder, rung),
        chosen=chosen,
        given=given,
    )
    name = reader.say(
        "ladder.cell",
        lap=lap.lap,
        number=rung.number,
        side=reader.say(f"side.{rung.side}"),
        limit_deg=told.cap_deg,
        set_by=reader.say(f"label.{rung.limited_by}"),
    )
    if told.least_margin:
        name = f"{name} {reader.say('label.least_margin')}"
    return drawing.ladder_cell(rung.side, told, Name(name, f"c{lap.lap}-{rung.number}"))


def circuit(ladder: Ladder, lap: Lap, chosen: int | None, reader: Reader) -> str:
    """Return the circuit with the limits of a lap."""
    warmth = {
        rung.number: drawing.Warmth(
            shoulder_c(rung), is_hot(ladder, rung), math.floor(rung.cap_bike_deg), rung.number == chosen
        )
        for rung in lap.rungs
    }
    words = drawing.MapWords(reader.say("ladder.start_line"), reader.say("ladder.metres", metres="{}"))
    picture = drawing.circuit_map(
        ladder.session.circuit,
        warmth,
        least=lap.least_margin or None,
        size=MAP_SIZE,
        words=words,
        inks=SCREEN,
    )
    return drawing.named(picture, Name(reader.say("ladder.map_named", lap=lap.lap), "map"), "map")


def crowns(ladder: Ladder, rung: Rung, why: Why | None, reader: Reader) -> tuple[str, str]:
    """Return front and rear cut across, standing at the limit: strip by strip where that was worked out."""
    session = ladder.session
    return (
        _crown("front", rung, session.front, (rung.front, why.front if why else None), reader),
        _crown("rear", rung, session.rear, (rung.rear, why.rear if why else None), reader),
    )


def _crown(
    end: str, rung: Rung, fitted: FittedTyre, found: tuple[Rubber, TyreWhy | None], reader: Reader
) -> str:
    tyre, (rubber, why) = fitted.tyre, found
    half_deg = drawing.half_crown_deg(tyre.width_m.value, tyre.crown_radius_m.value)
    hot_c, shown = tyre.working_high_c.value, reader.units.whole
    if why is None:
        strips = drawing.thirds(rubber, half_deg, hot_from_c=hot_c, worded=shown)
    else:
        strips = drawing.ribs(why.ribs, hot_from_c=hot_c, worded=shown)
    patch_deg = math.degrees(tyre.patch_half_width_m.value / tyre.crown_radius_m.value)
    reading = reader.say(
        "ladder.thirds",
        left=shown(rubber.left_c),
        centre=shown(rubber.centre_c),
        right=shown(rubber.right_c),
        unit=reader.units.degree,
    )
    name = reader.say(f"end.{end}")
    words = drawing.CrownWords(name.capitalize(), reader.say("ladder.stands_here"), reading)
    standing = drawing.Standing(strips, rung.side, rung.cap_bike_deg, patch_deg)
    return drawing.crown(
        standing, words, Name(f"{words.end}: {reading}", f"crown-{end}"), radius=CROWN_RADIUS
    )


def charts(ladder: Ladder, reader: Reader) -> list[str]:
    """Return temperatures of front and rear and pressures of both, over minutes."""
    warm, pressed = reader.units.warm, reader.units.pressed
    thirds = [reader.say(f"ladder.{third}") for third in ("left", "centre", "right")]
    found = [
        _chart(
            ladder.laps,
            drawing.temperatures(ladder.laps, end, thirds, warm),
            (reader.say(f"ladder.warm_{end}", unit=reader.units.degree), 5.0, f"warm-{end}"),
            reader,
        )
        for end in ("front", "rear")
    ]
    both = (
        *drawing.pressures(ladder.laps, "front", reader.say("end.front"), pressed),
        *drawing.pressures(ladder.laps, "rear", reader.say("end.rear"), pressed),
    )
    title = reader.say("ladder.pressures", unit=reader.units.pressure)
    return [*found, _chart(ladder.laps, both, (title, pressed(0.2), "pressures"), reader)]


def _chart(
    laps: tuple[Lap, ...], courses: tuple[drawing.Course, ...], told: tuple[str, float, str], reader: Reader
) -> str:
    title, span, prefix = told
    up = drawing.axis_about(title, (value for course in courses for value in course.values), least_span=span)
    across = drawing.axis_about(reader.say("ladder.minutes"), (0.0, *drawing.ended(laps)))
    plot = drawing.Plot(across, up, uprights=_uprights(laps), size=CHART_SIZE)
    return drawing.minutes(plot, courses, Name(title, prefix))


def _uprights(laps: tuple[Lap, ...]) -> tuple[drawing.Upright, ...]:
    """Return an upright at each lap's end, or at every second where there are many."""
    every = 1 + len(laps) // 8
    return tuple(
        each for number, each in enumerate(drawing.lap_uprights(laps, "{}"), 1) if number % every == 0
    )


def marks(reader: Reader, limits: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return each mark of what sets limits with its words, for the legend."""
    draw: Callable[..., str] = drawing.limit_mark
    return [
        (draw(limit, Name(reader.say(f"label.{limit}"), f"mark-{limit}")), reader.say(f"label.{limit}"))
        for limit in limits
    ]


def scale(reader: Reader) -> str:
    """Return the legend of warmth."""
    return drawing.warmth_legend(
        Name(reader.say("ladder.warmth_legend", unit=reader.units.degree), "warmth"),
        worded=reader.units.nearest,
    )
