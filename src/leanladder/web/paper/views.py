"""The page of a day's papers: ask for them, see how far they are, open them."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from leanladder.planning.documents import plain_name
from leanladder.records import days, given
from leanladder.web.access import head_only
from leanladder.web.days.looked import look_at
from leanladder.web.days.page import day_page
from leanladder.web.days.steps import fault_of
from leanladder.web.frame import language_of
from leanladder.web.jobs.paper import make_papers
from leanladder.web.live.clock import local
from leanladder.web.paper import kept
from leanladder.web.paper.host import host_of
from leanladder.web.paper.kept import KINDS, Told

_BUSY = ("waiting", "running")
# Lists in the order in which they are wanted.
_LISTS = (
    "evening-list", "choose-a-set", "morning-list", "card-codes", "procedure-wet", "procedure-drying",
)  # fmt: skip


class SetOfPapers(NamedTuple):
    """A folder's papers: its name, day word, and each run's papers by kind."""

    folder: str
    word: str
    runs: list[tuple[str, list[tuple[str, str]]]]


class Papers(NamedTuple):
    """One kind of papers: its folder's name, how far it is, lists by code and path, and its sets."""

    kind: str
    name: str
    told: Told
    lists: list[tuple[str, str]]
    sets: list[SetOfPapers]
    busy: bool


@head_only
@require_GET
def paper(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the evening's papers and today's: made, being made, or to be asked for."""
    looked = look_at(pk)
    if looked.fault is not None:
        missing = {"fault": fault_of(pk, looked), "not_whole": True}
        return day_page(request, pk, "paper/paper.html", missing)
    papers = [_papers(request, pk, kind) for kind in KINDS]
    more = {
        "papers": papers,
        "busy": any(each.busy for each in papers),
        "host": host_of(request),
        "rained_at": _rained_at(pk),
    }
    return day_page(request, pk, "paper/paper.html", more)


def _rained_at(pk: int) -> str:
    """When rain was called in last, by the circuit's clock; empty where none was."""
    rained = given.rained(pk)
    return "" if rained is None else local(rained.at, days.day(pk))


def _papers(request: HttpRequest, pk: int, kind: str) -> Papers:
    name = kept.name_of(pk, kind, language_of(request), host_of(request))
    told = kept.told(pk, name)
    files, words = kept.files_of(pk, name), kept.words_of(pk, name)
    alone = {path.removesuffix(".pdf"): path for path in files if "/" not in path}
    folders = groupby((path for path in files if "/" in path), key=lambda path: path.partition("/")[0])
    names = [run.name for run in days.runs(pk)]
    sets = [SetOfPapers(folder, words.get(folder, ""), _runs(paths, names)) for folder, paths in folders]
    lists = [(code.replace("-", "_"), alone[code]) for code in _LISTS if code in alone]
    return Papers(kind, name, told, lists, sets, told.state in _BUSY)


def _runs(paths: Iterable[str], names: list[str]) -> list[tuple[str, list[tuple[str, str]]]]:
    """A folder's papers by run: a file's name begins with the run's place and ends in its kind."""
    found = []
    for place, some in groupby(paths, key=lambda path: path.partition("/")[2].partition("-")[0]):
        kinds = [(path.rpartition("-")[2].removesuffix(".pdf"), path) for path in some]
        at = int(place) - 1
        found.append((names[at] if at < len(names) else place, kinds))
    return found


@head_only
@require_POST
def make(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """Ask for a kind of papers as the day stands now."""
    if kind not in KINDS:
        raise Http404
    language, host = language_of(request), host_of(request)
    name = kept.name_of(pk, kind, language, host)
    if kept.told(pk, name).state not in _BUSY:
        kept.tell(pk, name, Told("waiting"))
        make_papers.enqueue(pk, kind, language, host, name)
    return redirect("paper", pk)


@head_only
@require_GET
def one(request: HttpRequest, pk: int, name: str, path: str) -> HttpResponse:  # noqa: ARG001  # a view
    """Give one paper, to be opened in the browser."""
    found = kept.file_of(pk, name, path)
    if found is None:
        raise Http404
    answer = HttpResponse(found, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{path.rpartition("/")[2]}"'
    answer["Cache-Control"] = "private, no-cache"
    return answer


@head_only
@require_GET
def whole(request: HttpRequest, pk: int, name: str) -> HttpResponse:  # noqa: ARG001  # a view
    """Give all papers of a kind as a zip."""
    if not kept.files_of(pk, name):
        raise Http404
    day = days.day(pk)
    answer = HttpResponse(kept.zip_of(pk, name), content_type="application/zip")
    kind = name.partition("-")[0]
    file = f"{day.date.isoformat()}-{plain_name(day.school)}-{kind}.zip"
    answer["Content-Disposition"] = f'attachment; filename="{file}"'
    answer["Cache-Control"] = "private, no-cache"
    return answer
