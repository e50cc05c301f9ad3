"""A ladder as plain text: laps down, corners across, readable without colour.

A turn is a plank whose round end is the side leaned to: `(17#|` a left, `|17#)` a right. The
figure is the limit on bike lean in whole degrees, rounded down; the mark after it says what sets
the limit; square brackets around a plank mark the turn with least margin of that lap.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from operator import itemgetter
from typing import get_args

from leanladder.cli.notices import reason_said, straights_said
from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.ladder import ColdAdvice, Ladder, Lap, Limit, Notice, Rung
from leanladder.domain.session import ColdPressure, Session, Start
from leanladder.wording import text

WIDTH = 100
_PLANK = 5
_CELL = _PLANK + 1  # a plank and the gap, or half a clamp, after it
_NAME = 6  # columns of a tyre end's name, and of one pressure
_BAR = 5
_SIDES: tuple[Side, ...] = ("left", "right")


def ladder_text(
    ladder: Ladder,
    *,
    cautions: Sequence[Notice],
    warnings: Sequence[Notice],
    language: str = "en",
    width: int = WIDTH,
) -> str:
    """Return the whole answer as text of at most width columns, however many corners there are."""
    parts = [
        _head(ladder, language),
        *_blocks(ladder, language, width),
        _legend(ladder, language),
        chance_said(ladder, language),
        _least(ladder, language),
        listed("table.warnings", warnings, language),
        _straights(ladder, language),
        _names(ladder, language),
        _shoulders(ladder, language),
        _pressures(ladder, language, width),
        listed("table.cautions", cautions, language),
        text("table.engine", language, engine=ladder.engine, parameters=ladder.parameters),
    ]
    return "\n\n".join(wrapped(part, width) for part in parts if part)


def plank(side: Side, words: str) -> str:
    """Return three characters between a round end, on the side leaned to, and a square one."""
    return f"({words:>3}|" if side == "left" else f"|{words:>3})"


def whole_deg(lean_deg: float) -> str:
    """Return a limit on lean in whole degrees, rounded down."""
    return str(math.floor(lean_deg))


def _head(ladder: Ladder, language: str) -> str:
    title = f"{text('table.title', language)} {text('table.explains', language)}"
    return f"{title}\n{session_said(ladder.session, language)}"


def session_said(session: Session, language: str) -> str:
    """Return a session as lines: circuit, weather, level and start, tyres, what is assumed of them."""
    return "\n".join(
        (
            circuit_said(session.circuit, language),
            road_said(session, language),
            text(
                "table.level",
                language,
                level=session.level.name,
                usual_deg=whole_units(session.level.usual_lean_deg.value),
                start=start_said(session.start, language),
            ),
            text(
                "table.tyres",
                language,
                front=session.front.family,
                rear=session.rear.family,
                machine=session.motorcycle.name,
            ),
            *_condition(session, language),
        )
    )


def _condition(session: Session, language: str) -> Iterator[str]:
    """Yield what is assumed of tyres whose condition nobody stated."""
    if session.coach_pace:
        yield text("table.coach_pace", language)
    elif None in {session.front_state, session.rear_state}:
        yield text("table.scrubbed", language)


def circuit_said(circuit: Circuit, language: str) -> str:
    """Return a circuit's name, length and turns."""
    count = {side: sum(corner.side == side for corner in circuit.corners) for side in _SIDES}
    length_km = f"{circuit.length_m / 1000.0:.2f}"
    said = text("table.circuit", language, name=circuit.name, length_km=length_km, **count)
    return f"{said} {text('table.closed', language)}" if circuit.closed_course else said


def road_said(session: Session, language: str) -> str:
    """Return air and track, with where the track's figure came from."""
    road = session.road
    said = text(
        "table.air",
        language,
        air_c=whole_units(session.weather.air_c),
        track_c=whole_units(road.open_c),
        origin=text(f"origin.{road.origin}", language),
    )
    if not session.circuit.shaded.any() or road.shaded_c >= road.open_c:
        return said
    return f"{said} {text('table.shade', language, shaded_c=math.floor(road.shaded_c))}"


def start_said(start: Start, language: str) -> str:
    """Return how the tyres are when the wheels roll."""
    code = start.kind if start.kind != "stopped" else f"stopped_{'sun' if start.in_sun else 'shade'}"
    figures = {"on_min": f"{start.on_min:g}", "off_min": f"{start.off_min:g}"}
    warmers_c = "" if start.warmers_c is None else f"{start.warmers_c:g}"
    return text(f"start.{code}", language, warmers_c=warmers_c, **figures)


def _blocks(ladder: Ladder, language: str, width: int) -> Iterator[str]:
    """Yield the grid in blocks of as many corners as the width takes."""
    labels = [_label(lap, language) for lap in ladder.laps]
    label_width = max(len(label) for label in labels)
    most = max(1, (width - label_width - 1) // _CELL)
    corners = ladder.session.circuit.corners
    blocks = math.ceil(len(corners) / most)
    size = math.ceil(len(corners) / blocks) if blocks else 1
    for first in range(0, len(corners), size):
        yield _block(ladder, corners[first : first + size], labels, label_width, language)


def _block(
    ladder: Ladder, corners: Sequence[Corner], labels: Sequence[str], label_width: int, language: str
) -> str:
    head = "".join(f"{corner.number:^{_PLANK}} " for corner in corners)
    lines = [f"{text('table.turn', language):<{label_width}} {head}".rstrip()]
    for lap, label in zip(ladder.laps, labels, strict=True):
        lines.append(f"{label:<{label_width}}{_planks(lap, corners, language)}".rstrip())
    return "\n".join(lines)


def _planks(lap: Lap, corners: Sequence[Corner], language: str) -> str:
    """Return a lap's planks, the gaps around the one with least margin turned into its clamp."""
    rungs = {rung.number: rung for rung in lap.rungs}
    gaps = [" "] * (len(corners) + 1)
    cells = []
    for place, corner in enumerate(corners):
        rung = rungs.get(corner.number)
        cells.append(" " * _PLANK if rung is None else _cell(rung, language))
        if rung is not None and corner.number == lap.least_margin:
            gaps[place], gaps[place + 1] = "[", "]"
    return "".join(gap + cell for gap, cell in zip(gaps, [*cells, ""], strict=True))


def _cell(rung: Rung, language: str) -> str:
    mark = text(f"mark.{rung.limited_by}", language)
    return plank(rung.side, whole_deg(rung.cap_bike_deg) + mark)


def _label(lap: Lap, language: str) -> str:
    return f"{text('table.lap', language, lap=lap.lap):<6} {clock(lap.minute):>6}"


def clock(minutes: float) -> str:
    """Return minutes as m:ss, rounded down to the second."""
    seconds = math.floor(minutes * 60.0 + 1e-6)
    return f"{seconds // 60}:{seconds % 60:02d}"


def _legend(ladder: Ladder, language: str) -> str:
    used = {rung.limited_by for lap in ladder.laps for rung in lap.rungs}
    marks = [
        f"{text(f'mark.{limit}', language)} {text(f'label.{limit}', language)}"
        for limit in get_args(Limit)
        if limit in used
    ]
    shapes = [f"{plank(side, '')} {text(f'label.{side}', language)}" for side in _SIDES]
    clamp = f"[{' ' * 3}] {text('label.least_margin', language)}"
    lines = [
        f"{text('table.legend', language)}: {', '.join(marks)}.",
        f"{text('table.shape', language)}: {', '.join(shapes)}, {clamp}.",
    ]
    if "caution_card" in used:
        lines.append(text("table.card", language, spread=f"{ladder.session.road.spread_k:g}"))
    if any(len(lap.rungs) < len(ladder.session.circuit.corners) for lap in ladder.laps):
        lines.append(text("table.blank", language))
    return "\n".join(lines)


def chance_said(ladder: Ladder, language: str) -> str:
    """Return in how many of 100 worlds grip carries the limits, "" where none were drawn."""
    if not ladder.members:
        return ""
    return text("odds.chance", language, of_100=f"{ladder.session.chance.of_100:g}")


def _names(ladder: Ladder, language: str) -> str:
    named = [f"{corner.number} {corner.name}" for corner in ladder.session.circuit.corners if corner.name]
    return f"{text('table.names', language)}: {', '.join(named)}." if named else ""


def _least(ladder: Ladder, language: str) -> str:
    """Say which turn has least margin, run of laps by run of laps, and why each may lean so little.

    Without margins: what grip alone would carry lies above the limit, and must not stand beside it.
    """
    parts = []
    whys: dict[int, str] = {}
    for number, group in groupby(ladder.laps, key=lambda lap: lap.least_margin):
        laps = list(group)
        rung = next((rung for rung in laps[0].rungs if rung.number == number), None)
        if rung is None:
            continue
        where = _lap_range(laps[0].lap, laps[-1].lap, language)
        side = text(f"side.{rung.side}", language)
        parts.append(text("table.least_of", language, number=rung.number, side=side, laps=where))
        whys.setdefault(rung.number, _why(rung, laps[0].lap, language))
    return (
        "\n".join((f"{text('table.least', language)}: {'; '.join(parts)}.", *whys.values())) if parts else ""
    )


def _why(rung: Rung, lap: int, language: str) -> str:
    return text(
        "table.least_why",
        language,
        number=rung.number,
        lap=lap,
        limit_deg=whole_deg(rung.cap_bike_deg),
        reason=reason_said(rung, language),
    )


def _straights(ladder: Ladder, language: str) -> str:
    parts = []
    for words, group in groupby(ladder.laps, key=lambda lap: straights_said(lap, language)):
        laps = list(group)
        parts.append(
            text(
                "table.straights_of",
                language,
                laps=_lap_range(laps[0].lap, laps[-1].lap, language),
                words=words,
            )
        )
    return f"{text('table.straights', language)}: {'; '.join(parts)}."


def _lap_range(first: int, last: int, language: str) -> str:
    if first == last:
        return text("table.one_lap", language, lap=first)
    return text("table.some_laps", language, first=first, last=last)


def _shoulders(ladder: Ladder, language: str) -> str:
    """Say on which laps each shoulder is below its working range; after warmers those are the later ones."""
    parts = []
    for side in _SIDES:
        below = [any(rung.side == side and not rung.shoulder_in for rung in lap.rungs) for lap in ladder.laps]
        name = text(f"side.{side}", language)
        for is_below, group in groupby(zip(below, ladder.laps, strict=True), key=itemgetter(0)):
            laps = [lap.lap for _, lap in group]
            if is_below:
                where = _lap_range(laps[0], laps[-1], language)
                parts.append(text("table.shoulders_of", language, side=name, laps=where))
    return f"{text('table.shoulders', language)}: {'; '.join(parts) or text('table.shoulders_in', language)}."


def _pressures(ladder: Ladder, language: str, width: int) -> str:
    pressure = ladder.session.cold_pressure
    code = "pressures_usual" if _is_usual(ladder.session) else "pressures_set"
    cold = text(
        f"table.{code}",
        language,
        front_bar=f"{pressure.front_bar:.2f}",
        rear_bar=f"{pressure.rear_bar:.2f}",
        set_c=whole_units(pressure.set_c),
    )
    rows = [f"{text('table.pressures', language)}:"]
    at_once = (width - _NAME) // _BAR
    for first in range(0, len(ladder.laps), at_once):
        rows += _pressure_rows(ladder.laps[first : first + at_once], language)
    return "\n".join((*rows, cold))


def _is_usual(session: Session) -> bool:
    """Return whether nobody typed the pressures in: they are then the machine's, at the air."""
    machine = session.motorcycle
    usual = ColdPressure(machine.front.cold_bar.value, machine.rear.cold_bar.value, session.weather.air_c)
    return session.cold_pressure == usual


def _pressure_rows(laps: Sequence[Lap], language: str) -> Iterator[str]:
    heads = "".join(f"{lap.lap:>{_BAR}}" for lap in laps)
    yield f"{text('table.lap', language, lap='').strip():<{_NAME}}{heads}"
    for name, bars in _ends(laps, language):
        yield f"{name:<{_NAME}}" + "".join(f"{bar:>{_BAR}.2f}" for bar in bars)


def _ends(laps: Sequence[Lap], language: str) -> tuple[tuple[str, list[float]], ...]:
    return (
        (text("end.front", language), [lap.front_end.pressure_bar for lap in laps]),
        (text("end.rear", language), [lap.rear_end.pressure_bar for lap in laps]),
    )


def listed(title: str, found: Iterable[Notice], language: str) -> str:
    """Return notices as a list below the title of a code."""
    lines = [f"- {notice.text}" for notice in found] or [f"- {text('table.no_warnings', language)}"]
    return "\n".join((f"{text(title, language)}:", *lines))


def whole_units(value: float) -> str:
    """Return a figure in whole units, nearest: for what was measured or typed, never for a limit."""
    return f"{value:.0f}"


def wrapped(part: str, width: int) -> str:
    """Return text with every line at most width columns long."""
    lines: list[str] = []
    for line in part.splitlines():
        if len(line) <= width:
            lines.append(line)
        else:
            indent = "  " if line.startswith("- ") else ""
            lines += textwrap.wrap(line, width, subsequent_indent=indent)
    return "\n".join(lines)


def advice_text(advice: Sequence[ColdAdvice], language: str = "en") -> str:
    """Return the cold pressure for each wanted hot one, or why there is none, within WIDTH."""
    lines = (f"{text('advice.title', language)}:", *(_advised(each, language) for each in advice))
    return wrapped("\n".join(lines), WIDTH)


def _advised(advice: ColdAdvice, language: str) -> str:
    if advice.cold_bar is None:
        code = "unknown"
    else:
        code = "at_minimum" if advice.cold_bar == advice.minimum_bar else "set"
    return text(
        f"advice.{code}",
        language,
        end=text(f"end.{advice.end}", language),
        hot_bar=f"{advice.hot_bar:.2f}",
        cold_bar="" if advice.cold_bar is None else f"{advice.cold_bar:.2f}",
        set_c=whole_units(advice.set_c),
        lap=advice.lap,
    )
