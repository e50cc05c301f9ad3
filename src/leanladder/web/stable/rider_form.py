"""A rider's form; nothing about anyone's health is asked or kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from django import forms

from leanladder import wording
from leanladder.records import stable
from leanladder.records.models import Machine
from leanladder.web.stable import words
from leanladder.web.stable.form import LONGEST_NAME, FigureField, WordedForm, unchanged

Written = dict[str, Any]


class RiderForm(WordedForm):
    """A rider: name, level, machine; what their card needs behind that."""

    first = ("name", "level", "machine_of")
    more: ClassVar[dict[str, Sequence[str]]] = {
        "rider_more": ("usual_lean_deg", "hang_off", "card_language", "large_print")
    }

    name = forms.CharField(max_length=LONGEST_NAME)
    level = forms.ChoiceField()
    machine_of = forms.ChoiceField()
    usual_lean_deg = FigureField("deg")
    hang_off = forms.BooleanField(required=False)
    card_language = forms.ChoiceField()
    large_print = forms.BooleanField(required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401  # Django's signature
        super().__init__(*args, **kwargs)
        self.choose("level", words.level_choices(self.language))
        self.choose_first("machine_of", [_machine(each, self.language) for each in stable.machines()])
        self.choose("card_language", language_choices(self.initial.get("card_language", ""), self.language))
        if "card_language" not in self.initial:
            self.fields["card_language"].initial = self.language

    def written(self) -> Written:
        """Return the rider's entry of a day's file, without name and group, of clean data."""
        data = self.cleaned_data
        lean_deg = unchanged(self, "usual_lean_deg", data["usual_lean_deg"])
        return {
            "level": data["level"],
            "machine": data["machine_of"],
            **({} if lean_deg is None else {"usual_lean_deg": lean_deg}),
            **({"hang_off": True} if data["hang_off"] else {}),
            "language": data["card_language"],
            **({"large_print": True} if data["large_print"] else {}),
        }


def _machine(each: Machine, language: str) -> tuple[str, str]:
    """Return a machine to choose: a number alone says little, so its model stands behind it."""
    return each.name, f"{each.name}, {words.model_words(each.written['machine'], language)}"


def language_choices(kept: str, language: str) -> list[tuple[str, str]]:
    """Return the languages that there are texts in, and one that a day's file brought."""
    known = [(each, wording.text(f"people.language_of_{each}", language)) for each in wording.languages()]
    return known if not kept or kept in dict(known) else [*known, (kept, kept)]


def initial_of(name: str, written: Mapping[str, Any]) -> Written:
    """Return what a rider's form shows of their entry."""
    return {
        **written,
        "name": name,
        "machine_of": written.get("machine"),
        "card_language": written.get("language", "en"),
    }
