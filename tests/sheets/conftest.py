"""Pages made by hand, and what a PDF says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from pypdf import PageObject, PdfReader

from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.paper import Briefing, CardRow, Fan, Heading, NoCard, RiderCard, RiderWord, Span
from leanladder.domain.sentence import Sentence

WORDS: tuple[RiderWord, ...] = ("upright", "not_yet", "easy", "easy", "usual")
MM = 72 / 25.4


@pytest.fixture
def heading() -> Heading:
    return Heading(
        school="Quillmoor Riding School",
        circuit="Long Meadow",
        date=date(2026, 4, 12),
        session="2",
        group="larks",
        at=time(9, 40),
        valid_from=time(9, 38),
        valid_until=time(9, 58),
        day_word="CLOVER",
        set_name="a",
        head="Oda Fenn",
        given_out=datetime(2026, 4, 12, 9, 31, tzinfo=UTC),
    )


def side_of(number: int) -> Side:
    return "left" if number % 3 == 2 else "right"


def made_rows(count: int, spans: int, respected: int) -> tuple[CardRow, ...]:
    return tuple(
        CardRow(
            number,
            side_of(number),
            number == respected,
            tuple(Fan((number + span) % 5, WORDS[(number + span) % 5]) for span in range(spans)),
        )
        for number in range(1, count + 1)
    )


@pytest.fixture
def card(heading: Heading) -> Callable[..., RiderCard]:
    """A maker of cards: so many turns and columns, anything else by name."""

    def make(turns: int = 8, columns: int = 3, **other: Any) -> RiderCard:
        plain = RiderCard(
            heading=heading,
            rider="Wren",
            machine="14",
            language="en",
            large_print=False,
            spans=tuple(Span("laps", lap, lap) for lap in range(1, columns + 1)),
            rows=made_rows(turns, columns, 2),
            left_out=(),
            respect=(2, "left"),
            respect_why=(Sentence("respect.seldom_left"), Sentence("respect.rights_first")),
            remember=(
                Sentence("remember.behind_coach", {"lap": 2}),
                Sentence("remember.no_weaving"),
                Sentence("remember.feels_wrong"),
            ),
        )
        return replace(plain, **other)

    return make


@pytest.fixture
def no_card(heading: Heading) -> NoCard:
    return NoCard(
        heading=heading,
        rider="Wren",
        machine="14",
        language="en",
        large_print=False,
        why=(Sentence("refusal.wet_or_damp"),),
        steps=(Sentence("wet.doubt_stays"), Sentence("wet.cards_void"), Sentence("wet.upright")),
    )


def made_circuit(turns: int) -> Circuit:
    """A flat ring, a little squashed, with so many turns evenly round it."""
    angle = np.linspace(0.0, 2 * np.pi, 400, endpoint=False)
    zeros, length = np.zeros(400), 2000.0
    step = length / turns
    corners = tuple(
        Corner(n + 1, f"T{n + 1}", side_of(n + 1), n * step, n * step + 20, n * step + 40, 40.0, 60.0, 300.0)
        for n in range(turns)
    )
    return Circuit(
        name="Long Meadow",
        length_m=length,
        net_turns=-1,
        s_m=angle / (2 * np.pi) * length,
        x_m=320 * np.cos(angle),
        y_m=-240 * np.sin(angle),
        curvature_per_m=zeros,
        elevation_m=zeros,
        bank_deg=zeros,
        shaded=zeros.astype(np.bool_),
        corners=corners,
    )


@pytest.fixture
def briefing(heading: Heading) -> Callable[..., Briefing]:
    """A maker of briefings: so many turns, anything else by name."""

    def make(turns: int = 8, **other: Any) -> Briefing:
        plain = Briefing(
            heading=heading,
            coaches=("Maren", "Tobit"),
            language="en",
            circuit=made_circuit(turns),
            span=Span("laps", 1, 1),
            rows=made_rows(turns, 1, 2),
            respect=(2, "left"),
            respect_why=(Sentence("respect.first_turn"),),
            order=(
                Sentence("field.first", {"machines": "1, 2"}),
                Sentence("field.then", {"after_s": 60, "machines": "3"}),
                Sentence("brief.not_out", {"machines": "9"}),
            ),
            rules=(
                Sentence("remember.behind_coach_all"),
                Sentence("remember.behind_coach", {"lap": 2}),
                Sentence("remember.no_weaving"),
                Sentence("brief.stop"),
                Sentence("remember.feels_wrong"),
                Sentence("brief.wet"),
                Sentence("brief.not_riding"),
            ),
        )
        return replace(plain, **other)

    return make


@pytest.fixture
def read() -> Callable[[bytes], Read]:
    return Read


class Read:
    """A PDF as a reader finds it: page sizes [mm, whole] and each page's text on one line.

    lines: pieces of text with their height over the page's foot [pt]; letters: their sizes in print [pt].
    """

    def __init__(self, made: bytes) -> None:
        pages = PdfReader(BytesIO(made)).pages
        self.sizes: Sequence[tuple[int, int]] = [
            (round(float(page.mediabox.width) / MM), round(float(page.mediabox.height) / MM))
            for page in pages
        ]
        self.texts: Sequence[str] = [" ".join(page.extract_text().split()) for page in pages]
        pieces = [piece for page in pages for piece in _pieces(page)]
        self.lines: Sequence[tuple[str, float]] = [(text, height) for text, height, _ in pieces]
        self.letters: Sequence[float] = [size for _, _, size in pieces]


def _pieces(page: PageObject) -> Sequence[tuple[str, float, float]]:
    found: list[tuple[str, float, float]] = []

    def note(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            height = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found.append((text.strip(), height, abs((tm[2] * cm[1] + tm[3] * cm[3]) * size)))

    page.extract_text(visitor_text=note)
    return found
