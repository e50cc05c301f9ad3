"""Riders' cards as records keep them: what a link leads to, and that it was seen and read."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from leanladder.records import given as kept
from leanladder.records import links
from leanladder.records.models import Given
from leanladder.web.card.state import CardState, Found, State
from leanladder.web.handing import LONGEST_MIN, handed, now

CLOCK_SLACK = timedelta(minutes=1)


class Book:
    """The cards on record."""

    def found(self, token: str) -> Found | None:
        """Return the card that was given out last to a link's rider; None for a link that does not count."""
        link = links.link_of(token)
        last = None if link is None else kept.last_given_to(link.day_id, link.rider_name)
        if link is None or last is None:
            return None
        what = handed(last.pk)
        card = next((each for each in what.cards if each.rider == link.rider_name), None)
        return None if card is None else Found(card, _state(last, what.circuit.zone))

    def waits(self, token: str) -> bool:
        """Return whether a link counts though nothing was given out to its rider yet."""
        link = links.link_of(token)
        return link is not None and kept.last_given_to(link.day_id, link.rider_name) is None

    def seen(self, token: str, given: int) -> None:
        """Note that a phone holds a card now."""
        link = links.link_of(token)
        if link is not None:
            kept.record_seen(link, given)

    def read(self, token: str, given: int) -> None:
        """Note that a rider has read that a card is void."""
        link = links.link_of(token)
        if link is not None:
            kept.void_read(link, given)


def _state(given: Given, zone: str | None) -> CardState:
    local = ZoneInfo(zone or "UTC")
    at, until = now(), given.at + timedelta(minutes=given.valid_minutes)
    left_s = min((until - at).total_seconds(), LONGEST_MIN * 60.0)
    if given.at - at > CLOCK_SLACK:  # somebody has set the laptop's clock back: how old it is nobody knows
        left_s = 0.0
    void: datetime | None = given.void_at
    state: State = "void" if void is not None else "counts" if left_s > 0.0 else "ended"
    return CardState(
        given=given.pk,
        state=state,
        left_s=left_s,
        at=at.astimezone(local),
        given_at=given.at.astimezone(local).time(),
        why=given.void_why or None,
        new_word=given.void_word or None,
        void_at=None if void is None else void.astimezone(local).time(),
        void_by=given.void_by_name or None,
        early=until - at > timedelta(minutes=LONGEST_MIN),
    )
