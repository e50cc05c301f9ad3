"""The drawings of the briefing room: without figures for a group, with them where a coach asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from leanladder import drawing
from leanladder.domain.circuit import Circuit
from leanladder.drawing.axes import laps_axis
from leanladder.drawing.svg import Point
from leanladder.web.briefing.figures import SIDES, At, Grip, Sides
from leanladder.web.briefing.reader import Reader
from leanladder.web.briefing.ridden import LapHeat


class Paper(NamedTuple):
    """A drawing's sizes before the page makes it as large as there is room [px], and its ids' ending."""

    chart: Point
    low_chart: Point
    bars: float
    ending: str


WALL = Paper((620.0, 262.0), (620.0, 216.0), 560.0, "wall")
# Narrow, so that its letters stay as large as those of the page.
PHONE = Paper((370.0, 250.0), (370.0, 250.0), 370.0, "phone")
JOULES = 1000.0  # in a kilojoule
PERCENT = 100.0
# Less than this between sides is drawn as what it is: little [K].
_LEAST_SPAN = 10.0
# Room for the words of where warm begins [K].
_ABOVE_K = 8.0


def grip_curve(told: Grip, code: str, reader: Reader, paper: Paper) -> str:
    """Return a tyre's curve with where the group's rubber is; code: what the drawing is called."""
    along = [(reader.shown(rubber_c), PERCENT * share) for rubber_c, share in told.along]
    now = [
        drawing.Now(reader.shown(at.rubber_c), PERCENT * at.share, _now_words(at, reader), told.end, at.third)
        for at in told.at
    ]
    low, high = along[0][0], along[-1][0]
    marks = ((told.low_c, "range_begins"), (told.high_c, "range_ends"))
    uprights = tuple(
        drawing.Upright(reader.shown(at_c), reader.say(words))
        for at_c, words in marks
        if low < reader.shown(at_c) < high
    )
    plot = drawing.Plot(
        drawing.Axis(_axis_words("rubber_axis", reader), low, high, _worded(reader)),
        drawing.Axis(_axis_words("grip_axis", reader), 0.0, PERCENT, _worded(reader)),
        uprights=uprights,
        size=paper.chart,
    )
    name = drawing.Name(reader.say(code, family=told.family), f"curve-{paper.ending}")
    return drawing.curve(plot, along, now, name)


def _now_words(at: At, reader: Reader) -> str:
    if reader.figures:
        third, rubber = reader.say(f"third_{at.third}"), reader.degrees(at.rubber_c)
        return reader.say("now_figures", lap=at.lap, third=third, rubber=rubber)
    return reader.say("now", lap=at.lap, warmth=reader.say(at.warmth))


def _axis_words(code: str, reader: Reader) -> str:
    return reader.say(f"{code}_figures", unit=reader.unit) if reader.figures else reader.say(code)


def _worded(reader: Reader) -> Callable[[float], str] | None:
    """How figures stand at an axis: as usual, or not at all."""
    return None if reader.figures else _unsaid


def _unsaid(_value: float) -> str:
    return ""


def heat_bars(told: LapHeat, reader: Reader, paper: Paper) -> str:
    """Return what comes in, goes out and stays on a lap, greatest first."""
    groups = [
        drawing.Flows(reader.say("in"), "in", _flows(told.in_j, "in", reader)),
        drawing.Flows(reader.say("out"), "out", _flows(told.out_j, "out", reader)),
        drawing.Flows(
            reader.say("stays"), "stored", (drawing.Flow(reader.say("stored"), told.stored_j / JOULES),)
        ),
    ]
    name = drawing.Name(reader.say("heat_picture", lap=told.lap), f"heat-{paper.ending}")

    def worded(kilojoules: float) -> str:
        return reader.say("kj", kj=f"{kilojoules:.0f}") if reader.figures else ""

    return drawing.heat(groups, name, width=paper.bars, worded=worded)


def _flows(flows_j: Mapping[str, float], way: str, reader: Reader) -> tuple[drawing.Flow, ...]:
    greatest = sorted(flows_j.items(), key=lambda flow: -flow[1])
    return tuple(drawing.Flow(reader.say(f"{way}_{name}"), flow_j / JOULES) for name, flow_j in greatest)


def side_rows(told: Sides, circuit: Circuit, reader: Reader, paper: Paper) -> str:
    """Return the lap's turns in order, lefts above, rights below."""
    words = reader.say("lefts", count=told.turns[0]), reader.say("rights", count=told.turns[1])
    return drawing.turns_by_side(
        circuit, words, drawing.Name(reader.say("sides_turns"), f"turns-{paper.ending}"), width=paper.chart[0]
    )


def side_warmth(told: Sides, reader: Reader, paper: Paper) -> str:
    """Return how warm each side arrives, lap by lap."""
    laps = [
        drawing.SideLaps(side, _side_words(told, index, reader), tuple(map(reader.shown, told.laps[index])))
        for index, side in enumerate(SIDES)
    ]
    # Up to where warm begins: cold rubber never stands at the chart's top.
    low, above = reader.shown(told.low_c), reader.shown(told.low_c + _ABOVE_K)
    seen = [above, *(warm for side in laps for warm in side.rubber_c)]
    words = reader.unit if reader.figures else reader.say("warmth_axis")
    up = drawing.axis_about(words, seen, least_span=_LEAST_SPAN, worded=_worded(reader))
    plot = drawing.Plot(
        laps_axis(reader.say("laps_axis"), len(told.laps[0])),
        up,
        bands=(drawing.Band(low, up.high, reader.say("range_begins")),),
        size=paper.low_chart,
    )
    return drawing.side_laps(plot, laps, drawing.Name(reader.say("sides_picture"), f"sides-{paper.ending}"))


def _side_words(told: Sides, index: int, reader: Reader) -> str:
    side = reader.say(f"side_{SIDES[index]}")
    if reader.figures:
        return f"{side}, {reader.degrees(told.laps[index][-1])}"
    return f"{side}, {reader.say(told.warmth[index][-1])}"
