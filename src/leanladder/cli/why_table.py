"""Why one limit is what it is, as plain text: sentences, then limits, rubber, heat, grip and changes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from leanladder.cli.table import (
    WIDTH,
    circuit_said,
    listed,
    road_said,
    start_said,
    whole_deg,
    wrapped,
)
from leanladder.domain.ladder import Notice
from leanladder.domain.why import CapLimit, Change, GripParts, HeatBudget, RibReading, TyreWhy, Why
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
    "keying", "adhesion", "faded", "usable", "demand", "spare",
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
    parts = [
        " ".join(each.text for each in sentences),
        _head(answer, language),
        "\n".join(_limits(answer, language)),
        "\n".join(_rubber(answer, language)),
        "\n".join(_heat(answer, language)),
        "\n".join(_grip(answer, language)),
        "\n".join(_changes(answer, changes, language)),
        listed("table.warnings", warnings, language),
        listed("table.cautions", cautions, language),
        text("table.engine", language, engine=answer.ladder.engine, parameters=answer.ladder.parameters),
    ]
    return "\n\n".join(wrapped(part, WIDTH) for part in parts)


def _head(answer: Why, language: str) -> str:
    session = answer.ladder.session
    usual_deg = f"{session.level.usual_lean_deg.value:.0f}"
    start = start_said(session.start, language)
    tyres = {"front": session.front.family, "rear": session.rear.family}
    return "\n".join(
        (
            circuit_said(session.circuit, language),
            road_said(session, language),
            text("table.level", language, level=session.level.name, usual_deg=usual_deg, start=start),
            text("table.tyres", language, machine=session.motorcycle.name, **tyres),
        )
    )


def _limits(answer: Why, language: str) -> Iterator[str]:
    """Yield every limit, the least first, then what the caution card read."""
    heads = (text(f"why.{name}", language) for name in ("bike_lean", "lean"))
    names = {limit.limit: text(f"label.{limit.limit}", language) for limit in answer.limits}
    wide = max(map(len, names.values())) + 4
    yield text("why.limits", language)
    yield f"{'':{wide}}" + "".join(f"{head:>11}" for head in heads)
    for limit in sorted(answer.limits, key=_by_lean):
        if limit.bike_lean_deg is None or limit.lean_deg is None:
            continue
        mark = text(f"mark.{limit.limit}", language)
        leans = f"{whole_deg(limit.bike_lean_deg):>11}{whole_deg(limit.lean_deg):>11}"
        sets = f"   {text('why.sets', language)}" if limit.sets else ""
        yield f"{mark} {names[limit.limit]:<{wide - 2}}{leans}{sets}"
    yield _card(answer, language)


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
    if card.condition_kept < 1.0:
        kept_pct = math.floor(100.0 * card.condition_kept)
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
    return f"{100.0 * share:.0f}" if share >= 0.005 else "."


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
    level_pct, held_pct = (round(100.0 * share) for share in (answer.level_share, answer.held_share))
    said = [text("why.shares", language, level_pct=level_pct, held_pct=held_pct), *_short(answer, language)]
    yield text("why.multiply", language)
    yield " ".join(said)


def _parts(parts: GripParts) -> list[str]:
    """One row's figures; what is spare rounded down, but for the root's own last digits."""
    spare = math.floor(100.0 * parts.spare_grip + _ROOT) / 100.0
    figures = (
        parts.peak_grip, parts.curve, parts.surface_kept, parts.condition_kept,
        parts.grip, parts.keying, parts.adhesion, parts.faded, parts.usable, parts.demand, spare,
    )  # fmt: skip
    return [f"{math.floor(parts.rubber_c)}", *(f"{figure:.2f}" for figure in figures)]


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
