"""Forms of people: a first head instructor, signing in, coaches and their own settings."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib.auth import authenticate, password_validation
from django.core.exceptions import ValidationError

from leanladder import wording
from leanladder.records.models import Person

LONGEST_NAME = 60
UNITS = ("metric", "imperial")
# A phone would begin a name with a capital, which is another name then.
_SIGNS_IN = {"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}


def said(code: str, language: str) -> str:
    """Return a label or fault in the reader's language."""
    return wording.text(code, language)


class _Form(forms.Form):
    """A form whose labels come from wording: the code is the group and the field's name."""

    group = "people"

    def __init__(self, *args: Any, language: str = "en", **kwargs: Any) -> None:  # noqa: ANN401
        super().__init__(*args, **kwargs)
        self.language = language
        for name, field in self.fields.items():
            field.label = said(f"{self.group}.{name}", language)
            field.error_messages["required"] = said("people.needed", language)

    def offer(self, name: str, choices: Iterable[str]) -> None:
        """Give a choice its choices, worded."""
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(each, said(f"people.{name}_{each}", self.language)) for each in choices]


class _NewPassword(_Form):
    """A password that is to be kept from now on."""

    password = forms.CharField(
        max_length=200, widget=forms.PasswordInput({"autocomplete": "new-password"}), strip=False
    )

    @property
    def whose(self) -> Person:
        """Who is to have it: it must not be like their name."""
        return Person(username=self.cleaned_data.get("username", ""))

    def clean_password(self) -> str:
        """Return the password; refuse one that is easily guessed."""
        password = str(self.cleaned_data["password"])
        try:
            password_validation.validate_password(password, self.whose)
        except ValidationError:
            raise ValidationError(said("people.password_weak", self.language)) from None
        return password


class FirstForm(_NewPassword):
    """The first head instructor of this laptop."""

    username = forms.CharField(max_length=LONGEST_NAME, widget=forms.TextInput(_SIGNS_IN))
    field_order: Iterable[str] | None = ("username", "password")

    def clean_username(self) -> str:
        """Return the name; refuse one that someone has."""
        name = str(self.cleaned_data["username"])
        if Person.objects.filter(username__iexact=name).exists():
            raise ValidationError(said("people.name_taken", self.language))
        return name


class CoachForm(FirstForm):
    """A coach or another head instructor, made by the head instructor."""

    coach_name = forms.CharField(max_length=LONGEST_NAME, required=False)
    role = forms.ChoiceField(choices=())
    field_order = ("username", "coach_name", "role", "password")

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401
        super().__init__(*args, **kwargs)
        self.offer("role", ("coach", "head"))


class SignInForm(_Form):
    """A name and its password."""

    username = forms.CharField(max_length=LONGEST_NAME, widget=forms.TextInput(_SIGNS_IN))
    password = forms.CharField(
        max_length=200, widget=forms.PasswordInput({"autocomplete": "current-password"}), strip=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401
        super().__init__(*args, **kwargs)
        # what a new one has to be is of no use here
        self.fields["password"].label = said("people.password_own", self.language)

    def person(self) -> Person | None:
        """Return who this is, None where name and password do not go together."""
        found = authenticate(username=self.cleaned_data["username"], password=self.cleaned_data["password"])
        return found if isinstance(found, Person) else None


class PasswordForm(_NewPassword):
    """Someone's own new password, for who knows the old one."""

    password_own = forms.CharField(
        max_length=200, widget=forms.PasswordInput({"autocomplete": "current-password"}), strip=False
    )
    field_order = ("password_own", "password")

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:  # noqa: ANN401
        super().__init__(*args, **kwargs)
        self.person = person
        self.fields["password_own"].label = said("people.password_now", self.language)

    @property
    def whose(self) -> Person:
        """Who asks."""
        return self.person

    def clean_password_own(self) -> str:
        """Return the old one; refuse any other."""
        password = str(self.cleaned_data["password_own"])
        if not self.person.check_password(password):
            raise ValidationError(said("people.password_not", self.language))
        return password


class OwnForm(_Form):
    """Someone's own language and units."""

    language_of = forms.ChoiceField(choices=())
    units = forms.ChoiceField(choices=())

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401
        super().__init__(*args, **kwargs)
        for name, choices in (("language_of", wording.languages()), ("units", UNITS)):
            self.offer(name, choices)
