"""What a rider's card on a phone stands on: how far it counts, and who knows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time
from typing import Literal, Protocol

from leanladder.domain.paper import NoCard, RiderCard

# counts: valid; void: called in; changed: another card has taken its place; ended: its time is over.
State = Literal["counts", "void", "changed", "ended"]


@dataclass(frozen=True, slots=True)
class CardState:
    """How a card that was given out stands as the laptop sees it.

    given: which giving out it belongs to, rising from one to the next; left_s [s] until its time is over,
    none left where it is not positive; at: now, on the laptop's clock at the circuit; given_at, void_at:
    clock times there. why: the code of a reason, one of the wording's `phone.why_*` without that beginning;
    any other counts as `other`. new_word: the day word that stands in place of the card's own. early: it
    was given out so early that a phone has to open it once more.
    """

    given: int
    state: State
    left_s: float
    at: datetime
    given_at: time
    why: str | None = None
    new_word: str | None = None
    void_at: time | None = None
    void_by: str | None = None
    early: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """What a link leads to: the card that was given out last for it, and how that stands."""

    card: RiderCard | NoCard
    state: CardState


class Cards(Protocol):
    """What the pages of cards ask of who keeps them."""

    def found(self, token: str) -> Found | None:
        """Return what a link leads to; None where it is unknown, revoked, or leads to nothing yet."""

    def waits(self, token: str) -> bool:
        """Return whether a link counts though nothing was given out to its rider yet."""

    def seen(self, token: str, given: int) -> None:
        """Note that a phone holds this card now, and has asked for how it stands."""

    def read(self, token: str, given: int) -> None:
        """Note that the rider has read that this card is void."""
