"""Ways of warming as plain text: a line a way, those that may be told first, then why."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from leanladder.cli.table import WIDTH, session_said
from leanladder.domain.ladder import Notice
from leanladder.domain.sentence import Sentence
from leanladder.domain.way import EndsRise, Rise, Way, Ways, percent, whole
from leanladder.wording import text

_RANK, _NAME, _RISE, _GRIP, _READY = 3, 28, 9, 6, 9
_DEPTHS = ("skin", "tread", "carcass")


def ways_text(
    ways: Ways, *, cautions: Sequence[Notice], warnings: Sequence[Notice], language: str = "en"
) -> str:
    """Return the comparison as text of at most WIDTH columns."""
    parts = [
        "\n".join(_head(ways, language)),
        "\n".join(_table(ways, language)),
        "\n".join(_explained(ways, language)),
        "\n".join(_whys(ways, language)),
        _listed("table.warnings", [notice.text for notice in warnings], language),
        _listed("table.cautions", [notice.text for notice in cautions], language),
        text("table.engine", language, engine=ways.engine, parameters=ways.parameters),
    ]
    return "\n\n".join(part for part in parts if part)


def _head(ways: Ways, language: str) -> Iterator[str]:
    title = f"{text('ways.title', language)} {text('ways.explains', language)}"
    said = (title, *session_said(ways.session, language).splitlines(), _pace(ways, language))
    for line in said:
        yield from textwrap.wrap(line, WIDTH)


def _pace(ways: Ways, language: str) -> str:
    return text(
        "ways.pace",
        language,
        laps=ways.session.laps,
        minutes=f"{ways.time_s / 60.0:.1f}",
        speed_kmh=f"{3.6 * ways.speed_mps:.0f}",
        way=text(f"ways.{_pacing(ways)}", language),
    )


def _pacing(ways: Ways) -> str:
    """The way whose pace it is by name, unless it may not be told: then nobody is to look it up."""
    allowed = any(way.name == ways.paced_by and way.allowed for way in ways.ways)
    return ways.paced_by if allowed else "slowest_of_them"


def _table(ways: Ways, language: str) -> Iterator[str]:
    ends = "".join(f"{text(f'ways.{end}', language):^{3 * _RISE}}" for end in ("front", "rear"))
    yield f"{'':{_RANK + _NAME}}{ends}".rstrip()
    depths = 2 * "".join(f"{text(f'ways.{depth}', language):>{_RISE}}" for depth in _DEPTHS)
    last = f"{text('ways.grip', language):>{_GRIP}}{text('ways.ready', language):>{_READY}}"
    yield f"{'':{_RANK}}{text('ways.way', language):{_NAME}}{depths}{last}"
    told = "told" if any(way.rank for way in ways.ways) else "told_unranked"
    for head, allowed in ((told, True), ("not_this", False)):
        yield f"{text(f'ways.{head}', language)}:"
        rows = [way for way in ways.ways if way.allowed == allowed]
        yield from (_row(way, language) for way in rows)
        if not rows:
            yield f"{'':{_RANK}}{text('ways.none', language)}"


def _row(way: Way, language: str) -> str:
    """A line; of a way that is told to nobody rises and minute would only be arguments for it."""
    depths = (way.skin_rise_c, way.tread_rise_c, way.carcass_rise_c)
    cells = (_cell(end) for end in (*_of(depths, "front"), *_of(depths, "rear")))
    rises = "".join(f"{cell:>{_RISE}}" for cell in cells)
    ready = "-" if way.ready_minute is None else f"{way.ready_minute:.1f}"
    if not way.allowed:
        rises, ready = "", ""
    named = f"{text(f'ways.{way.name}', language):{_NAME}}{rises}"
    grip = percent(way.peak_share)
    return f"{_rank(way):{_RANK}}{named:{_NAME + 6 * _RISE}}{grip:>{_GRIP}}{ready:>{_READY}}".rstrip()


def _rank(way: Way) -> str:
    if not way.allowed:
        return "x"
    return "-" if way.rank is None else f"{way.rank}."


def _of(depths: Sequence[EndsRise], end: str) -> list[Rise]:
    return [getattr(depth, end) for depth in depths]


def _cell(rise: Rise) -> str:
    return f"{whole(rise.centre)}/{whole(rise.shoulders)}"


def _explained(ways: Ways, language: str) -> Iterator[str]:
    near = {"settled_deg": f"{ways.settled_deg:g}", "lap": ways.settled_lap}
    said = [
        text("ways.rises", language),
        text("ways.grip_explains", language, held_pct=f"{100.0 * ways.held_share:.0f}"),
        f"{text('ways.ready_explains', language, **near)} {text('ways.dash_explains', language)}",
        *_settled(ways, language),
        _own_pace(ways, language),
    ]
    for words in said:
        yield from textwrap.wrap(words, WIDTH)


def _settled(ways: Ways, language: str) -> Iterator[str]:
    if ways.settled_cap_deg is not None:
        yield text("ways.settled_is", language, cap_deg=whole(ways.settled_cap_deg))


def _own_pace(ways: Ways, language: str) -> str:
    speed_kmh = f"{3.6 * ways.own_speed_mps:.0f}"
    if ways.own_ready_minute is not None:
        return text("ways.own_ready", language, speed_kmh=speed_kmh, minute=f"{ways.own_ready_minute:.1f}")
    growing = next(way for way in ways.ways if way.name == "growing_lean")
    code = "ways.own_never" if growing.ready_minute is None else "ways.own_only_never"
    return text(code, language, speed_kmh=speed_kmh)


def _whys(ways: Ways, language: str) -> Iterator[str]:
    for way in ways.ways:
        told = " ".join(_said(sentence, language) for sentence in (way.says, *way.conditions))
        line = f"{_rank(way):{_RANK}}{text(f'ways.{way.name}', language)}: {told}"
        yield from textwrap.wrap(line, WIDTH, subsequent_indent=" " * _RANK)


def _said(sentence: Sentence, language: str) -> str:
    return text(sentence.code, language, **sentence.figures)


def _listed(title: str, found: Sequence[str], language: str) -> str:
    lines = found or [text("table.no_warnings", language)]
    wrapped = (textwrap.fill(f"- {line}", WIDTH, subsequent_indent="  ") for line in lines)
    return "\n".join((f"{text(title, language)}:", *wrapped))
