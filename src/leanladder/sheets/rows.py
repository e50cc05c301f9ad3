"""Turns as riders see them: planks, fans and words, for cards and briefings alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from leanladder import drawing
from leanladder.domain.circuit import Side
from leanladder.domain.paper import CardRow, Fan, Heading, RiderCard, Span
from leanladder.sheets.said import label


def run_words(heading: Heading, language: str) -> str:
    """Return which run a page is for; the group goes unsaid where the session's name holds it."""
    code = "run_alone" if heading.group.lower() in heading.session.lower().split() else "run"
    return label(f"card.{code}", language, group=heading.group, session=heading.session)


def span_words(span: Span, language: str) -> str:
    """Return a column's head: a lap, some laps, or some minutes."""
    code = "minutes" if span.kind == "minutes" else "lap" if span.first == span.last else "laps"
    return label(f"card.{code}", language, first=span.first, last=span.last)


def row_parts(rows: Iterable[CardRow], language: str) -> list[dict[str, object]]:
    """Return rows as a template takes them; their pictures are named as `row_pictures` names them."""
    return [
        {
            "number": row.number,
            "side": row.side,
            "clamp": row.least_margin,
            "picture": plank_name(row),
            "fans": [_fan_parts(fan, row.side, language) for fan in row.fans],
        }
        for row in rows
    ]


def row_pictures(rows: Iterable[CardRow]) -> Mapping[str, str]:
    """Return the drawings of some rows by file name."""
    return dict(_drawn(tuple(rows)))


def other_words(card: RiderCard) -> list[str]:
    """Return what stands under the rows: laps and turns without a fan, none where there are no rows."""
    if not card.rows:
        return []
    lines = []
    if card.spans and not card.coach_pace:
        last = card.spans[-1]
        lines.append(label(f"card.later_{last.kind}", card.language, last=last.last))
    if card.left_out:
        code = "left_out" if card.left_out_as is None else "left_out_as"
        code += "_one" if len(card.left_out) == 1 else ""
        turns = ", ".join(map(str, card.left_out))
        lines.append(label(f"card.{code}", card.language, turns=turns, like=card.left_out_as))
    if any(fan is None for row in card.rows for fan in row.fans):
        lines.append(label("card.behind", card.language))
    lines.append(label("card.stop", card.language))
    return lines


def fan_name(side: Side, quarters: int) -> str:
    """Return the file name of a fan."""
    return f"fan-{side}-{quarters}.svg"


def plank_name(row: CardRow) -> str:
    """Return the file name of a turn's plank, reversed where it is the one to respect."""
    return f"plank-{row.number}-{row.side}{'-chosen' if row.least_margin else ''}.svg"


def _fan_parts(fan: Fan | None, side: Side, language: str) -> dict[str, object] | None:
    if fan is None:
        return None
    return {"picture": fan_name(side, fan.quarters), "word": label(f"card.word_{fan.word}", language)}


def _drawn(rows: Sequence[CardRow]) -> Iterator[tuple[str, str]]:
    for row in rows:
        yield plank_name(row), drawing.plank(row.number, row.side, chosen=row.least_margin)
        for fan in row.fans:
            if fan is not None:
                yield fan_name(row.side, fan.quarters), drawing.fan(row.side, fan.quarters)
