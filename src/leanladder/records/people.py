"""People: added, changed and removed with a note of it in the history."""

from __future__ import annotations

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from leanladder.domain.errors import Fault, InputError
from leanladder.records.checking import by_one_only
from leanladder.records.models import Change, Person

WHAT = "person"


def any_people() -> bool:
    """Return whether anyone may sign in yet."""
    return Person.objects.exists()


@by_one_only()
def add_head(name: str, password: str) -> Person:
    """Add the first head instructor; raises InputError where somebody was first."""
    with transaction.atomic():
        if any_people():
            raise InputError(
                "this laptop has a head instructor already.", Fault(remedy="Sign in, or ask them.")
            )
        return add_person(name, password, Person.Role.HEAD, "", by=None)


@by_one_only()
def add_person(name: str, password: str, role: str, coach_name: str, *, by: Person | None) -> Person:
    """Add someone who may sign in; raises InputError for a name that someone has."""
    with transaction.atomic():
        if Person.objects.filter(username__iexact=name).exists():
            raise InputError(f"there is someone called {name!r} already.", Fault(field="name", value=name))
        person = Person.objects.create_user(name, password=password, role=role, coach_name=coach_name or name)
        _note(person, by, None, _told(person))
    return person


def remove_person(person: Person, *, by: Person) -> None:
    """Take an account away; what they did stays in the history by name."""
    with transaction.atomic():
        _note(person, by, _told(person), None)
        person.delete()


def person_called(name: str) -> Person:
    """Return someone by name, however it is cased; raises InputError."""
    found = Person.objects.filter(username__iexact=name).first()
    if found is None:
        known = ", ".join(Person.objects.order_by("username").values_list("username", flat=True))
        fault = Fault(field="name", value=name, allowed=known or "nobody yet: run leanladder serve first")
        raise InputError("nobody of this name signs in here.", fault)
    return found


def change_password(person: Person, password: str, *, by: Person | None) -> None:
    """Change the password of someone: who signed in with the old one has to anew. Raises InputError.

    by: who changes it; None on the laptop itself. The history tells that it was changed, and nothing of it.
    """
    try:
        validate_password(password, person)
    except ValidationError as error:
        fault = Fault(field="password", allowed=" ".join(error.messages))
        raise InputError("this password is easily guessed.", fault) from None
    with transaction.atomic():
        person.set_password(password)
        person.save(update_fields=["password"])
        _note(person, by, _told(person), _told(person))


def change_own(person: Person, language: str, units: str) -> None:
    """Change the language and units that someone reads in."""
    person.language, person.units = language, units
    person.save(update_fields=["language", "units"])


def _told(person: Person) -> dict[str, str]:
    return {"name": person.username, "role": person.role, "coach_name": person.coach_name}


def _note(person: Person, by: Person | None, was: dict[str, str] | None, now: dict[str, str] | None) -> None:
    Change.objects.create(
        what=WHAT,
        key=str(person.pk),
        name=person.username,
        at=timezone.now(),
        who=by,
        who_name="" if by is None else str(by),
        was=was,
        now=now,
        reason="",
    )
