"""Riders' own links to their cards: a token that nobody can guess, and that can be taken back."""

from __future__ import annotations

import base64
import secrets

from django.db import transaction
from django.utils.crypto import constant_time_compare, salted_hmac

from leanladder.records.day_content import day_of
from leanladder.records.history import note, utc_now
from leanladder.records.models import Link, Person

# 22 letters of 64 kinds are 132 bits.
_LETTERS = 22
_SALT = "leanladder.records.links"
# A key has no more figures, and a number of more is none that a database knows.
_MOST_FIGURES = 18
_NOBODY = Link(pk=0, nonce="nobody")


def token(link: Link) -> str:
    """Return what a link's address ends in: its key, a hyphen, and 22 letters that prove it."""
    return f"{link.pk}-{_proof(link)}"


def link_of(token: str) -> Link | None:
    """Return the link of a token; None for one that never was, was taken back or does not prove itself.

    It takes as long for a key that there is as for one that there is not.
    """
    key, _, proof = token.partition("-")
    known = key.isascii() and key.isdecimal() and len(key) <= _MOST_FIGURES
    link = Link.objects.filter(pk=int(key)).select_related("day").first() if known else None
    proven = constant_time_compare(proof, _proof(link or _NOBODY))
    return link if link is not None and proven and link.revoked_at is None else None


@transaction.atomic
def link_for(day_pk: int, rider_name: str) -> Link:
    """Return the link of a rider of a day that counts, made where there is none; raises InputError."""
    day = day_of(day_pk, lock=True)
    found = Link.objects.filter(day=day, rider_name=rider_name, revoked_at=None).first()
    if found is not None:
        return found
    return Link.objects.create(
        day=day, rider_name=rider_name, nonce=secrets.token_urlsafe(16), made_at=utc_now()
    )


def links(day_pk: int) -> list[Link]:
    """Return a day's links that count."""
    return list(Link.objects.filter(day=day_pk, revoked_at=None))


@transaction.atomic
def revoke(link: Link, who: Person | None = None, *, reason: str = "") -> None:
    """Take a link back, for good; `link_for` then makes another one."""
    if Link.objects.filter(pk=link.pk, revoked_at=None).update(revoked_at=utc_now()):
        link.refresh_from_db()
        # Neither nonce nor token stands in the history.
        was = {"rider_name": link.rider_name, "revoked_at": None}
        now = {**was, "revoked_at": link.revoked_at and link.revoked_at.isoformat()}
        note(link, was=was, now=now, who=who, reason=reason)


def revoke_of(rider_name: str, who: Person | None, *, reason: str = "") -> None:
    """Take back every link of a rider by name: whoever has that name next must not be on their phone."""
    for link in Link.objects.filter(rider_name=rider_name, revoked_at=None):
        revoke(link, who, reason=reason)


def _proof(link: Link) -> str:
    made = salted_hmac(_SALT, f"{link.pk}:{link.nonce}", algorithm="sha256").digest()
    return base64.urlsafe_b64encode(made).decode("ascii")[:_LETTERS]
