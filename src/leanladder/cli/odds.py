"""What is not known of the limits and the odds of a fall, as plain text for instructors; never for paper.

A cell is one turn on one lap: the lean that grip carries in the middle one of the worlds drawn, then in
the 5th and the 95th of 100, and a letter for what moves it most: `24 19-29 a`. None of it is a limit; what
lies over the level's top bears a plus in place of its figure, which would tempt.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from string import ascii_lowercase

from leanladder.cli.notices import cause_said
from leanladder.cli.table import WIDTH, wrapped
from leanladder.domain.chance import Doubt, FallOdds
from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.wording import text

_LABEL = 8
_CELL = 13  # middle of three, a gap, a band of six, a gap, a letter, a gap
# Odds below one in so many are beyond what a model of grip alone has a say in; the text names it too.
RAREST = 10_000
_OFTEN = 0.1  # from here on so many in 100
_ROUNDING = 1e-9


def odds_text(ladder: Ladder, language: str = "en") -> str:
    """Return the worlds' middle lean, their band and what moves it most, then the odds of a fall."""
    rungs = [rung for lap in ladder.laps for rung in lap.rungs if rung.doubt is not None]
    if not rungs:
        return text("odds.none", language)
    letters = _letters(rungs)
    explains = text("odds.explains", language, members=ladder.members)
    parts = [
        f"{text('odds.title', language)}\n{explains}\n{text('odds.no_limit', language)}",
        *_blocks(ladder, letters, language),
        _moved(ladder, letters, language),
        _falls(ladder.fall_odds, ladder.laps, language),
    ]
    return "\n\n".join(wrapped(part, WIDTH) for part in parts if part)


def causes_said(doubt: Doubt, language: str) -> str:
    """Return what moves a lean most, the greatest first."""
    return "; ".join(cause_said(cause.code, language) for cause in doubt.main_causes)


def odds_said(odds: float, language: str) -> str:
    """Return odds [0..1] in words, rounded so that they are never told smaller than they are."""
    if odds < 1.0 / RAREST:
        return text("odds.rare", language)
    if odds > _OFTEN:
        return text("odds.often", language, count=math.ceil(100.0 * odds - _ROUNDING))
    return text("odds.one_in", language, count=_two_digits(1.0 / odds))


def _two_digits(count: float) -> int:
    """Return a count of 10 or more rounded down to two digits."""
    unit = int(10 ** (len(str(math.floor(count + _ROUNDING))) - 2))
    return unit * math.floor((count + _ROUNDING) / unit)


def doubt_lines(doubt: Doubt, top_deg: float, language: str) -> Iterator[str]:
    """Yield what the worlds drawn tell of one corner on one lap, in sentences.

    top_deg [deg, bike lean]: the level's top, over which no figure is told.
    """
    yield _carries(doubt, top_deg, language)
    if doubt.main_causes:
        yield text("odds.carries_most", language, causes=causes_said(doubt, language))
    yield text("odds.falls_here", language, odds=odds_said(doubt.fall_odds, language))
    yield text("odds.unknown", language)


def _carries(doubt: Doubt, top_deg: float, language: str) -> str:
    """Say the middle lean and the band; where all of it lies over the level's top, that alone."""
    over = text("why.over", language, top_deg=math.floor(top_deg))
    if doubt.bike_band_deg[0] > top_deg:
        return text("odds.carries_over", language, over=over)
    middle_deg, low_deg, high_deg = (
        over if lean_deg > top_deg else math.floor(lean_deg)
        for lean_deg in (doubt.bike_p50_deg, *doubt.bike_band_deg)
    )
    return text("odds.carries", language, middle_deg=middle_deg, low_deg=low_deg, high_deg=high_deg)


def _letters(rungs: Sequence[Rung]) -> Mapping[str, str]:
    """A letter for each cause that somewhere moves a lean most, in the order in which they come up."""
    first = (rung.doubt.main_causes[0].code for rung in rungs if rung.doubt and rung.doubt.main_causes)
    return dict(zip(dict.fromkeys(first), ascii_lowercase, strict=False))


def _blocks(ladder: Ladder, letters: Mapping[str, str], language: str) -> Iterator[str]:
    """Yield the grid in blocks of as many corners as the width takes, alike in size."""
    corners = ladder.session.circuit.corners
    most = (WIDTH - _LABEL) // _CELL
    size = math.ceil(len(corners) / math.ceil(len(corners) / most))
    top_deg = ladder.session.level.top_lean_deg.value
    for first in range(0, len(corners), size):
        some = corners[first : first + size]
        head = "".join(f"{corner.number:>3}{'':{_CELL - 3}}" for corner in some)
        lines = [f"{text('table.turn', language):<{_LABEL}}{head}".rstrip()]
        for lap in ladder.laps:
            rungs = {rung.number: rung for rung in lap.rungs}
            cells = (_cell(rungs.get(corner.number), top_deg, letters) for corner in some)
            label = text("table.lap", language, lap=lap.lap)
            lines.append(f"{label:<{_LABEL}}{''.join(cells)}".rstrip())
        yield "\n".join(lines)


def _cell(rung: Rung | None, top_deg: float, letters: Mapping[str, str]) -> str:
    if rung is None or rung.doubt is None:
        return " " * _CELL
    doubt = rung.doubt
    middle, low, high = (_whole(lean, top_deg) for lean in (doubt.bike_p50_deg, *doubt.bike_band_deg))
    band = low if low == high and low.endswith("+") else f"{low}-{high}"
    letter = letters[doubt.main_causes[0].code] if doubt.main_causes else ""
    return f"{f'{middle:>3} {band} {letter}':<{_CELL}}"


def _whole(lean_deg: float, top_deg: float) -> str:
    return f"{math.floor(top_deg)}+" if lean_deg > top_deg else f"{math.floor(lean_deg)}"


def _moved(ladder: Ladder, letters: Mapping[str, str], language: str) -> str:
    """The letters' meaning, and all main causes for each turn with least margin on its first such lap."""
    named = [f"{letter} = {cause_said(code, language)}" for code, letter in letters.items()]
    lines = [f"{text('odds.moved', language)}: {', '.join(named)}."] if named else []
    told: set[int] = set()
    for lap in ladder.laps:
        rung = next((each for each in lap.rungs if each.number == lap.least_margin), None)
        if rung is None or rung.number in told or rung.doubt is None or not rung.doubt.main_causes:
            continue
        told.add(rung.number)
        causes = causes_said(rung.doubt, language)
        lines.append(text("odds.moved_of", language, lap=lap.lap, number=rung.number, causes=causes))
    return "\n".join(lines)


def _falls(odds: FallOdds | None, laps: Sequence[Lap], language: str) -> str:
    """The odds of a fall of one rider and of a field, what they count, and where most of them lie."""
    if odds is None:
        return ""
    field = odds_said(odds.field, language)
    lines = [
        f"{text('odds.falls', language)}:",
        text("odds.falls_rider", language, odds=odds_said(odds.rider, language)),
        text("odds.falls_field", language, riders=odds.riders, odds=field),
        f"{text('odds.counted', language)} {text('odds.unknown', language)}",
        *_greatest(laps, language),
    ]
    return "\n".join(lines)


def _greatest(laps: Sequence[Lap], language: str) -> Iterator[str]:
    """Yield where the greatest part of the odds lies, if it is great enough to be told."""
    found = chain.from_iterable(
        ((rung.doubt.fall_odds, lap.lap, rung.number) for rung in lap.rungs if rung.doubt) for lap in laps
    )
    odds, lap, number = max(found)
    if odds >= 1.0 / RAREST:
        yield text("odds.greatest", language, lap=lap, number=number)
