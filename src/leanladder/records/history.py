"""The history: every save and removal leaves what was and what is, who, when and why."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import Any

from django.db.models import Model

from leanladder.domain.errors import Fault, InputError
from leanladder.records.models import Change, Person
from leanladder.records.models.given import LONGEST_REASON

Content = Mapping[str, Any]


def utc_now() -> datetime:
    """Return the time by this machine's clock, UTC."""
    return datetime.now(UTC)


def who_name(who: Person | None) -> str:
    """Return the name that stays where a person is removed; empty for nobody."""
    return "" if who is None else str(who)


def reason_of(text: str, *, needed: bool = False) -> str:
    """Return a reason without spaces around it and without what cannot be printed.

    Raises InputError for one too long, or missing if needed.
    """
    reason = "".join(letter for letter in text if letter.isprintable()).strip()
    if needed and not reason:
        raise InputError("there is no reason.", Fault(field="reason", remedy="Say why, in a few words."))
    if len(reason) > LONGEST_REASON:
        allowed = f"{LONGEST_REASON} characters at most"
        raise InputError("this is too long.", Fault(field="reason", allowed=allowed))
    return reason


def content_of(thing: Model) -> dict[str, Any]:
    """Return a record's own fields as JSON values; bytes by their digest, others' records by name."""
    found: dict[str, Any] = {}
    for field in thing._meta.concrete_fields:  # noqa: SLF001  # Django's documented way to a model's fields
        if field.primary_key:
            continue
        value = getattr(thing, field.name)
        if isinstance(value, bytes | memoryview):
            value = {"sha256": hashlib.sha256(value).hexdigest(), "bytes": len(bytes(value))}
        elif isinstance(value, Model):
            value = str(value)
        elif isinstance(value, date):  # a time of day too
            value = value.isoformat()
        found[field.name] = value
    return found


def note(
    thing: Model, *, was: Content | None, who: Person | None, reason: str = "", now: Content | None = None
) -> None:
    """Keep that a record was saved; was is None for a new one. Nothing is kept where nothing changed.

    now is what it holds, where that is more than its own fields.
    """
    _keep(thing, was, content_of(thing) if now is None else now, who, reason)


def note_removal(thing: Model, *, who: Person | None, reason: str = "", was: Content | None = None) -> None:
    """Keep that a record is about to be removed; call it before, while it has a key."""
    _keep(thing, content_of(thing) if was is None else was, None, who, reason)


def changes_of(what: str, key: object) -> list[Change]:
    """Return what changed in a record, by its kind ("machine", "rider", ...) and key, the latest first."""
    return list(Change.objects.filter(what=what, key=str(key)))


def latest_changes(most: int) -> list[Change]:
    """Return the latest changes of all, the latest first."""
    return list(Change.objects.all()[:most])


def _keep(thing: Model, was: Content | None, now: Content | None, who: Person | None, reason: str) -> None:
    if was == now:
        return
    Change.objects.create(
        what=kind_of(thing),
        key=str(thing.pk),
        name=str(thing)[:120],
        at=utc_now(),
        who=who,
        who_name=who_name(who),
        was=was,
        now=now,
        reason=reason_of(reason),
    )


def kind_of(thing: Model) -> str:
    """Return what a record is called in the history, such as "own_file"."""
    letters = type(thing).__name__
    return "".join(f"_{each.lower()}" if each.isupper() else each for each in letters).removeprefix("_")


def latest() -> str:
    """Return the number and time of the latest change: while it stays, nothing on record has changed."""
    found = Change.objects.order_by("-pk").values_list("pk", "at").first()
    return "" if found is None else f"{found[0]} {found[1].isoformat()}"
