"""docs/physics/parameters.md, as text: every figure that ships, and what it does to the caps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scripts.sensitivity import pulls
from scripts.sensitivity.effects import DOWN, HALF_DOWN, HALF_UP, UP, Effect, Moved, kept
from scripts.sensitivity.sessions import CASES, FAMILY, MACHINE, Caps, takes_part
from tests.published.ranges import our_own, published, recalled

from leanladder.domain.parameter import Parameter

MINUS, DASH = "\N{MINUS SIGN}", "\N{EN DASH}"
MOST_HANDED = 15
WORTH_DEG = 0.1
NEAR_END = 0.1  # of a range's width: a value this near its end is named
STEPS = {DOWN: "one down", HALF_DOWN: "half down", HALF_UP: "half up", UP: "one up"}
TAGS = {
    "read": "an excerpt was read",
    "memory": "from memory",
    "judgement": "judgement",
    "trade": "common practice",
    "computed": "computed",
}


@dataclass(frozen=True, slots=True)
class Found:
    """All that the page tells: figures, sessions as shipped, effects, the margin's part, versions."""

    figures: Mapping[str, Parameter]
    before: Sequence[Caps]
    effects: Sequence[Effect]
    largest: Sequence[Effect]
    margin: Moved
    engine: str
    digest: str
    picture: str


def text(found: Found) -> str:
    """Return the page."""
    parts = [
        _head(found),
        _sessions(found),
        _largest(found),
        _handed(found),
        pulls.text(found.figures),
        _near_ends(found),
        _tables(found),
    ]
    return "\n".join(part.strip() + "\n" for part in parts)


HEAD = """\
# Parameters, and what each does to the caps

Written by `scripts/parameters.py` (`make evidence`); do not edit. Engine {engine}, figures {digest}.

{count} figures ship in data files, each with unit, spread and source. {ranged} of them lie in a range that is
published or that the project's reference sheet states; {memory} are recalled and no range was found; the
others are judgement, common practice, a rule or a choice of design, and their source says so.
tests/published/test_parameter_ranges.py fails for a figure outside its range and for one that is none of
these.

- *Range* is the published one where *where* names a section: of the reference sheet, physics.md, which is not
  part of this repository; in brackets how well it is known. Otherwise it is the file's own, judged.
- *Spread* is one standard deviation.
- *Down*, *up*: what the figure less or more one spread does to the physical caps, unrounded, in degrees of
  bike lean: mean change; largest change of one rung. The sessions below are planned anew with that one figure
  changed, held within the file's range: ¹ marks a step that the range cut short, {dash} a figure that these
  sessions do not count on or that has no spread.
- Caps of a lap are settled to 0.05°: changes of some hundredths of a degree mean nothing.
- The physical cap is the lesser of front and rear: more grip at one end helps until the other one decides.

What was read to check these figures: [sources](sources.md)."""


def _head(found: Found) -> str:
    return HEAD.format(
        engine=found.engine,
        digest=found.digest,
        count=len(found.figures),
        ranged=sum(published(name) is not None for name in found.figures),
        memory=sum(published(name) is None and recalled(name) is not None for name in found.figures),
        dash=DASH,
    )


SESSIONS = f"""\
## Sessions

Demo circuit as it ships, tyres `{FAMILY}`, machine `{MACHINE}`, road computed, wind 2 m/s, place
invented. Only rungs that grip decides are counted: where the caution card, the level's top, scrubbing or
clearance sets the cap, the physical one moves nothing.

| session | level | air °C | road °C | laps | rungs | by grip | left out: card | level top | other |
| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"""


def _sessions(found: Found) -> str:
    rows = [SESSIONS]
    total = left = 0
    for case, caps in zip(CASES, found.before, strict=True):
        rungs, grip = len(caps.limits), int(kept(caps).sum())
        card, top = caps.limits.count("caution_card"), caps.limits.count("level_top")
        total, left = total + rungs, left + rungs - grip
        told = (case.name, f"`{case.level}`", f"{case.air_c:g}", f"{caps.road_c:.0f}", case.laps, rungs)
        rows.append("| " + " | ".join(map(str, (*told, grip, card, top, rungs - grip - card - top))) + " |")
    rows.append(f"\nLeft out: {left} of {total} rungs; {total - left} are counted.")
    return "\n".join(rows)


LARGEST = """\
## The {many} that matter most

![Bars: change of the physical cap by one spread of each figure, largest first]({picture})

Of {tried} figures that were varied, {over} move the mean cap by 0.1° or more. Were all independent, one
spread of everything would be {together:.1f}° (root of the sum of squares of the larger mean changes). For
this page nothing is counted over members: `planning.margin.grip_held` is held back instead, which lowers
these caps by {margin:.1f}° in the mean. What a ladder holds back is counted (decision 23). Of
data/heat.toml no figure moves the mean by more than {heat:.2f}°: where grip decides, rubber is warm and its
friction near its best. Heat acts where the card decides.
"""
HEAT_FILE = "heat."


def _largest(found: Found) -> str:
    sizes = [one.size_deg() for one in found.effects]
    rows = [
        LARGEST.format(
            many=len(found.largest),
            picture=found.picture,
            tried=len(sizes),
            over=sum(size >= WORTH_DEG for size in sizes),
            together=math.sqrt(sum(size * size for size in sizes)),
            margin=found.margin.mean_deg,
            heat=max(one.size_deg() for one in found.effects if one.name.startswith(HEAT_FILE)),
        ),
        "| figure | " + " | ".join(STEPS.values()) + " |",
        "| --- |" + " ---: |" * len(STEPS),
    ]
    for one in found.largest:
        cells = [_moved(one, step) for step in STEPS]
        rows.append(f"| {_name(one.name)} | " + " | ".join(cells) + " |")
    return "\n".join(rows)


HANDED = """\
## And to the caps handed out

The same sessions, all rungs, the cap itself: where the card decides, heat reaches the rider through the
temperature that the card is read at, and grip not at all. Mean change; largest change of one rung. One spread
of everything, were all independent, would be {together:.1f}°. The {many} largest:

| figure | one down | one up |
| --- | ---: | ---: |"""


def _handed(found: Found) -> str:
    first = sorted(found.effects, key=lambda one: (-one.handed_size_deg(), one.name))[:MOST_HANDED]
    together = math.sqrt(sum(one.handed_size_deg() ** 2 for one in found.effects))
    rows = [HANDED.format(many=len(first), together=together)]
    for one in first:
        cells = [_said(one.handed[step], marked=step in one.cut) for step in (DOWN, UP)]
        rows.append(f"| {_name(one.name)} | {cells[0]} | {cells[1]} |")
    return "\n".join(rows)


def _name(name: str) -> str:
    return f"`{name}`"


def _moved(one: Effect | None, step: float) -> str:
    if one is None or step not in one.moved:
        return DASH
    return _said(one.moved[step], marked=step in one.cut)


def _said(moved: Moved | None, *, marked: bool) -> str:
    if moved is None:
        return "no number"
    return f"{_signed(moved.mean_deg)}; {_signed(moved.largest_deg)}{'¹' if marked else ''}"


def _signed(value: float) -> str:
    said = f"{value:+.2f}"
    return "0" if said in {"+0.00", "-0.00"} else said.replace("-", MINUS)


NEAR = """\
## At the end of a range

Values within a tenth of the range's width of one of its ends; a range of a single value is left out. Of
families that share a value one row stands for all.

| figure | value | range | where |
| --- | ---: | --- | --- |"""


def _near_ends(found: Found) -> str:
    rows: dict[tuple[str, float], str] = {}
    for name, figure in found.figures.items():
        told = published(name)
        if told is None or told.high <= told.low:
            continue
        away = min(figure.value - told.low, told.high - figure.value)
        if away <= NEAR_END * (told.high - told.low):
            table, _, path = name.partition(".")
            folder = table.partition("/")[0]
            shown = f"{folder}/*.{path}" if folder == "tyres" else name
            cells = (_name(shown), f"{figure.value:g}", _between(told.low, told.high), _where(name, figure))
            rows[shown, figure.value] = "| " + " | ".join(cells) + " |"
    return "\n".join([NEAR, *rows.values()])


def _tables(found: Found) -> str:
    by_name = {one.name: one for one in found.effects}
    parts = ["## Every figure"]
    for title, names in _groups(found.figures):
        parts += ["", f"### {title}", "", *_table(names, found.figures, by_name)]
    return "\n".join(parts)


def _groups(figures: Mapping[str, Parameter]) -> Iterable[tuple[str, list[str]]]:
    """Tables by file; of a family or machine that is not varied, only what differs from the one that is."""
    files = dict.fromkeys(name.partition(".")[0] for name in figures)
    for file in files:
        names = [name for name in figures if name.partition(".")[0] == file]
        base = {"tyres": f"tyres/{FAMILY}", "machines": f"machines/{MACHINE}"}.get(file.partition("/")[0])
        if base is None or base == file:
            yield file, names
            continue
        differing = [name for name in names if _differs(name, base, figures)]
        yield f"{file}: where it differs from {base.partition('/')[2]}", differing


def _differs(name: str, base: str, figures: Mapping[str, Parameter]) -> bool:
    other = figures.get(f"{base}.{name.partition('.')[2]}")
    return other is None or other != figures[name]


def _table(
    names: Sequence[str], figures: Mapping[str, Parameter], by_name: Mapping[str, Effect]
) -> list[str]:
    tried = any(takes_part(name) for name in names)
    head = ["figure", "value", "unit", "range", "where", "spread", "source", *(["down", "up"] * tried)]
    rule = "| --- | ---: | --- | --- | --- | ---: | --- |" + " ---: |" * (2 * tried)
    lines = ["| " + " | ".join(head) + " |", rule]
    for name in names:
        cells = _cells(name, figures[name])
        if tried:
            cells += [_moved(by_name.get(name), step) for step in (DOWN, UP)]
        lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return lines


def _cells(name: str, figure: Parameter) -> list[str]:
    told = published(name)
    low, high = (told.low, told.high) if told else (figure.low, figure.high)
    return [
        f"`{name.partition('.')[2]}`",
        f"{figure.value:g}",
        figure.unit,
        _between(low, high),
        _where(name, figure),
        f"{figure.spread:g}",
        figure.source,
    ]


def _between(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return DASH
    if low == high:
        return f"{low:g}"
    said = ["" if end is None else f"{end:g}".replace("-", MINUS) for end in (low, high)]
    return " to ".join(said)


def _where(name: str, figure: Parameter) -> str:
    told = published(name)
    if told is not None:
        section = f"physics.md {told.section}" if told.section[0].isdigit() else told.section
        return f"{section}: {told.source} ({TAGS[told.tag]})"
    if our_own(figure):
        return "judgement" if "judgement" in figure.source else "own"
    return "recalled"
