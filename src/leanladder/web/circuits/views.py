"""Pages of circuits: all of them, one, a new one, and their files."""

from __future__ import annotations

from importlib.resources import files

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from leanladder.domain.errors import LeanladderError
from leanladder.records import circuits
from leanladder.records.models import Circuit
from leanladder.web.access import coach_or_head, head_only
from leanladder.web.circuits import changes
from leanladder.web.circuits.forms import NewForm
from leanladder.web.circuits.page import page
from leanladder.web.circuits.shown import summary
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.stable.files import download
from leanladder.web.stable.next import next_step


@coach_or_head
@require_GET
def every(request: HttpRequest) -> HttpResponse:
    """List the circuits; without any, say what next."""
    rows = [summary(each, language_of(request)) for each in circuits.circuits()]
    return render(request, "circuits/circuits.html", {"circuits": rows, "next": next_step(request)})


@head_only
@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Add a circuit by its line's file."""
    form = NewForm(request.POST or None, request.FILES or None, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        try:
            kept = changes.add(form.cleaned_data, person_of(request))
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("circuit", kept.pk)
    status = 400 if request.method == "POST" else 200
    return render(request, "circuits/new.html", {"form": form}, status=status)


@coach_or_head
@require_GET
def one(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a circuit: its map, its turns and what is noted of it."""
    return page(request, get_object_or_404(Circuit, pk=pk))


@coach_or_head
@require_GET
def notes_file(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001  # a view
    """Give the notes as the file that the command line reads."""
    record = get_object_or_404(Circuit, pk=pk)
    return download(record.notes.encode(), "circuit-notes.toml")


@coach_or_head
@require_GET
def line_file(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001  # a view
    """Give the line's file as it came."""
    record = get_object_or_404(Circuit, pk=pk)
    return download(bytes(record.line), record.line_name)


@coach_or_head
@require_GET
def example_notes(request: HttpRequest) -> HttpResponse:  # noqa: ARG001  # a view
    """Give annotated notes to start from."""
    example = files("leanladder").joinpath("data", "example", "circuit-notes.toml")
    return download(example.read_bytes(), "circuit-notes.toml")
