"""Forms of circuits: a new one, what is known of it, its notes as a file."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any, ClassVar
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError

from leanladder.web.circuits.lines import LARGEST_BYTES
from leanladder.web.stable.form import LONGEST_NAME, FigureField, WordedForm

_LOCAL = Path("/etc/localtime")
_ZONES = "zoneinfo/"


def own_zone() -> str:
    """Return this laptop's time zone by its name in the tz database; empty where it does not say."""
    named = os.environ.get("TZ", "")
    linked = str(_LOCAL.resolve()).rpartition(_ZONES)[2] if _LOCAL.is_symlink() else ""
    # A laptop that keeps universal time says nothing of where it stands.
    places = (each for each in (named, linked) if "/" in each and not each.startswith("Etc/"))
    return next((each for each in places if each in available_timezones()), "")


class NewForm(WordedForm):
    """A circuit by its line's file; all else may wait."""

    group = "circuits"
    first = ("line", "name", "closed_course")
    more: ClassVar[dict[str, Sequence[str]]] = {"more_new": ("reverse", "zone", "notes")}

    line = forms.FileField(widget=forms.FileInput(attrs={"accept": ".gpx,.geojson,.json,.csv,.txt"}))
    closed_course = forms.BooleanField(required=False)
    name = forms.CharField(max_length=LONGEST_NAME, required=False)
    reverse = forms.BooleanField(required=False)
    zone = forms.CharField(max_length=LONGEST_NAME, required=False)
    notes = forms.FileField(required=False, widget=forms.FileInput(attrs={"accept": ".toml"}))

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401  # Django's signature
        super().__init__(*args, **kwargs)
        self.fields["zone"].initial = own_zone()
        for name in ("line", "notes"):
            self.fields[name].error_messages["empty"] = self.said("empty_file")

    def clean_line(self) -> Any:  # noqa: ANN401  # Django's uploaded file
        """Return the file; refuse one that is too large before it is read."""
        return self._small("line")

    def clean_notes(self) -> Any:  # noqa: ANN401  # Django's uploaded file
        """Return the notes' file, None without one; refuse one that is too large."""
        return self._small("notes")

    def _small(self, name: str) -> Any:  # noqa: ANN401  # Django's uploaded file
        found = self.cleaned_data.get(name)
        if found is not None and found.size > LARGEST_BYTES:
            raise ValidationError(self.said("too_large", megabytes=LARGEST_BYTES // 1024 // 1024))
        return found


class FactsForm(WordedForm):
    """What the school knows of a circuit, apart from its turns and stretches."""

    group = "circuits"
    first = ("name", "pit_exit_m", "pit_entry_m", "start_at_m", "zone", "hard_upright_allowed", "source")

    name = forms.CharField(max_length=LONGEST_NAME)
    pit_exit_m = FigureField("m")
    pit_entry_m = FigureField("m")
    start_at_m = FigureField("m")
    zone = forms.CharField(max_length=LONGEST_NAME, required=False)
    hard_upright_allowed = forms.BooleanField(required=False)
    source = forms.CharField(max_length=300, required=False)


class NotesForm(WordedForm):
    """The notes as a file, for those who like files."""

    group = "circuits"

    text = forms.CharField(
        required=False,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 18, "spellcheck": "false", "class": "file"}),
    )
