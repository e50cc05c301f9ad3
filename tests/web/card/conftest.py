"""A laptop made by hand: cards, a server that hands them out and goes away, and a phone to look at them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any

import django
import pytest
from django.conf import settings
from django.http import HttpResponse
from django.test import RequestFactory

from leanladder.domain.circuit import Side
from leanladder.domain.paper import CardRow, Fan, Heading, NoCard, RiderCard, RiderWord, Span
from leanladder.domain.sentence import Sentence
from leanladder.web.card import CardState, Found

TOKEN = "7-abcdefghijklmnopqrstuv"  # noqa: S105  # the key to nothing
LAPTOP_NOW = datetime(2026, 4, 12, 9, 41, tzinfo=UTC)
# As in the design's drawing: three laps, quarters and words.
RIGHT: tuple[tuple[int, RiderWord], ...] = ((1, "not_yet"), (2, "easy"), (3, "easy"))
EASY: tuple[tuple[int, RiderWord], ...] = ((2, "easy"), (3, "easy"), (3, "easy"))
LEFT: tuple[tuple[int, RiderWord], ...] = ((0, "upright"), (1, "not_yet"), (2, "easy"))
TURNS: tuple[tuple[int, Side, tuple[tuple[int, RiderWord], ...]], ...] = (
    (1, "right", RIGHT),
    (2, "left", LEFT),
    (3, "right", EASY),
    (5, "left", LEFT),
    (6, "right", EASY),
    (8, "right", EASY),
    (9, "left", LEFT),
    (10, "right", ((2, "easy"), (3, "easy"), (4, "usual"))),
)


@pytest.fixture(autouse=True)
def _asked() -> None:
    """Leave records alone: cards here are made by hand, and a browser's thread may not ask a database."""


@pytest.fixture(scope="session", autouse=True)
def _django() -> None:
    """Give Django settings where nobody has: views and requests need some."""
    if not settings.configured and "DJANGO_SETTINGS_MODULE" not in os.environ:
        settings.configure(ALLOWED_HOSTS=["*"], SECRET_KEY="tests", USE_TZ=True)  # noqa: S106
        django.setup()


@pytest.fixture
def card() -> Callable[..., RiderCard]:
    """A maker of cards as in the design's drawing, anything else by name."""

    def make(**other: Any) -> RiderCard:
        heading = Heading(
            school="Quillmoor Riding School",
            circuit="Long Meadow",
            date=date(2026, 4, 12),
            session="2",
            group="B",
            at=time(9, 38),
            valid_from=time(9, 38),
            valid_until=time(9, 58),
            day_word="heron",
        )
        plain = RiderCard(
            heading=heading,
            rider="Tomas",
            machine="14",
            language="en",
            large_print=False,
            spans=tuple(Span("laps", lap, lap) for lap in (1, 2, 3)),
            rows=tuple(
                CardRow(number, side, number == 5, tuple(Fan(*fan) for fan in fans))
                for number, side, fans in TURNS
            ),
            left_out=(4, 7, 11, 12),
            respect=(5, "left"),
            respect_why=(Sentence("respect.seldom_left"), Sentence("respect.rights_first")),
            remember=(
                Sentence("remember.behind_coach", {"lap": 2}),
                Sentence("remember.no_weaving"),
                Sentence("remember.feels_wrong"),
            ),
            left_out_as=9,
        )
        return replace(plain, **other)

    return make


@pytest.fixture
def no_card(card: Callable[..., RiderCard]) -> NoCard:
    """What stands in place of a card on a wet track."""
    return NoCard(
        heading=card().heading,
        rider="Tomas",
        machine="14",
        language="en",
        large_print=False,
        why=(Sentence("refusal.wet_or_damp"),),
        steps=(Sentence("wet.doubt_stays"), Sentence("wet.upright")),
    )


@pytest.fixture
def state() -> Callable[..., CardState]:
    """A maker of states: a card given out at 09:38, three minutes ago, anything else by name."""

    def make(**other: Any) -> CardState:
        plain = CardState(7, "counts", 17 * 60.0 + 5, LAPTOP_NOW, time(9, 38))
        return replace(plain, **other)

    return make


@dataclass
class Desk:
    """Who keeps the cards, in memory: what it was asked, and what it answers."""

    found_now: Found | None
    asked: list[tuple[str, int]] = field(default_factory=list)

    def found(self, token: str) -> Found | None:
        return self.found_now if token == TOKEN else None

    def waits(self, token: str) -> bool:
        return not token

    def seen(self, token: str, given: int) -> None:
        assert token == TOKEN
        self.asked.append(("seen", given))

    def read(self, token: str, given: int) -> None:
        assert token == TOKEN
        self.asked.append(("read", given))

    def change(self, **other: Any) -> None:
        """Change how the card stands."""
        assert self.found_now is not None
        self.found_now = replace(self.found_now, state=replace(self.found_now.state, **other))

    def void(self) -> None:
        """Call the card in, as rain does."""
        self.change(state="void", why="rain", new_word="otter", void_at=time(9, 52), void_by="R. Fell")


@pytest.fixture
def desk(card: Callable[..., RiderCard], state: Callable[..., CardState]) -> Desk:
    """A desk with one card that counts."""
    return Desk(Found(card(), state()))


@pytest.fixture(autouse=True)
def _no_guesses(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no test wait for another's guesses."""
    from leanladder.web.card import views  # Django is set up by now
    from leanladder.web.card.guesses import Guesses

    monkeypatch.setattr(views, "GUESSES", Guesses())


@dataclass
class Laptop:
    """A server on a port of its own; it notes each request, and answers nothing while it is away."""

    desk: Desk
    server: ThreadingHTTPServer
    requests: list[str] = field(default_factory=list)
    away: bool = False

    @property
    def address(self) -> str:
        """The address of the card; a mapped name, since a phone has no secure context either."""
        return f"http://paddock.test:{self.server.server_port}/c/{TOKEN}"

    def count(self, path: str) -> int:
        """How often a path was asked for."""
        return sum(path in each for each in self.requests)


def _answer(laptop: Laptop, method: str, path: str, body: bytes, headers: Any) -> HttpResponse:
    from leanladder.web.card import views  # Django is set up by now

    kind = headers.get("Content-Type", "text/plain")
    accept = headers.get("Accept", "")
    request = RequestFactory().generic(method, path, body, content_type=kind, headers={"accept": accept})
    where, _, rest = path.partition("?")[0].removeprefix("/c/").partition("/")
    view = {"": views.card, "still": views.still, "read": views.read}[rest]
    return view(request, where, cards=laptop.desk)


@pytest.fixture
def laptop(desk: Desk) -> Iterator[Laptop]:
    """A laptop that serves."""

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:
            made.requests.append(f"{self.command} {self.path}")
            if made.away or not self.path.startswith("/c/"):
                self.close_connection = True
                return
            length = int(self.headers.get("Content-Length", 0))
            response = _answer(made, self.command, self.path, self.rfile.read(length), self.headers)
            self.send_response(response.status_code)
            for name, value in response.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(response.content)))
            self.end_headers()
            self.wfile.write(response.content)

        do_POST = do_GET  # noqa: N815  # the base class looks for this name

        def log_message(self, *_: Any) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    made = Laptop(desk, server)
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    yield made
    server.shutdown()
    server.server_close()


@pytest.fixture
def phone(browser: Any) -> Iterator[Any]:
    """A phone's page, 390 by 844."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(5000)
    yield watch(context.new_page())
    context.close()


def watch(page: Any) -> Any:
    """Let a page know which of its requests are on their way."""
    page.on_its_way = on_its_way = set()

    def ends(request: Any) -> None:
        on_its_way.discard(request)

    def begins(request: Any) -> None:
        on_its_way.add(request)

    page.on("request", begins)
    page.on("requestfinished", ends)
    page.on("requestfailed", ends)
    return page


@pytest.fixture
def watched() -> Callable[[Any], Any]:
    """What lets a page know which of its requests are on their way."""
    return watch


@pytest.fixture
def token() -> str:
    """The key of the one link there is."""
    return TOKEN
