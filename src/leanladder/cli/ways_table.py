"""Ways of warming as plain text: a line a way, those that may be told first, then why."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from leanladder.cli.table import WIDTH, session_said
from leanladder.domain.ladder import Notice
from leanladder.domain.sentence import Sentence
from leanladder.domain.way import EndsRise, Rise, Way, Ways
from leanladder.wording import text

_RANK, _NAME, _RISE, _LAST = 3, 29, 9, 7
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
        way=text(f"ways.{ways.paced_by}", language),
    )


def _table(ways: Ways, language: str) -> Iterator[str]:
    ends = "".join(f"{text(f'ways.{end}', language):^{3 * _RISE}}" for end in ("front", "rear"))
    yield f"{'':{_RANK + _NAME}}{ends}".rstrip()
    depths = 2 * "".join(f"{text(f'ways.{depth}', language):>{_RISE}}" for depth in _DEPTHS)
    last = "".join(f"{text(f'ways.{head}', language):>{_LAST}}" for head in ("grip", "ready"))
    yield f"{'':{_RANK}}{text('ways.way', language):{_NAME}}{depths}{last}"
    for head, allowed in (("told", True), ("not_this", False)):
        yield f"{text(f'ways.{head}', language)}:"
        rows = [way for way in ways.ways if way.allowed == allowed]
        yield from (_row(way, language) for way in rows)
        if not rows:
            yield f"{'':{_RANK}}{text('ways.none', language)}"


def _row(way: Way, language: str) -> str:
    rank = f"{way.rank}." if way.rank else "x"
    depths = (way.skin_rise_c, way.tread_rise_c, way.carcass_rise_c)
    rises = "".join(f"{_cell(end):>{_RISE}}" for end in (*_of(depths, "front"), *_of(depths, "rear")))
    # of a way that is told to nobody it would only be an argument for it
    ready = "" if not way.allowed else "-" if way.ready_minute is None else f"{way.ready_minute:.1f}"
    name = text(f"ways.{way.name}", language)
    return f"{rank:{_RANK}}{name:{_NAME}}{rises}{100.0 * way.peak_share:>{_LAST}.0f}{ready:>{_LAST}}".rstrip()


def _of(depths: Sequence[EndsRise], end: str) -> list[Rise]:
    return [getattr(depth, end) for depth in depths]


def _cell(rise: Rise) -> str:
    return f"{rise.centre:.0f}/{rise.shoulders:.0f}"


def _explained(ways: Ways, language: str) -> Iterator[str]:
    said = [
        text("ways.rises", language),
        text("ways.grip_explains", language),
        text("ways.ready_explains", language, settled_deg=f"{ways.settled_deg:g}", lap=ways.settled_lap),
        _own_pace(ways, language),
    ]
    for words in said:
        yield from textwrap.wrap(words, WIDTH)


def _own_pace(ways: Ways, language: str) -> str:
    speed_kmh = f"{3.6 * ways.own_speed_mps:.0f}"
    if ways.own_ready_minute is None:
        return text("ways.own_never", language, speed_kmh=speed_kmh)
    return text("ways.own_ready", language, speed_kmh=speed_kmh, minute=f"{ways.own_ready_minute:.1f}")


def _whys(ways: Ways, language: str) -> Iterator[str]:
    for way in ways.ways:
        told = " ".join(_said(sentence, language) for sentence in (way.says, *way.conditions))
        rank = f"{way.rank}." if way.rank else "x"
        line = f"{rank:{_RANK}}{text(f'ways.{way.name}', language)}: {told}"
        yield from textwrap.wrap(line, WIDTH, subsequent_indent=" " * _RANK)


def _said(sentence: Sentence, language: str) -> str:
    return text(sentence.code, language, **sentence.figures)


def _listed(title: str, found: Sequence[str], language: str) -> str:
    lines = found or [text("table.no_warnings", language)]
    wrapped = (textwrap.fill(f"- {line}", WIDTH, subsequent_indent="  ") for line in lines)
    return "\n".join((f"{text(title, language)}:", *wrapped))
