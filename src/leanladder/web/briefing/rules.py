"""The briefing sheet as a page: fans turn by turn, who goes out when, and the rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from leanladder import drawing
from leanladder.domain.day import DayLadder
from leanladder.domain.paper import Briefing, CardRow
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper import briefings
from leanladder.planning.paper.refused import rider_steps, why
from leanladder.sheets.rows import span_words
from leanladder.web.briefing.reader import Reader
from leanladder.web.plans import Worked

_FAN_RADIUS, _PLANK_HEIGHT = 54.0, 38.0


def rules(worked: Worked, entries: Sequence[DayLadder], reader: Reader) -> dict[str, Any]:
    """Return what the page of rules shows: the sheet's content, or why there is no number and what to do."""
    pages = briefings(worked.day, worked.circuit, entries, word=worked.word)
    if not pages:
        return {"message": reader.say("rules_none"), "why": _each(_refused(entries), reader)}
    return _told(pages[0], reader)


def _told(page: Briefing, reader: Reader) -> dict[str, Any]:
    span = span_words(page.span, reader.language)
    number, side = page.respect or (None, None)
    message = Sentence("card.respect", {"number": number, "side": side})
    return {
        "message": reader.say("rules_turns", span=span) if number is None else reader.tell(message),
        "why": _each(page.respect_why, reader),
        "span": reader.say("rules_turns", span=span),
        "rows": [_row(row, reader) for row in page.rows],
        "order": _each(page.order, reader),
        "rules": _each(page.rules, reader),
        "word": page.heading.day_word,
        "valid": reader.tell(Sentence("briefing.valid", _valid(page))),
    }


def _valid(page: Briefing) -> dict[str, str]:
    heading = page.heading
    return {"at": f"{heading.valid_from:%H:%M}", "until": f"{heading.valid_until:%H:%M}"}


def _row(row: CardRow, reader: Reader) -> dict[str, Any]:
    fan = row.fans[0]
    word = "" if fan is None else reader.tell(Sentence(f"card.word_{fan.word}"))
    turn = f"{reader.tell(Sentence('card.turn'))} {row.number}, {reader.say(f'side_{row.side}')}"
    name = drawing.Name(turn, f"turn-{row.number}")
    plank = drawing.turn_plank(row.number, row.side, name, height=_PLANK_HEIGHT, chosen=row.least_margin)
    if fan is None:
        return {"plank": plank, "fan": "", "word": word, "least": row.least_margin}
    drawn = drawing.Name(f"{turn}: {word}", f"fan-{row.number}")
    picture = drawing.rider_fan(row.side, fan.quarters, drawn, radius=_FAN_RADIUS)
    return {"plank": plank, "fan": picture, "word": word, "least": row.least_margin}


def _refused(entries: Sequence[DayLadder]) -> Iterator[Sentence]:
    for entry in entries:
        yield from (*why(entry), *rider_steps(entry))


def _each(sentences: Sequence[Sentence] | Iterator[Sentence], reader: Reader) -> list[str]:
    """Return sentences in words, each once."""
    return list(dict.fromkeys(reader.tell(sentence) for sentence in sentences))
