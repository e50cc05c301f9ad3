"""Why one limit is what it is, as plain text: sentences, then limits, rubber, heat, grip and changes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from leanladder.cli.odds import doubt_lines
from leanladder.cli.table import WIDTH, chance_said, listed, session_said, whole_deg, wrapped
from leanladder.domain.ladder import Notice
from leanladder.domain.why import (
    CapLimit,
    Change,
    GripParts,
    HeatBudget,
    RibReading,
    TyreWhy,
    Why,
    whole_pct,
)
from leanladder.planning.why.causes import counted_level
from leanladder.wording import text

_END, _LABEL = 8, 8  # columns of a tyre end's name, and of what a row holds
_RIB = 4
_CELL = 7
_WHAT = 58
_ROOT = 1e-6  # hundredths of friction to which a cap is found
_HEAT_IN = ("rolling", "slip", "sun", "brake")
_HEAT_OUT = ("road", "tread_air", "tread_radiation", "wall_air", "rim_air")
_GRIP = (
    "rubber_c", "peak", "curve", "surface", "state", "there",
    "keying", "adhesion", "faded", "usable", "demand", "left",
)  # fmt: skip


def why_text(
    answer: Why,
    *,
    sentences: Sequence[Notice],
    changes: Sequence[tuple[str, str | None]],
    cautions: Sequence[Notice],
    warnings: Sequence[Notice],
    language: str = "en",
) -> str:
    """Return the whole answer as text of at most WIDTH columns.

    changes: what each is and, where it does not apply, why not, in words.
    """
    limits, *behind = ("\n".join(lines) for lines in _tables(answer, changes, language))
    parts = [
        " ".join(each.text for each in sentences),
        session_said(answer.ladder.session, language),
        limits,
        _doubt(answer, language),
        *behind,
        listed("table.warnings", warnings, language),
        listed("table.cautions", cautions, language),
        text("table.engine", language, engine=answer.ladder.engine, parameters=answer.ladder.parameters),
    ]
    return "\n\n".join(wrapped(part, WIDTH) for part in parts if part)


def _tables(
    answer: Why, changes: Sequence[tuple[str, str | None]], language: str
) -> tuple[Iterator[str], ...]:
    """The lines of each table in turn."""
    return (
        _limits(answer, language),
        _rubber(answer, language),
        _heat(answer, language),
        _grip(answer, language),
        _changes(answer, changes, language),
    )


def _doubt(answer: Why, language: str) -> str:
    """What the worlds drawn tell of this limit, "" where none were."""
    doubt, level = answer.rung.doubt, answer.ladder.session.level
    if doubt is None:
        return ""
    told = doubt_lines(doubt, level.top_lean_deg.value, language)
    return " ".join((chance_said(answer.ladder, language), *told)).strip()


def _limits(answer: Why, language: str) -> Iterator[str]:
    """Yield every limit, the least first, then what the caution card read."""
    heads = [text(f"why.{name}", language) for name in ("bike_lean", "lean")]
    names = {limit.limit: text(f"label.{limit.limit}", language) for limit in answer.limits}
    wide, cell = max(map(len, names.values())) + 4, max(map(len, heads)) + 2
    top = next(limit for limit in answer.limits if limit.limit == "level_top")
    yield f"{text('why.limits', language)} {text('why.no_reserve', language)}"
    yield f"{'':{wide}}" + "".join(f"{head:>{cell}}" for head in heads)
    for limit in sorted(answer.limits, key=_by_lean):
        leans = "".join(f"{lean:>{cell}}" for lean in _leans(limit, top, language))
        if leans:
            mark = text(f"mark.{limit.limit}", language)
            sets = f"   {text('why.sets', language)}" if limit.sets else ""
            yield f"{mark} {names[limit.limit]:<{wide - 2}}{leans}{sets}"
    yield _card(answer, language)


def _leans(limit: CapLimit, top: CapLimit, language: str) -> Iterator[str]:
    """Yield a limit's two leans, what lies over the level's top without its figure: that would tempt."""
    both = ((limit.bike_lean_deg, top.bike_lean_deg), (limit.lean_deg, top.lean_deg))
    for lean_deg, top_deg in both:
        if lean_deg is not None and top_deg is not None:
            over = lean_deg > top_deg
            said = whole_deg(min(lean_deg, top_deg))
            yield text("why.over", language, top_deg=said) if over else said


def _by_lean(limit: CapLimit) -> tuple[float, bool]:
    return (math.inf if limit.bike_lean_deg is None else limit.bike_lean_deg), not limit.sets


def _card(answer: Why, language: str) -> str:
    card = answer.card
    said = [
        text(
            "why.card_read",
            language,
            end=text(f"end.{card.end}", language),
            side=text(f"side.{answer.side}", language),
            rubber_c=math.floor(card.rubber_c),
            spread=f"{card.spread_k:g}",
            read_c=math.floor(card.read_c),
        )
    ]
    if card.card_factor != 1.0:
        said.append(text("why.card_factor", language, factor=f"{card.card_factor:g}"))
    kept_pct = whole_pct(card.condition_kept)
    if kept_pct < 100:
        said.append(text("why.card_condition", language, kept_pct=kept_pct))
    return " ".join(said)


def _rubber(answer: Why, language: str) -> Iterator[str]:
    """Yield temperatures strip by strip, as many strips as the width takes."""
    yield text("why.rubber", language) + " " + text("why.depths", language)
    every = math.ceil(len(answer.front.ribs) * _RIB / (WIDTH - _END - _LABEL))
    for tyre in (answer.front, answer.rear):
        ribs = _thinned(tyre.ribs, every)
        yield _ribs_head(tyre, ribs, language)
        for name in ("outer", "skin", "carcass"):
            yield _row(
                "", text(f"why.{name}", language), [f"{getattr(rib, f'{name}_c'):.0f}" for rib in ribs]
            )
        yield _row("", text("why.load", language), [_percent(rib.load_share) for rib in ribs])


def _thinned(ribs: Sequence[RibReading], every: int) -> list[RibReading]:
    """Every so many ribs, the middle one among them."""
    return [rib for place, rib in enumerate(ribs) if (place - len(ribs) // 2) % every == 0]


def _ribs_head(tyre: TyreWhy, ribs: Sequence[RibReading], language: str) -> str:
    """A tyre's name, and over each strip its bike lean with the side's letter."""
    return _row(text(f"end.{tyre.end}", language), "", [_lean(rib.at_deg, language) for rib in ribs])


def _lean(at_deg: float, language: str) -> str:
    whole = round(abs(at_deg))
    side = "left" if at_deg < 0.0 else "right"
    return f"{text(f'states.{side}', language)}{whole}" if whole else "0"


def _row(end: str, label: str, cells: Sequence[str]) -> str:
    return (f"{end:<{_END}}{label:<{_LABEL}}" + "".join(f"{cell:>{_RIB}}" for cell in cells)).rstrip()


def _percent(share: float) -> str:
    return f"{whole_pct(share)}" if share >= 0.005 else "."


def _heat(answer: Why, language: str) -> Iterator[str]:
    heads = (*_HEAT_IN, "in", *_HEAT_OUT, "out", "stored")
    yield text("why.heat", language)
    yield _cells("", "", [text(f"why.{head}", language) for head in heads])
    for tyre in (answer.front, answer.rear):
        end = text(f"end.{tyre.end}", language)
        yield _cells(end, text("why.so_far", language), _flows(tyre.since_rolling))
        if tyre.last_lap is not None:
            last = text("table.lap", language, lap=answer.lap.lap - 1)
            yield _cells("", last, _flows(tyre.last_lap))
    yield f"{text('why.heat_heads', language)} {text('why.rounded', language)}"


def _flows(heat: HeatBudget) -> list[str]:
    into = [heat.heat_in_j[name] for name in _HEAT_IN]
    out = [heat.heat_out_j[name] for name in _HEAT_OUT]
    figures = (*into, sum(into), *out, sum(out), sum(heat.stored_j.values()))
    return [f"{round(joule / 1000.0)}" for joule in figures]


def _cells(end: str, label: str, cells: Sequence[str]) -> str:
    return (f"{end:<{_END}}{label:<{_LABEL}}" + "".join(f"{cell:>{_CELL}}" for cell in cells)).rstrip()


def _grip(answer: Why, language: str) -> Iterator[str]:
    yield text("why.grip", language)
    yield _cells("", "", [text(f"why.{head}", language) for head in _GRIP])
    for tyre in (answer.front, answer.rear):
        end = text(f"end.{tyre.end}", language)
        for name, parts in ((end, tyre.cap_grip), ("", tyre.usual_grip)):
            yield _cells(name, f"{whole_deg(parts.bike_lean_deg)}°", _parts(parts))
    made, heads = (text(f"why.{name}", language) for name in ("multiply", "grip_heads"))
    yield " ".join((made, _shares(answer, language), *_short(answer, language), heads))


def _shares(answer: Why, language: str) -> str:
    """Whose share of the friction counts: at the coach's pace that of the level with the least."""
    return text(
        "why.shares",
        language,
        level=counted_level(answer.ladder.session),
        level_pct=whole_pct(answer.level_share),
        held_pct=whole_pct(answer.held_share),
    )


def _parts(parts: GripParts) -> list[str]:
    """One row's figures; what is left rounded down, but for the root's own last digits."""
    left = math.floor(100.0 * parts.spare_grip + _ROOT) / 100.0
    figures = (
        parts.peak_grip, parts.curve, parts.surface_kept, parts.condition_kept,
        parts.grip, parts.keying, parts.adhesion, parts.faded, parts.usable, parts.demand,
    )  # fmt: skip
    return [
        f"{math.floor(parts.rubber_c)}",
        *(f"{whole_pct(figure) / 100.0:.2f}" for figure in figures),
        f"{left:.2f}",
    ]


def _short(answer: Why, language: str) -> Iterator[str]:
    """Yield where the usual lean asks for more than may be used."""
    short = [tyre.end for tyre in (answer.front, answer.rear) if tyre.usual_grip.spare_grip < 0.0]
    if short:
        end = "both" if len(short) > 1 else short[0]
        yield text("why.short", language, end=text(f"end.{end}", language))


def _changes(answer: Why, changes: Sequence[tuple[str, str | None]], language: str) -> Iterator[str]:
    yield text("why.changes", language)
    rows = zip(answer.changes, changes, strict=True)
    for change, (what, why_not) in sorted(rows, key=lambda row: _by_gain(row[0])):
        if why_not is None:
            yield f"{what:<{_WHAT}}{_change(change, language)}"
        elif change.why_not is not None and change.why_not.code != "why.not_already":
            yield f"{what:<{_WHAT}} - {why_not}"


def _by_gain(change: Change) -> float:
    return math.inf if change.difference_deg is None else -change.difference_deg


def _change(change: Change, language: str) -> str:
    if change.cap_bike_deg is None or change.difference_deg is None or change.limited_by is None:
        return ""
    difference_deg = math.floor(10.0 * change.difference_deg) / 10.0
    mark = text(f"mark.{change.limited_by}", language)
    label = text(f"label.{change.limited_by}", language)
    return f"{whole_deg(change.cap_bike_deg):>3}° {difference_deg:>+6.1f}°  {mark} {label}"
