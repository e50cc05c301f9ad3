"""Pages of the school's own tyre and machine files."""

from __future__ import annotations

import tempfile
import tomllib
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any, ClassVar

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from leanladder import catalogue
from leanladder.domain.errors import Fault, InputError, LeanladderError
from leanladder.interchange.reading import toml_of
from leanladder.records import history, stable
from leanladder.records.checking import stem
from leanladder.records.models import OwnFile
from leanladder.web.access import head_only
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.stable.changed import changed
from leanladder.web.stable.files import download
from leanladder.web.stable.form import WordedForm, told

LARGEST_BYTES = 1_000_000  # as the reader of written files has it
_READERS: dict[stable.Kind, Any] = {"tyre": catalogue.tyre_family, "machine": catalogue.motorcycle}


class FileForm(WordedForm):
    """A file of the school's own."""

    file = forms.FileField(widget=forms.FileInput(attrs={"accept": ".toml"}))

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401  # Django's signature
        super().__init__(*args, **kwargs)
        self.fields["file"].error_messages["empty"] = self.said("empty_file")


class TextForm(WordedForm):
    """The text of a file of the school's own."""

    first: ClassVar[tuple[str, ...]] = ("file_text",)

    file_text = forms.CharField(
        max_length=LARGEST_BYTES,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 24, "spellcheck": "false", "class": "file"}),
    )


@head_only
@require_http_methods(["GET", "POST"])
def every(request: HttpRequest) -> HttpResponse:
    """List the own files, and take another."""
    form = FileForm(request.POST or None, request.FILES or None, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        try:
            text = _text(form.cleaned_data["file"])
            kept = stable.save_own_file(_checked(text), text, person_of(request), replace=False)
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("own_file", kept.pk)
    used = {path for each in stable.machines() for path in stable.files_of(each.written)}
    rows = [
        {"record": each, "describes": _describes(each), "used": each.path in used}
        for each in stable.own_files()
    ]
    status = 400 if request.method == "POST" else 200
    return render(request, "stable/files.html", {"form": form, "files": rows}, status=status)


@head_only
@require_http_methods(["GET", "POST"])
def one(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an own file, and change its text."""
    record = get_object_or_404(OwnFile, pk=pk)
    form = TextForm(request.POST or None, initial={"file_text": record.text}, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        try:
            kept = _kept(record, form.cleaned_data["file_text"].replace("\r\n", "\n"), request)
        except LeanladderError as error:
            form.refuse(error)
        else:
            return redirect("own_file", kept.pk)
    return _page(request, record, form)


def _kept(record: OwnFile, text: str, request: HttpRequest) -> OwnFile:
    kind = _checked(text)
    if kind != record.kind:
        raise InputError(
            "this is another kind of file.", Fault(field="schema", value=kind, allowed=record.kind)
        )
    # Under a name of its own the text is a new file: that must not replace a third one.
    same = stem(str(toml_of(text)["name"])) == record.name
    return stable.save_own_file(kind, text, person_of(request), replace=same)


def _page(request: HttpRequest, record: OwnFile, form: TextForm, refused: str = "") -> HttpResponse:
    rows = changed(
        history.changes_of("own_file", record.pk), "stable", language_of(request), person_of(request).units
    )
    status = 400 if request.method == "POST" else 200
    context = {"record": record, "form": form, "changes": rows, "refused": refused}
    return render(request, "stable/file.html", context, status=status)


@head_only
@require_GET
def give(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001  # Django's signature
    """Give an own file to save."""
    record = get_object_or_404(OwnFile, pk=pk)
    return download(record.text.encode(), f"{record.name}.toml")


@head_only
@require_GET
def example(request: HttpRequest, kind: str) -> HttpResponse:  # noqa: ARG001  # Django's signature
    """Give an annotated file to start from."""
    if kind not in _READERS:
        raise Http404
    content = files("leanladder").joinpath("data", "example", f"{kind}.toml").read_bytes()
    return download(content, f"{kind}.toml")


@head_only
@require_POST
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove an own file; one that a machine names stays."""
    record = get_object_or_404(OwnFile, pk=pk)
    try:
        stable.remove_own_file(_kind(record.kind), record.name, person_of(request))
    except LeanladderError as error:
        form = TextForm(initial={"file_text": record.text}, language=language_of(request))
        return _page(request, record, form, told(error))
    return redirect("own_files")


def _text(file: Any) -> str:  # noqa: ANN401  # Django's uploaded file
    if file.size > LARGEST_BYTES:
        raise InputError("the file is too large.", Fault(field="file", allowed="1 MB"))
    try:
        return str(file.read().decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise InputError("this is no text.", Fault(field="file", remedy="Save it as UTF-8 text.")) from None


def _checked(text: str) -> stable.Kind:
    """Return what a file describes, once the catalogue has made it; raises InputError."""
    kind = _kind_of(text)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{kind}.toml"
        path.write_text(text, encoding="utf-8")
        try:
            _READERS[kind](str(path))
        except InputError as error:
            error.fault = replace(error.fault, file=None)
            raise
    return kind


def _kind_of(text: str) -> stable.Kind:
    """Return the kind that a file's schema names; a file that is no TOML is told by its reader."""
    try:
        schema = str(toml_of(text).get("schema", ""))
    except tomllib.TOMLDecodeError as error:
        fault = Fault(field="file", value=str(error), remedy="Mend this line.")
        raise InputError("the file cannot be read.", fault) from None
    return _kind(schema.partition("/")[0])


def _kind(text: str) -> stable.Kind:
    if text == "tyre":
        return "tyre"
    if text == "machine":
        return "machine"
    fault = Fault(field="schema", value=text, allowed="tyre/1, machine/1", remedy="Start from an example.")
    raise InputError("this is no tyre and no machine.", fault)


def _describes(record: OwnFile) -> str:
    try:
        return str(toml_of(record.text).get("describes", ""))
    except tomllib.TOMLDecodeError:
        return ""
