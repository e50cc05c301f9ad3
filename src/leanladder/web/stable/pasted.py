"""A list of riders pasted in one go: name, level, machine; all of it is kept, or nothing."""

from __future__ import annotations

import csv
from typing import Any, NamedTuple

from django import forms
from django.db import transaction

from leanladder import catalogue, wording
from leanladder.domain.errors import Fault, InputError
from leanladder.records import stable
from leanladder.records.models import Person
from leanladder.web.stable import words
from leanladder.web.stable.form import LONGEST_NAME, WordedForm

# Longer lists than any school's day.
_MOST = 200


class PasteForm(WordedForm):
    """The list, the level of those without one, and what to take machines for that are not on record."""

    first = ("riders_text", "level_else", "new_machine", "new_tyre")

    riders_text = forms.CharField(
        max_length=20_000, widget=forms.Textarea(attrs={"rows": 6, "spellcheck": "false"})
    )
    level_else = forms.ChoiceField()
    new_machine = forms.ChoiceField()
    new_tyre = forms.ChoiceField()

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401  # Django's signature
        super().__init__(*args, **kwargs)
        self.choose("level_else", words.level_choices(self.language))
        self.choose_first("new_machine", words.model_choices(self.language))
        self.choose_first("new_tyre", words.tyre_choices(self.language))


class Row(NamedTuple):
    """A line of the list; machine is empty where none is named."""

    line: int
    name: str
    level: str
    machine: str


def rows(text: str, level_else: str) -> list[Row]:
    """Return the riders of a list; raises InputError for the first line that is none."""
    found = [
        _row(line, cells, level_else)
        for line, cells in enumerate(map(_cells, text.splitlines()), start=1)
        if any(cell.strip() for cell in cells)
    ]
    if len(found) > _MOST:
        raise InputError("the list is too long.", Fault(field="list", allowed=f"{_MOST} riders"))
    seen: dict[str, int] = {}
    for row in found:
        if row.name in seen:
            remedy = "Add a letter or number to one of them."
            raise InputError("two riders have this name.", _fault(row.line, row.name, remedy))
        seen[row.name] = row.line
    return found


def _cells(line: str) -> list[str]:
    """Return a line's cells: spreadsheets paste tabs, files hold semicolons or commas."""
    parted_by = next((each for each in "\t;" if each in line), ",")
    return next(csv.reader([line], delimiter=parted_by), [])


def _row(line: int, cells: list[str], level_else: str) -> Row:
    name, level, machine, *more = [*(cell.strip() for cell in cells), "", "", ""]
    if not name or len(name) > LONGEST_NAME or any(more):
        remedy = "Name, level, machine: a rider a line."
        raise InputError("this line is no rider.", _fault(line, ", ".join(cells)[:LONGEST_NAME], remedy))
    return Row(line, name, _level(level, line) if level else level_else, machine)


def _level(text: str, line: int) -> str:
    """Return the level that a text means, in any language, or by its first letters."""
    wanted = text.casefold()
    known = {
        spelt.casefold(): name
        for name in catalogue.level_names()
        for spelt in (name, *(words.level_words(name, language) for language in wording.languages()))
    }
    meant = {name for spelt, name in known.items() if spelt.startswith(wanted)}
    if len(meant) != 1:
        allowed = ", ".join(catalogue.level_names())
        raise InputError("this is no level.", Fault(field=f"line {line}", value=text, allowed=allowed))
    return meant.pop()


def _fault(line: int, value: str, remedy: str) -> Fault:
    return Fault(field=f"line {line}", value=value, remedy=remedy)


@transaction.atomic
def keep(data: dict[str, Any], who: Person) -> int:
    """Keep the riders of a list and the machines it needs; raises InputError, and keeps nothing then.

    A rider on record gets the level of the list, and its machine where one is named; the rest stays.
    """
    found = rows(data["riders_text"], data["level_else"])
    if not found:
        raise InputError("the list is empty.", Fault(field="list", remedy="Paste a rider a line."))
    machines = {each.name for each in stable.machines()}
    riders = {each.name: each.written for each in stable.riders()}
    for row in found:
        was = riders.get(row.name, {})
        machine = row.machine or was.get("machine") or row.name
        if machine not in machines:
            written = {"machine": data["new_machine"], "tyre": data["new_tyre"]}
            stable.save_machine(machine, written, guest=not row.machine, who=who)
            machines.add(machine)
        stable.save_rider(row.name, {**was, "level": row.level, "machine": machine}, who)
    return len(found)
