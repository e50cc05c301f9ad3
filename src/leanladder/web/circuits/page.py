"""The page of one circuit, with a fault over it where something was refused."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe

from leanladder import wording
from leanladder.domain.errors import LeanladderError
from leanladder.records import history
from leanladder.records.models import Circuit as Record
from leanladder.web.circuits import lines, notes, shown
from leanladder.web.circuits.forms import FactsForm, NotesForm
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.stable.changed import changed
from leanladder.web.stable.form import told
from leanladder.web.stable.next import next_step


def page(
    request: HttpRequest,
    record: Record,
    *,
    error: LeanladderError | None = None,
    facts: FactsForm | None = None,
    file: NotesForm | None = None,
    typed: dict[str, list[dict[str, str]]] | None = None,
) -> HttpResponse:
    """Return a circuit's page; error, facts, file and typed hold what was refused and what was typed."""
    language = language_of(request)
    context: dict[str, Any] = {
        "record": record,
        "refused": None if error is None else told(error),
        "facts": facts or facts_form(record, language),
        "file": file or NotesForm(initial={"text": record.notes}, language=language),
        "changes": changed(
            history.changes_of("circuit", record.pk), "circuits", language, person_of(request).units
        ),
        "next": next_step(request),
        "closed": notes.plain(record.notes).get("closed_course") is True,
        "undoable": shown.undoable(record.notes),
        **_built(record, language),
        **_stretches(record, language, typed or {}),
    }
    bad = error is not None or facts is not None or file is not None
    return render(request, "circuits/circuit.html", context, status=400 if bad else 200)


def facts_form(record: Record, language: str, data: Any = None) -> FactsForm:  # noqa: ANN401  # POST
    """Return the form of what is known of a circuit."""
    known = notes.plain(record.notes)
    initial = {
        "name": record.name,
        "start_at_m": 0.0,
        **{key: known[key] for key in FactsForm.first if key in known},
    }
    return FactsForm(data, initial={**initial, "name": record.name}, language=language)


def _built(record: Record, language: str) -> dict[str, Any]:
    try:
        built = lines.circuit_of(record)
    except LeanladderError as error:
        return {"broken": told(error)}
    start = wording.text("circuits.start", language)
    return {
        "circuit": built,
        "summary": shown.summary(record, language),
        "turns": shown.turns(built, language),
        "map": mark_safe(lines.picture(record, start)),  # noqa: S308  # drawn by us, its words escaped
    }


def _stretches(record: Record, language: str, typed: dict[str, list[dict[str, str]]]) -> dict[str, Any]:
    parts = [
        {
            "key": key,
            "more": more,
            "rows": shown.stretches(record.notes, key, typed.get(key)),
            "open": key in typed,
            "count": len(notes.plain(record.notes).get(key, ())),
        }
        for key, more in shown.MORE.items()
    ]
    return {"stretches": parts, "surfaces": shown.surfaces(language)}
