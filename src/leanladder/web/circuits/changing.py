"""What may be changed on a circuit's page: one form, one view; whatever is refused comes back on the page."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from leanladder.domain.errors import Fault, InputError, LeanladderError
from leanladder.records import circuits
from leanladder.records.models import Circuit, Person
from leanladder.web.access import head_only
from leanladder.web.circuits import changes, notes
from leanladder.web.circuits.forms import NotesForm
from leanladder.web.circuits.lines import circuit_of
from leanladder.web.circuits.page import facts_form, page
from leanladder.web.circuits.shown import MORE
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of

Change = Callable[[HttpRequest, Circuit, Person], None]


def _changing(change: Change) -> Callable[..., HttpResponseBase]:
    """Make a view of a change: kept, it leads back to the page; refused, the page says why."""

    @head_only
    @require_POST
    @wraps(change)
    def view(request: HttpRequest, pk: int) -> HttpResponse:
        record = get_object_or_404(Circuit, pk=pk)
        try:
            change(request, record, person_of(request))
        except LeanladderError as error:
            return page(request, get_object_or_404(Circuit, pk=pk), error=error)
        return redirect("circuit", pk)

    return view


@_changing
def closed(request: HttpRequest, record: Circuit, who: Person) -> None:
    """State that the circuit is closed to other traffic, or take that back."""
    stated = request.POST.get("closed_course") == "on"
    changes.keep(record, notes.with_keys(record.notes, {"closed_course": stated}), who)


@_changing
def other_way(request: HttpRequest, record: Circuit, who: Person) -> None:  # noqa: ARG001  # nothing is asked
    """Ride the circuit the other way round."""
    changes.turn_round(record, who)


@_changing
def names(request: HttpRequest, record: Circuit, who: Person) -> None:
    """Name the turns."""
    built = circuit_of(record)
    typed = {each.number: request.POST.get(f"name_{each.number}", "") for each in built.corners}
    changes.keep(record, notes.named(record.notes, built, typed), who)


@_changing
def join(request: HttpRequest, record: Circuit, who: Person) -> None:
    """Make one turn of two that follow each other."""
    changes.join(record, round(_figure(request.POST.get("turn", ""), "turn")), who)


@_changing
def split(request: HttpRequest, record: Circuit, who: Person) -> None:
    """Make two turns of one."""
    changes.split(record, _figure(request.POST.get("at_m", ""), "at_m"), who)


@_changing
def take_back(request: HttpRequest, record: Circuit, who: Person) -> None:
    """Take back a join or a split."""
    row = round(_figure(request.POST.get("row", ""), "row"))
    changes.keep(record, notes.without(record.notes, request.POST.get("key", ""), row), who)


@head_only
@require_POST
def facts(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep name, pit lane, start line, time zone and rules."""
    record = get_object_or_404(Circuit, pk=pk)
    form = facts_form(record, language_of(request), request.POST)
    if form.is_valid():
        try:
            changes.keep_facts(record, form.cleaned_data, person_of(request))
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("circuit", pk)
    return page(request, get_object_or_404(Circuit, pk=pk), facts=form)


@head_only
@require_POST
def stretches(request: HttpRequest, pk: int, key: str) -> HttpResponse:
    """Keep the shaded stretches, the banks or the patches."""
    record = get_object_or_404(Circuit, pk=pk)
    typed: list[dict[str, str]] = []
    try:
        if key not in MORE:
            raise InputError("there is no such stretch.", Fault(field=key, remedy="Load the page again."))
        typed = _typed(request)
        rows = [_stretch(each, MORE[key]) for each in typed]
        changes.keep_stretches(record, key, rows, person_of(request))
    except LeanladderError as error:
        return page(request, record, error=error, typed={key: typed})
    return redirect("circuit", pk)


def _typed(request: HttpRequest) -> list[dict[str, str]]:
    """Return the rows typed, without empty ones."""
    starts, ends, more = (request.POST.getlist(name) for name in ("from_m", "to_m", "more"))
    more += [""] * (len(starts) - len(more))
    rows = [
        {"from_m": start.strip(), "to_m": end.strip(), "more": also.strip()}
        for start, end, also in zip(starts, ends, more, strict=False)
    ]
    return [row for row in rows if row["from_m"] or row["to_m"]]


def _stretch(typed: dict[str, str], more: str) -> dict[str, float | str]:
    row: dict[str, float | str] = {key: _figure(typed[key], key) for key in ("from_m", "to_m")}
    if more == "bank_deg":
        row[more] = _figure(typed["more"], more)
    elif more:
        row[more] = typed["more"]
    return row


def _figure(text: str, field: str) -> float:
    """Return a figure typed with a point or a comma; raises InputError."""
    try:
        found = float(text.strip().replace(",", "."))
    except ValueError:
        fault = Fault(field=field, value=text[:20], allowed="a number", remedy="Type a number.")
        raise InputError("this is no number.", fault) from None
    if not abs(found) < 1e9:  # infinities, and what is no number
        raise InputError("this is no number.", Fault(field=field, allowed="a number"))
    return found


@head_only
@require_POST
def as_file(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep the notes as someone wrote them as a file."""
    record = get_object_or_404(Circuit, pk=pk)
    form = NotesForm(request.POST, language=language_of(request))
    if form.is_valid():
        try:
            text = form.cleaned_data["text"].replace("\r\n", "\n")
            changes.keep(record, text, person_of(request))
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("circuit", pk)
    return page(request, record, file=form)


@head_only
@require_POST
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a circuit; one that a day takes place on stays."""
    record = get_object_or_404(Circuit, pk=pk)
    try:
        circuits.remove_circuit(pk, person_of(request))
    except LeanladderError as error:
        return page(request, record, error=error)
    return redirect("circuits")
