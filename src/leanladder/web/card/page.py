"""A rider's card as one response that fetches nothing: style, script and drawings stand in it."""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import NamedTuple

from django.template import Context, Engine
from django.utils.safestring import SafeString, mark_safe

from leanladder import drawing
from leanladder.domain.paper import CardRow, Fan, NoCard, RiderCard
from leanladder.sheets.rows import other_words, span_words
from leanladder.sheets.said import all_said, label, spoken
from leanladder.web.card import words
from leanladder.web.card.state import CardState

# Longer words than this stand below their fan on any phone.
_BESIDE_FAN = 8
AGAIN_S = 15  # after which a page without a card yet looks again
_KEY = (CardRow(0, "left", False, (Fan(0, "upright"),)), CardRow(0, "right", False, (Fan(4, "usual"),)))
_INKS = drawing.Inks("currentColor", "#fff")
_TEMPLATES = Path(str(files("leanladder.web"))) / "templates"


class CardPage(NamedTuple):
    """A page and the content policy that belongs to it: nothing runs but what stands in it."""

    html: str
    csp: str


def card_page(card: RiderCard | NoCard, state: CardState, address: str = "") -> CardPage:
    """Return the page of a card as it stands now; address is the link's own, where the page asks.

    As it is sent the page says that it is not confirmed; only its script, once it runs and knows how old the
    page is, shows a card that counts.
    """
    body = _card_parts(card, state) if isinstance(card, RiderCard) else _none_parts(card)
    texts = words.every_page(card, state)
    classes = [
        *(["large"] if card.large_print else []),
        *(["under"] if card.large_print or _longest(card) > _BESIDE_FAN else []),
        *([] if state.new_word else ["wordless"]),
    ]
    frame = {
        **words.whose(card),
        **body,
        "t": {**texts, **_mapping(body.get("t"))},
        "language": spoken(card.language),
        "classes": " ".join(classes),
        "data": _data(card, state),
        "address": address,
        "given": str(state.given),
        "stamp": str(_made_ms(state)),
    }
    lengths = {"word": texts["own"], "new": texts["new"], "void": texts["void"]}
    return _page("card/card.html" if isinstance(card, RiderCard) else "card/none.html", frame, lengths)


def gone_page() -> CardPage:
    """Return the page of a link that does not count: unknown and revoked look the same."""
    lines = words.every_language("phone.gone")
    return _page("card/gone.html", {"lines": lines, "title": lines[0]["text"]}, {})


def early_page() -> CardPage:
    """Return the page of a link that counts before anything was given out: it looks again by itself."""
    lines = words.every_language("phone.not_given")
    return _page("card/gone.html", {"lines": lines, "title": lines[0]["text"], "again_s": AGAIN_S}, {})


def _page(template: str, parts: dict[str, object], lengths: dict[str, object]) -> CardPage:
    # Long day words take smaller letters: how many there are is all that differs in the style.
    sizes = ";".join(f"--{name}:{max(len(str(word)), 4)}" for name, word in lengths.items())
    style, script = f":root{{{sizes}}}\n{_inlined('card.css')}", _inlined("card.js")
    context = Context({**parts, "style": _ours(style), "script": _ours(script)}, use_l10n=False, use_tz=False)
    return CardPage(_engine().get_template(template).render(context), _policy(style, script))


def _policy(style: str, script: str) -> str:
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src '{_hashed(script)}'",
            f"style-src '{_hashed(style)}'",
            "img-src data:",
            "connect-src 'self'",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        )
    )


def _hashed(text: str) -> str:
    return "sha256-" + b64encode(sha256(text.encode()).digest()).decode()


@cache
def _engine() -> Engine:
    return Engine(dirs=[str(_TEMPLATES)], autoescape=True)


@cache
def _inlined(name: str) -> str:
    """Return a file of ours as it stands in a page: without indents and lines that only comment."""
    text = files("leanladder.web").joinpath("static", "leanladder", name).read_text(encoding="utf-8")
    return re.sub(r"^\s*//.*\n|^\s+", "", text, flags=re.MULTILINE)


def _ours(text: str) -> SafeString:
    return mark_safe(text)  # noqa: S308  # files and drawings of ours, and lengths; nothing that was typed


def _data(card: RiderCard | NoCard, state: CardState) -> list[tuple[str, str]]:
    shown = "none" if isinstance(card, NoCard) else "doubt"
    # A card that is not there cannot be void either; that there is one now is news.
    if state.state == "changed" or (state.state != "counts" and isinstance(card, RiderCard)):
        shown = state.state
    return [
        ("state", shown),
        ("given", str(state.given)),
        ("made", str(_made_ms(state))),
        ("at", f"{state.at:%H:%M}"),
        ("left", f"{max(state.left_s, 0.0):.1f}"),
        ("most", str(words.MOST_S)),
        ("every", str(words.ASKS_EVERY_S)),
        ("wait", str(words.ANSWER_WITHIN_S)),
        ("doubt", str(words.DOUBT_AFTER_S)),
        ("word", words.shown_word(card.heading.day_word) if isinstance(card, RiderCard) else ""),
    ]


def _made_ms(state: CardState) -> int:
    return int(state.at.timestamp() * 1000)


def _card_parts(card: RiderCard, state: CardState) -> dict[str, object]:
    tongue = spoken(card.language)
    return {
        "t": words.card_words(card, state),
        "word": words.shown_word(card.heading.day_word),
        "early": state.early,
        "share": f"{100 * min(max(state.left_s, 0.0) / words.MOST_S, 1.0):.1f}",
        "spans": [span_words(span, tongue) for span in card.spans],
        "rows": [_row(row, tongue) for row in card.rows],
        "fans": _fans(card),
        "box": _box(),
        "key": [label(f"card.{code}", tongue) for code in ("black", "empty", "full")],
        "others": other_words(card),
        "why": all_said(card.respect_why, tongue),
        "remember": all_said(card.remember, tongue),
    }


def _none_parts(card: NoCard) -> dict[str, object]:
    tongue = spoken(card.language)
    return {
        "t": {"none": label("card.none", tongue)},
        "why": all_said(card.why, tongue),
        "steps": all_said(card.steps, tongue),
    }


def _row(row: CardRow, language: str) -> dict[str, object]:
    return {
        "number": str(row.number),
        "side": row.side,
        "side_word": label(f"side.{row.side}", language),
        "clamp": row.least_margin,
        "fans": [{} if fan is None else _cell(row, fan, language) for fan in row.fans],
    }


def _cell(row: CardRow, fan: Fan, language: str) -> dict[str, str]:
    return {
        "name": _name(row, fan),
        "word": label(f"card.word_{fan.word}", language),
        "quarters": label("phone.quarters", language, quarters=fan.quarters),
    }


def _fans(card: RiderCard) -> list[tuple[str, SafeString]]:
    """Return each fan of a card once, by its name; rows only point at them."""
    drawn = {
        _name(row, fan): _ours(drawing.fan(row.side, fan.quarters, inks=_INKS))
        for row in (*card.rows, *_KEY)
        for fan in row.fans
        if fan is not None
    }
    return sorted(drawn.items())


def _name(row: CardRow, fan: Fan) -> str:
    return f"fan-{row.side}-{fan.quarters}"


@cache
def _box() -> str:
    found = re.search(r'viewBox="([^"]+)"', drawing.fan("left", 0))
    return "" if found is None else found[1]


def _longest(card: RiderCard | NoCard) -> int:
    """Return how long the longest word beside a fan is: two short ones break, one long one does not."""
    if isinstance(card, NoCard):
        return 0
    said = {label(f"card.word_{fan.word}", card.language) for row in card.rows for fan in row.fans if fan}
    return max((len(each) for each in said), default=0)


def _mapping(value: object) -> dict[str, object]:
    return dict(value) if isinstance(value, dict) else {}
