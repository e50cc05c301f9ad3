"""Pages of the briefing room."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET
from django_htmx.http import HttpResponseClientRedirect

from leanladder.domain.sentence import Sentence
from leanladder.records import days
from leanladder.records.models import Person, Run
from leanladder.sheets.said import translation_mark
from leanladder.web.access import coach_or_head
from leanladder.web.briefing.deck import Page, Shown, deck, slide
from leanladder.web.briefing.reader import Reader
from leanladder.web.briefing.rules import rules
from leanladder.web.briefing.weighing import weighed
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.out import out
from leanladder.web.plans import progress, run_entries, worked

View = Callable[..., HttpResponse]
# Marks an answer that is asked for again until the plan is there.
WAITS = "X-Waits"


def whole_page(view: View) -> View:
    """Load a page anew where a boosted link or a page that waited asks for it.

    These have a style and a script of their own; what still waits is answered as it is.
    """

    @wraps(view)
    def loaded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:  # noqa: ANN401  # the address's
        asks = request.headers.get("HX-Request") == "true"
        if asks and request.headers.get("HX-Boosted") == "true":
            return HttpResponseClientRedirect(request.get_full_path())
        answer = view(request, *args, **kwargs)
        over = asks and WAITS not in answer.headers
        return HttpResponseClientRedirect(request.get_full_path()) if over else answer

    return loaded


@coach_or_head
@require_GET
@whole_page
def runs(request: HttpRequest, day_pk: int) -> HttpResponse:
    """List a day's runs that are the reader's own, to show one on the wall."""
    day, found = days.day(day_pk), days.runs(day_pk)
    own = [run for run in found if _is_own(person_of(request), run)]
    return render(request, "briefing/runs.html", {"day": day, "runs": own, "any": bool(found)})


def _is_own(person: Person, run: Run) -> bool:
    """Whether a run is of a group that someone may see, as web.mine has it for a planned day."""
    return person.is_head or person.coach_name in run.group.coaches


@coach_or_head
@require_GET
@whole_page
def run(request: HttpRequest, day_pk: int, run_pk: int) -> HttpResponse:
    """Go to a run's first page."""
    found = worked(day_pk)
    asked = _run(request, day_pk, run_pk)
    if found is None:
        return _waiting(request, asked)
    first = deck(run_entries(found, asked.name))[0]
    return redirect("briefing_page", day_pk=day_pk, run_pk=run_pk, slug=first.slug)


def _run(request: HttpRequest, day_pk: int, run_pk: int) -> Run:
    """The run asked for; as if there were none where it is not the reader's own."""
    asked = next((each for each in days.runs(day_pk) if each.pk == run_pk), None)
    if asked is None or not _is_own(person_of(request), asked):
        raise Http404
    return asked


def _waiting(request: HttpRequest, asked: Run) -> HttpResponse:
    told = progress(asked.day_id)
    answer = render(request, "briefing/waiting.html", {"run": asked, "progress": told})
    answer.headers[WAITS] = "1"
    return answer


@coach_or_head
@require_GET
@whole_page
def page(request: HttpRequest, day_pk: int, run_pk: int, slug: str) -> HttpResponse:
    """Show one page of a run."""
    asked = _run(request, day_pk, run_pk)
    found = worked(day_pk)
    if found is None:
        return _waiting(request, asked)
    entries = run_entries(found, asked.name)
    pages = deck(entries)
    at = next((index for index, each in enumerate(pages) if each.slug == slug), None)
    if at is None:
        return redirect("briefing_run", day_pk=day_pk, run_pk=run_pk)
    reader = _reader(request)
    frame = _frame(request, asked, pages, at)
    if pages[at].kind == "rules":
        stands = {"out": out(found, asked.name)}
        told = _marked(rules(found, entries, reader))
        return render(request, "briefing/rules.html", {**frame, **stands, **told})
    shown = Shown(entries, found.circuit, reader, f"{found.digest}:{run_pk}")
    return render(request, "briefing/slide.html", {**frame, **_told(pages[at], shown)})


def _reader(request: HttpRequest) -> Reader:
    return Reader(language_of(request), person_of(request).units, request.GET.get("figures") == "1")


def _frame(request: HttpRequest, asked: Run, pages: tuple[Page, ...], at: int) -> dict[str, Any]:
    """What every page of a run has: its tabs, its neighbours, with or without figures."""
    reader = _reader(request)

    def address(index: int, *, figures: bool = reader.figures) -> str | None:
        if not 0 <= index < len(pages):
            return None
        path = reverse("briefing_page", args=(asked.day_id, asked.pk, pages[index].slug))
        return f"{path}?figures=1" if figures else path

    tabs = [(reader.tell(each.tab), address(index), index == at) for index, each in enumerate(pages)]
    return {
        "run": asked,
        "kind": pages[at].kind,
        "tabs": tabs,
        "before": address(at - 1),
        "after": address(at + 1),
        "at": at + 1,
        "of": len(pages),
        "figures": reader.figures,
        "other": address(at, figures=not reader.figures),
        "mark": translation_mark(reader.language),
    }


@coach_or_head
@require_GET
def ways(request: HttpRequest, day_pk: int, run_pk: int) -> HttpResponse:
    """Show, within a page with figures, what coaches may tell of ways of warming, once it is there."""
    asked, found = _run(request, day_pk, run_pk), worked(day_pk)
    told = None if found is None else weighed(day_pk, run_pk, asked.name, found.digest)
    if told is None:
        return render(request, "briefing/ways.html", {"run": asked, "waiting": True})
    reader = _reader(request)
    return render(
        request,
        "briefing/ways.html",
        {"run": asked, "told": _ways(told.told, reader), "never": _ways(told.never, reader)},
    )


def _ways(some: tuple[tuple[str, tuple[Sentence, ...]], ...], reader: Reader) -> list[tuple[str, str]]:
    """Ways by what they are called, with what is said of each."""
    return [
        (reader.tell(Sentence(f"ways.{name}")), " ".join(reader.tell(each) for each in said))
        for name, said in some
    ]


def _told(page: Page, shown: Shown) -> dict[str, Any]:
    told, reader = slide(page, shown), shown.reader
    return {
        "message": reader.tell(told.message),
        "more": [reader.tell(sentence) for sentence in told.more],
        "drawings": [tuple(map(mark_safe, drawn)) for drawn in told.drawings],  # our own, words escaped
        "below": told.below,
        "stops": told.stops,
        "stops_heads": told.stops_heads,
        "coaches": [(rule.machines, " ".join(map(reader.tell, rule.says))) for rule in told.coaches],
    }


def _marked(told: dict[str, Any]) -> dict[str, Any]:
    """The page of rules with its drawings marked as ours."""
    for row in told.get("rows", ()):
        row["plank"], row["fan"] = mark_safe(row["plank"]), mark_safe(row["fan"])  # noqa: S308  # as above
    return told
