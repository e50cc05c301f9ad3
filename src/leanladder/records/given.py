"""What is handed out, what makes it void, and who has confirmed that."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from django.db import IntegrityError, transaction
from django.db.models import Q, QuerySet

from leanladder.domain.errors import Fault, InputError
from leanladder.records.day_content import day_of
from leanladder.records.history import reason_of, utc_now, who_name
from leanladder.records.links import link_for
from leanladder.records.models import Day, Given, Link, Person, Rained, Seen
from leanladder.records.models.people import LONGEST_NAME

REPLACED = "replaced"
_SEEN_ANEW = timedelta(seconds=20)


class Unconfirmed(NamedTuple):
    """A rider who has not confirmed a card, or that it is void: on which machine, of which given.

    last_at: when their phone last asked; opened: whether a card was opened at all.
    """

    rider: str
    machine: str
    given_pk: int
    last_at: datetime | None
    opened: bool


@transaction.atomic
def give_out(  # noqa: PLR0913  # what is given out, each by name
    day_pk: int, run_name: str, content: str, *, word: str, valid_minutes: float, by: Person | None,
    riders: Sequence[tuple[str, str]] = (), digest: str = "", reason: str = "", after: Given | None = None,
) -> Given:  # fmt: skip
    """Keep a run's ladders and cards as handed out now; what counted of that run is void from then on.

    content is what `stored` writes; riders, (rider, machine) by name; digest, the day's. word: a day word
    that the day has not used. after: what it came after, else what it replaces. Raises InputError.
    """
    day = day_of(day_pk, lock=True)
    word = _fresh(day, word)
    if valid_minutes <= 0.0:
        raise InputError(
            "this card would never hold.", Fault(field="valid_minutes", value=f"{valid_minutes:g}")
        )
    now, before = utc_now(), current(day_pk, run_name)
    _void(Given.objects.filter(day=day, run_name=run_name, void_at=None), now, REPLACED, by, "")
    try:
        with transaction.atomic():
            return Given.objects.create(
                day=day, run_name=run_name, at=now, by=by, by_name=who_name(by), word=word, content=content,
                valid_minutes=valid_minutes, riders=[list(each) for each in riders], digest=digest,
                reason=reason_of(reason), after=after or before,
            )  # fmt: skip
    except IntegrityError:
        fault = Fault(field="session", value=run_name, remedy="Look at what was given out, then do it again.")
        raise InputError("someone else gave out the same at this moment.", fault) from None


@transaction.atomic
def void(
    day_pk: int, why: str, by: Person | None, *, run_name: str | None = None, word: str = ""
) -> list[Given]:
    """Make everything that counts of a day void at once, or of one run, and return it; why must be said.

    word: the day word for the pit board from now on, one that the day has not used; empty where the old
    one is just taken off. With a word, what was void already and nothing has taken the place of is void
    anew: riders who still hold it learn of the new word, and confirm that. A word for the whole day is kept
    as rain, whether anything counted or not. Raises InputError.
    """
    day = day_of(day_pk, lock=True)
    why = reason_of(why, needed=True)
    word = _fresh(day, word) if word else ""
    some = Given.objects.filter(day=day)
    some = some.exclude(void_why=REPLACED) if word else some.filter(void_at=None)
    some = some if run_name is None else some.filter(run_name=run_name)
    keys, now = [each.pk for each in _last_of_runs(some)], utc_now()
    _void(Given.objects.filter(pk__in=keys), now, why, by, word)
    if word and run_name is None:
        Rained.objects.create(day=day, at=now, by_name=who_name(by), why=why, word=word)
    return list(Given.objects.filter(pk__in=keys).defer("content"))


def _last_of_runs(some: QuerySet[Given]) -> Iterable[Given]:
    """What was given out last of each run."""
    return {each.run_name: each for each in some.defer("content")}.values()


def current(day_pk: int, run_name: str) -> Given | None:
    """Return what counts of a run, None where nothing was given out or it is void."""
    return Given.objects.filter(day=day_pk, run_name=run_name, void_at=None).first()


def given(pk: int) -> Given:
    """Return what was given out by its key; raises InputError where there is none."""
    found = Given.objects.filter(pk=pk).first()
    if found is None:
        raise InputError("this was not given out.", Fault(field="given", value=str(pk)))
    return found


def given_of(day_pk: int) -> list[Given]:
    """Return all that was given out of a day, in order, void or not; contents are fetched when looked at."""
    return list(Given.objects.filter(day=day_pk).defer("content"))


def last_of(given: Sequence[Given], run_name: str) -> Given | None:
    """Return what was given out last of a run, void or not, among all of a day in order; None for nothing."""
    return next((each for each in reversed(given) if each.run_name == run_name), None)


def last_given_to(day_pk: int, rider_name: str) -> Given | None:
    """Return what was given out last to a rider on a day, void or not; its content as with `given_of`."""
    mine = [each for each in given_of(day_pk) if _is_theirs(each, rider_name)]
    return mine[-1] if mine else None


def _is_theirs(given: Given, rider_name: str) -> bool:
    return any(rider == rider_name for rider, _ in given.riders)


def words_used(day_pk: int) -> set[str]:
    """Return the day words that a day has used, on cards or on the pit board."""
    pairs = Given.objects.filter(day=day_pk).values_list("word", "void_word")
    rained = Rained.objects.filter(day=day_pk).values_list("word", flat=True)
    return {word for pair in pairs for word in pair if word} | set(rained)


def rained(day_pk: int) -> Rained | None:
    """Return the rain that was called in last on a day, None where none was."""
    return Rained.objects.filter(day=day_pk).first()


def record_seen(link: Link, given_pk: int) -> Seen:
    """Keep that a link has just shown what was given, or asked whether it still counts.

    What was kept some seconds ago is not kept anew: phones ask often, and a write holds up others.
    """
    now = utc_now()
    found = Seen.objects.filter(link=link, given=given_pk).first()
    if found is not None and found.last_at is not None and now - found.last_at < _SEEN_ANEW:
        return found
    with transaction.atomic():
        return _seen(link, given_pk, now)


def _seen(link: Link, given_pk: int, now: datetime) -> Seen:
    about = {"first_at": now, "last_at": now}
    seen, _ = Seen.objects.get_or_create(link=link, given_id=given_pk, defaults=about)
    seen.first_at, seen.last_at = seen.first_at or now, now
    seen.save(update_fields=["first_at", "last_at"])
    return seen


@transaction.atomic
def void_read(link: Link, given_pk: int) -> None:
    """Keep that the rider has confirmed on their phone that it is void.

    Nothing for one that counts, nor for one that was not given to them.
    """
    found = Given.objects.filter(pk=given_pk, day=link.day_id).defer("content").first()
    if found is None or found.void_at is None or not _is_theirs(found, link.rider_name):
        return
    _seen(link, given_pk, utc_now())
    unread = Q(void_read_at=None) | Q(void_read_at__lt=found.void_at)
    Seen.objects.filter(unread, link=link, given=given_pk).update(void_read_at=utc_now())


@transaction.atomic
def told(given: Given, rider_name: str, by: Person | None) -> None:
    """Keep that somebody has told a rider in person how it is with it now; raises InputError."""
    if not _is_theirs(given, rider_name):
        raise InputError("this was not given to that rider.", Fault(field="rider", value=rider_name))
    link = link_for(given.day_id, rider_name)
    about = {"told_by": who_name(by), "told_at": utc_now()}
    Seen.objects.update_or_create(link=link, given=given, defaults=about)


def unconfirmed(given: Given | int | Iterable[Given]) -> list[Unconfirmed]:
    """Return who has not confirmed something given out, those seen longest ago first, then the others.

    What is void is confirmed on the phone or in person since then; what counts, by being opened. given:
    one, several, or a day's key: then what was made void last that day, without what was replaced. A rider
    of several stands once; one who confirmed any of them has confirmed.
    """
    given = [given] if isinstance(given, Given) else given
    some = _last_void(given) if isinstance(given, int) else list(given)
    seen: dict[str, list[Seen]] = {}
    for each in Seen.objects.filter(given__in=[one.pk for one in some]).select_related("link"):
        seen.setdefault(each.link.rider_name, []).append(each)
    void_at = {one.pk: one.void_at for one in some}
    rows: dict[str, Unconfirmed] = {}
    for one in some:
        for rider, machine in one.riders:
            theirs = seen.get(rider, [])
            if not any(_confirmed(each, void_at[each.given_id]) for each in theirs):
                last_at = max((each.last_at for each in theirs if each.last_at), default=None)
                rows[rider] = Unconfirmed(rider, machine, one.pk, last_at, last_at is not None)
    return sorted(rows.values(), key=lambda row: (row.last_at is None, row.last_at or utc_now()))


def _confirmed(seen: Seen, void_at: datetime | None) -> bool:
    if void_at is None:
        return seen.last_at is not None or seen.told_at is not None
    return any(at is not None and at >= void_at for at in (seen.void_read_at, seen.told_at))


def _last_void(day_pk: int) -> list[Given]:
    some = Given.objects.filter(day=day_pk, void_at__isnull=False).exclude(void_why=REPLACED).defer("content")
    last = some.order_by("-void_at").first()
    return [] if last is None else list(some.filter(void_at=last.void_at))


def _void(some: QuerySet[Given], now: datetime, why: str, by: Person | None, word: str) -> None:
    some.update(void_at=now, void_why=why, void_by_name=who_name(by), void_word=word)


def _fresh(day: Day, word: str) -> str:
    word = word.strip()
    if not word or len(word) > LONGEST_NAME:
        allowed = f"1 to {LONGEST_NAME} letters"
        raise InputError(
            "this is no day word.", Fault(field="word", value=word[:LONGEST_NAME], allowed=allowed)
        )
    if word in words_used(day.pk):
        fault = Fault(field="word", value=word, remedy="Choose another one.")
        raise InputError("this day has used this word already.", fault)
    return word
