"""Codes as notices, with their texts in the user's language; all warnings of a ladder."""

from __future__ import annotations

import math
from collections.abc import Iterable

from leanladder.domain.ladder import Ladder, Notice
from leanladder.domain.sentence import Sentence
from leanladder.wording import text


def notices(codes: Iterable[str], language: str, **figures: object) -> tuple[Notice, ...]:
    """Return a notice for each code, each code once, in order."""
    return tuple(Notice(code, text(code, language, **figures)) for code in dict.fromkeys(codes))


def all_warnings(ladder: Ladder, road_codes: Iterable[str], language: str) -> tuple[Notice, ...]:
    """Return what was done to the circuit's line, the road's warnings, then the ladder's own."""
    remarks = tuple(Notice("circuit_remark", remark) for remark in ladder.session.circuit.remarks)
    held = {warning.code for warning in ladder.warnings}
    missing = [code for code in road_codes if code not in held]
    road = ladder.session.road
    figures = {"shaded_c": math.floor(road.shaded_c), "track_c": math.floor(road.open_c)}
    return remarks + notices(missing, language, **figures) + ladder.warnings


def worded(sentences: Iterable[Sentence], language: str) -> tuple[Notice, ...]:
    """Return sentences with their texts; a side or an end among their figures in that language too."""

    def named(name: str, value: object) -> object:
        return text(f"{name}.{value}", language) if name in {"side", "end"} else value

    return tuple(
        Notice(each.code, text(each.code, language, **{k: named(k, v) for k, v in each.figures.items()}))
        for each in sentences
    )
