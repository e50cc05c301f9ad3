"""Codes as notices, with their texts in the user's language; all warnings of a ladder."""

from __future__ import annotations

import math
from collections.abc import Iterable

from leanladder.cli.common import language as language_in_force
from leanladder.domain.ladder import Ladder, Lap, Notice, Rung
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.domain.way import Ways
from leanladder.wording import codes, text


def notices(codes: Iterable[str], language: str, **figures: object) -> tuple[Notice, ...]:
    """Return a notice for each code, each code once, in order."""
    return tuple(Notice(code, text(code, language, **figures)) for code in dict.fromkeys(codes))


def all_warnings(ladder: Ladder | Ways, road_codes: Iterable[str], language: str) -> tuple[Notice, ...]:
    """Return what was done to the circuit's line, the road's warnings, then the ladder's own."""
    held = {warning.code for warning in ladder.warnings}
    missing = [code for code in road_codes if code not in held]
    own = (each if each.told is None else _again(each, each.told, language) for each in ladder.warnings)
    return (*road_warnings(ladder.session, missing, language), *own)


def road_warnings(session: Session, road_codes: Iterable[str], language: str) -> tuple[Notice, ...]:
    """Return what was done to the circuit's line, and the road's warnings."""
    remarks = tuple(Notice("circuit_remark", remark) for remark in session.circuit.remarks)
    road = session.road
    figures = {"shaded_c": math.floor(road.shaded_c), "track_c": math.floor(road.open_c)}
    return (*remarks, *notices(road_codes, language, **figures))


def worded(sentences: Iterable[Sentence], language: str) -> tuple[Notice, ...]:
    """Return sentences with their texts; a side or an end among their figures in that language too."""
    return tuple(Notice(each.code, _said(each, language), each) for each in sentences)


def reason_said(rung: Rung, language: str) -> str:
    """Return what sets a limit; in another language than English by the rubber as it arrives."""
    if language == "en":
        return rung.reason
    front_c, rear_c = (getattr(rubber, f"{rung.side}_c") for rubber in (rung.front, rung.rear))
    rubber_c = {"front_grip": front_c, "rear_grip": rear_c}.get(rung.limited_by, min(front_c, rear_c))
    return _said(Sentence(rung.limited_by, {"side": rung.side, "rubber_c": math.floor(rubber_c)}), language)


def cause_said(code: str, language: str) -> str:
    """Return the name of what moves a lean, as it stands in a list."""
    return text(f"cause.{code}", language)


def cause_worded(code: str) -> str:
    """Return the same in the language in force."""
    return cause_said(code, language_in_force())


def straights_said(lap: Lap, language: str) -> str:
    """Return how the straights of a lap may be ridden, whose English the lap holds."""
    known = {text(code): code for code in codes() if code.startswith("straights.")}
    return text(known[lap.straights], language) if lap.straights in known else lap.straights


def _again(notice: Notice, told: Sentence, language: str) -> Notice:
    return Notice(notice.code, _said(told, language), told)


def _said(sentence: Sentence, language: str) -> str:
    def named(name: str, value: object) -> object:
        return text(f"{name}.{value}", language) if name in {"side", "end"} else value

    figures = {name: named(name, value) for name, value in sentence.figures.items()}
    return text(sentence.code, language, **figures)
