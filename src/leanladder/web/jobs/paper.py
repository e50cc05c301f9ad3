"""The job that makes a day's papers: plans where it must, typesets, and keeps all of them or none."""

from __future__ import annotations

import json
import logging
import tempfile
from collections.abc import Callable
from pathlib import Path

from django_tasks import task

from leanladder import sheets
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder
from leanladder.domain.errors import InputError, LeanladderError
from leanladder.domain.paper import DayList
from leanladder.interchange.day import read_day
from leanladder.planning.day import plan_day
from leanladder.planning.documents import PaperSet, day_documents, evening_sets, set_of_today
from leanladder.planning.sets import SETS
from leanladder.records import days
from leanladder.web import today
from leanladder.web.paper import kept
from leanladder.web.paper.codes import codes_of
from leanladder.web.paper.kept import Told
from leanladder.web.plans import inputs_of

log = logging.getLogger(__name__)
# Steps that the progress counts: a set planned counts as much as this many papers.
PLANNED_STEPS = 10

Step = Callable[[int, int], None]


@task(priority=40)
def make_papers(day_pk: int, kind: str, language: str, host: str, name: str) -> None:
    """Make a day's papers, where records still stand as when they were asked for; where that fails, why."""
    try:
        _make(day_pk, kind, language, host, name)
    except LeanladderError as error:
        why = " ".join(part for part in (error.message, error.fault.remedy) if part)
        kept.tell(day_pk, name, Told("failed", error=why))
    except Exception:
        log.exception("papers were not made")
        kept.tell(day_pk, name, Told("failed"))
        raise


def _make(day_pk: int, kind: str, language: str, host: str, name: str) -> None:
    if kept.name_of(day_pk, kind, language, host) != name:
        kept.tell(day_pk, name, Told("failed", error="the day was changed meanwhile. Ask again."))
        return

    def told(done: int, of: int) -> None:
        kept.tell(day_pk, name, Told("running", done, of))

    with tempfile.TemporaryDirectory() as folder:
        file = days.write_day(day_pk, Path(folder))
        day = read_day(file)
        circuit = today.circuit_of(day)
        sets = _evening(day, circuit, told) if kind == "evening" else _today(day_pk, file, told)
        files = _typeset(day_pk, day, circuit, sets, language, told)
    files |= codes_of(day_pk, day, host, language)
    files[kept.WORDS] = json.dumps({each.folder: each.word.upper() for each in sets}).encode()
    kept.keep(day_pk, name, files)


def _evening(day: Day, circuit: Circuit, told: Step) -> tuple[PaperSet, ...]:
    """The evening's three sets."""
    steps = len(SETS) * PLANNED_STEPS
    planned: dict[BandEnd, tuple[DayLadder, ...]] = {}
    for at, band in enumerate(SETS.values()):
        heard = _heard(told, at * PLANNED_STEPS, steps + PLANNED_STEPS)
        planned[band] = plan_day(day, circuit, band=band, progress=heard)
    return evening_sets(day, circuit, planned)


def _heard(told: Step, from_step: int, of: int) -> Callable[[int, int], None]:
    """Return what counts the ladders of a set: each a step, as far as the set has steps."""
    ladders = 0
    told(from_step, of)

    def heard(lap: int, _laps: int) -> None:
        nonlocal ladders
        if lap == 1:
            ladders += 1
            told(from_step + min(ladders, PLANNED_STEPS - 1), of)

    return heard


def _today(day_pk: int, file: Path, told: Step) -> tuple[PaperSet, ...]:
    """The one set of what was measured and lowered, as the day stands."""
    told(0, 2 * PLANNED_STEPS)
    standing = today.planned(file, inputs_of(day_pk))
    return (set_of_today(standing.day, standing.circuit, standing.entries, word=standing.word),)


def _typeset(
    day_pk: int, day: Day, circuit: Circuit, sets: tuple[PaperSet, ...], language: str, told: Step
) -> dict[str, bytes]:
    documents = day_documents(day, circuit, sets, language)
    planned = len(sets) * PLANNED_STEPS
    found: dict[str, bytes] = {}
    for at, document in enumerate(documents):
        told(planned + at, planned + len(documents))
        found[document.path] = sheets.document_pdf(document)
        if isinstance(document.pages, DayList) and document.pages.kind == "evening":
            found |= kept.evening_list_file(day_pk, document.pages)
    if not found:
        raise InputError("there is nothing to print.")
    return found
