"""Pages of machines and riders."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from leanladder.domain.errors import LeanladderError
from leanladder.records import history, stable
from leanladder.records.models import Machine, Person, Rider
from leanladder.web.access import head_only
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.stable import machine_form, pasted, rider_form, shown
from leanladder.web.stable.changed import changed
from leanladder.web.stable.form import WordedForm, told
from leanladder.web.stable.machine_form import MachineForm
from leanladder.web.stable.next import next_step
from leanladder.web.stable.rider_form import RiderForm
from leanladder.web.stable.words import level_choices

# The button that keeps a thing and opens an empty form for the next.
_ANOTHER = "another"


@head_only
@require_GET
def machines(request: HttpRequest) -> HttpResponse:
    """List the machines; without any, say what next."""
    rows = shown.machines(language_of(request))
    return render(request, "stable/machines.html", {"machines": rows, "next": next_step(request)})


@head_only
@require_http_methods(["GET", "POST"])
def new_machine(request: HttpRequest) -> HttpResponse:
    """Add a machine; its form starts as the last one added was, but for its name."""
    initial = shown.like_last(request.GET.get("like", ""))
    form = MachineForm(request.POST or None, initial=initial, **_reader(request))
    if request.method == "POST" and form.is_valid() and _machine_kept(form, None, person_of(request)):
        return _after(request, form, "machine_new", "machines")
    return _form_page(request, "stable/machine.html", form, {})


@head_only
@require_http_methods(["GET", "POST"])
def one_machine(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a machine, and change it."""
    record = get_object_or_404(Machine, pk=pk)
    initial = machine_form.initial_of(record.name, record.guest, record.written)
    form = MachineForm(request.POST or None, initial=initial, **_reader(request))
    if request.method == "POST" and form.is_valid() and _machine_kept(form, record, person_of(request)):
        return redirect("machines")
    return _form_page(request, "stable/machine.html", form, _of(request, record, "machine"))


def _machine_kept(form: MachineForm, record: Machine | None, who: Person) -> bool:
    """Keep what a machine's form says; False where the records refused it, which the form then says."""
    name, guest = form.cleaned_data["name"], form.cleaned_data["guest"]
    if record is None and any(each.name == name for each in stable.machines()):
        form.add_error("name", form.said("machine_taken"))
        return False
    try:
        with transaction.atomic():
            if record is not None and name != record.name:
                stable.rename_machine(record.name, name, who)
            stable.save_machine(name, form.written(), guest, who)
    except LeanladderError as error:
        form.refuse(error)
        return False
    return True


@head_only
@require_POST
def remove_machine(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a machine; one that someone rides stays."""
    record = get_object_or_404(Machine, pk=pk)
    initial = machine_form.initial_of(record.name, record.guest, record.written)
    form = MachineForm(initial=initial, **_reader(request))
    try:
        stable.remove_machine(record.name, person_of(request))
    except LeanladderError as error:
        return _refused(request, "stable/machine.html", form, _of(request, record, "machine"), error)
    return redirect("machines")


@head_only
@require_GET
def riders(request: HttpRequest) -> HttpResponse:
    """List the riders; without any, say what next."""
    rows = shown.riders(language_of(request))
    has_machines = bool(stable.machines())
    context = {"riders": rows, "has_machines": has_machines, "next": next_step(request)}
    return render(request, "stable/riders.html", context)


@head_only
@require_http_methods(["GET", "POST"])
def new_rider(request: HttpRequest) -> HttpResponse:
    """Add a rider."""
    form = RiderForm(request.POST or None, **_reader(request))
    if request.method == "POST" and form.is_valid() and _rider_kept(form, None, person_of(request)):
        return _after(request, form, "rider_new", "riders")
    return _form_page(request, "stable/rider.html", form, {"has_machines": bool(stable.machines())})


@head_only
@require_http_methods(["GET", "POST"])
def one_rider(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a rider, and change what is known of them."""
    record = get_object_or_404(Rider, pk=pk)
    form = RiderForm(
        request.POST or None, initial=rider_form.initial_of(record.name, record.written), **_reader(request)
    )
    if request.method == "POST" and form.is_valid() and _rider_kept(form, record, person_of(request)):
        return redirect("riders")
    return _form_page(
        request, "stable/rider.html", form, {**_of(request, record, "rider"), "has_machines": True}
    )


def _rider_kept(form: RiderForm, record: Rider | None, who: Person) -> bool:
    """Keep what a rider's form says; False where the records refused it, which the form then says."""
    name = form.cleaned_data["name"]
    if record is None and any(each.name == name for each in stable.riders()):
        form.add_error("name", form.said("rider_taken"))
        return False
    try:
        with transaction.atomic():
            if record is not None and name != record.name:
                stable.rename_rider(record.name, name, who)
            stable.save_rider(name, form.written(), who)
    except LeanladderError as error:
        form.refuse(error)
        return False
    return True


@head_only
@require_POST
def remove_rider(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a rider, from days too; what was given out stays."""
    record = get_object_or_404(Rider, pk=pk)
    stable.remove_rider(record.name, person_of(request))
    return redirect("riders")


@head_only
@require_http_methods(["GET", "POST"])
def paste(request: HttpRequest) -> HttpResponse:
    """Add a whole list of riders."""
    form = pasted.PasteForm(request.POST or None, **_reader(request))
    if request.method == "POST" and form.is_valid():
        try:
            pasted.keep(form.cleaned_data, person_of(request))
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("riders")
    levels = ", ".join(words for _, words in level_choices(language_of(request)))
    return _form_page(request, "stable/paste.html", form, {"levels": levels})


def _reader(request: HttpRequest) -> dict[str, Any]:
    return {"language": language_of(request), "units": person_of(request).units}


def _of(request: HttpRequest, record: Machine | Rider, what: str) -> dict[str, Any]:
    rows = changed(
        history.changes_of(what, record.pk), "stable", language_of(request), person_of(request).units
    )
    return {"record": record, "changes": rows}


def _after(request: HttpRequest, form: WordedForm, again: str, all_of: str) -> HttpResponse:
    """Return where to go once a thing is kept: an empty form for the next, or the list."""
    if _ANOTHER not in request.POST:
        return redirect(all_of)
    here = redirect(again)
    if again == "machine_new":
        here["Location"] += f"?like={quote(form.cleaned_data['name'])}"
    return here


def _form_page(request: HttpRequest, template: str, form: WordedForm, more: dict[str, Any]) -> HttpResponse:
    status = 400 if request.method == "POST" else 200
    return render(request, template, {"form": form, **more}, status=status)


def _refused(
    request: HttpRequest, template: str, form: WordedForm, more: dict[str, Any], error: LeanladderError
) -> HttpResponse:
    return render(request, template, {"form": form, "refused": told(error), **more}, status=400)
