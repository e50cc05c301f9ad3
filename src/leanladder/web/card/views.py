"""What a rider's link answers: the card, how it stands, and that its void was read. No account, no cookie."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from leanladder.domain.paper import RiderCard
from leanladder.sheets.said import clock
from leanladder.web.card.guesses import Guesses
from leanladder.web.card.page import CardPage, card_page, early_page, gone_page
from leanladder.web.card.state import Cards, Found
from leanladder.web.card.words import MOST_S, shown_word, void_words
from leanladder.web.typed import whole_number

GUESSES = Guesses()


@require_safe
def card(request: HttpRequest, token: str, cards: Cards) -> HttpResponse:
    """Return a rider's card as one page; 404 where the link does not count.

    A browser may keep it for as long as a card counts at most, so that it opens without the network; its
    script knows how old such a page is. Opening it is no sign that a phone holds it: only its asking is.
    """
    if _blocked(request):
        return _shown(gone_page(), HTTPStatus.NOT_FOUND, "no-store")
    found = cards.found(token)
    if found is None and cards.waits(token):
        return _shown(early_page(), HTTPStatus.OK, "no-store")
    if found is None:
        GUESSES.missed(_asker(request))
        return _shown(gone_page(), HTTPStatus.NOT_FOUND, "no-store")
    keep = f"private, max-age={MOST_S}" if found.state.state == "counts" else "no-store"
    return _shown(card_page(found.card, found.state, _address(request)), HTTPStatus.OK, keep)


@require_safe
def still(request: HttpRequest, token: str, cards: Cards) -> HttpResponse:
    """Return how the card that a phone holds stands: `given` names it, and one given out since is news."""
    found = _found(request, token, cards)
    if found is None:
        return _nothing(request)
    held = whole_number(request.GET.get("given"))
    if held is None:
        return _answer({"state": "unknown"}, HTTPStatus.BAD_REQUEST)
    if held == found.state.given:
        cards.seen(token, held)
    return _answer(_standing(found, held), HTTPStatus.OK)


# The link itself is the key, and it stands in the address: there is no cookie that another site could use.
@csrf_exempt
@require_POST
def read(request: HttpRequest, token: str, cards: Cards) -> HttpResponse:
    """Note that a rider has read that the card `given` is void, and its new word; lead back to the page."""
    found = _found(request, token, cards)
    if found is None:
        return _nothing(request)
    held = whole_number(request.POST.get("given"))
    if held is None:
        return _answer({"state": "unknown"}, HTTPStatus.BAD_REQUEST)
    cards.read(token, _read_of(found, held, request.POST.get("word", "")))
    if "text/html" in request.headers.get("Accept", ""):
        # An address of its own: at the link's the browser may still keep the page from before it was void.
        return _guarded(HttpResponseRedirect(f"{_address(request)}?read={held}"), "no-store")
    return _answer({"state": "read"}, HTTPStatus.OK)


def _read_of(found: Found, held: int, word: str) -> int:
    """Return which card's void was read: the last one's, where who holds an earlier one names its word."""
    new = shown_word(found.state.new_word or "")
    return found.state.given if found.state.state == "void" and word and word == new else held


def _standing(found: Found, held: int) -> dict[str, object]:
    state = found.state
    own = found.card.heading.day_word if isinstance(found.card, RiderCard) else ""
    # Who still holds an earlier card hears of the one after it; that it is void by now comes before all.
    stands = state.state if held == state.given or state.state == "void" else "changed"
    return {
        "state": stands,
        "given": held,
        "word": shown_word((state.new_word or "") if state.state == "void" else own),
        "left_s": max(round(state.left_s, 1), 0.0),
        "at": clock(state.at.time()),
        **void_words(found.card, state),
    }


def _found(request: HttpRequest, token: str, cards: Cards) -> Found | None:
    """Return what a link leads to, and count it where it leads nowhere."""
    found = None if _blocked(request) else cards.found(token)
    if found is None and not _blocked(request):
        GUESSES.missed(_asker(request))
    return found


def _blocked(request: HttpRequest) -> bool:
    """Return whether who asks has tried out links: then no link is looked up, and nothing is learnt."""
    return GUESSES.blocked(_asker(request))


def _asker(request: HttpRequest) -> str:
    return str(request.META.get("REMOTE_ADDR", ""))


def _nothing(request: HttpRequest) -> HttpResponse:
    """Return what a phone hears of a link that leads nowhere; one that has to wait has not lost its card."""
    if _blocked(request):
        return _answer({"state": "wait"}, HTTPStatus.TOO_MANY_REQUESTS)
    return _answer({"state": "gone"}, HTTPStatus.NOT_FOUND)


def _address(request: HttpRequest) -> str:
    return request.path.removesuffix("/read")


def _answer(body: dict[str, object], status: HTTPStatus) -> HttpResponse:
    return _guarded(JsonResponse(body, status=status), "no-store")


def _shown(page: CardPage, status: HTTPStatus, keep: str) -> HttpResponse:
    response = _guarded(HttpResponse(page.html, status=status), keep)
    response["Content-Security-Policy"] = page.csp
    return response


def _guarded(response: HttpResponse, keep: str) -> HttpResponse:
    response["Cache-Control"] = keep
    response["X-Content-Type-Options"] = "nosniff"
    # The address holds the link's key: no other page may learn it.
    response["Referrer-Policy"] = "no-referrer"
    response["X-Robots-Tag"] = "noindex"
    return response
