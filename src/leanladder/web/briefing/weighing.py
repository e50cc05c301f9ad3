"""Ways of warming compared for a run's coaches: some seconds of work, so the worker does it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from django.core.cache import cache
from django_tasks import TaskResultStatus, task
from django_tasks.exceptions import TaskResultDoesNotExist

from leanladder.domain.errors import OutsideModelError
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.planning import ways as warming
from leanladder.web import plans
from leanladder.web.briefing.figures import out
from leanladder.web.briefing.keeping import KEEP_S


@dataclass(frozen=True, slots=True)
class Weighed:
    """Ways with what is said of each: told, what may be told, best first; never, what may not."""

    told: tuple[tuple[str, tuple[Sentence, ...]], ...]
    never: tuple[tuple[str, tuple[Sentence, ...]], ...]


@task(priority=0)
def weigh(day_pk: int, run_name: str, digest: str) -> list[dict[str, Any]]:
    """Compare the ways of a run's most careful combination; nothing where its plan has changed by now."""
    found = plans.worked(day_pk)
    if found is None or found.digest != digest:
        return []
    ladders = out(plans.run_entries(found, run_name))
    return compared(ladders[0][1].session) if ladders else []


def compared(session: Session) -> list[dict[str, Any]]:
    """Return each way by name, whether it may be told, and what is said of it; none without a common pace."""
    try:
        found = warming.compare(replace(session, laps=warming.usual_laps()))
    except OutsideModelError:
        return []
    return [
        {
            "name": way.name,
            "allowed": way.allowed,
            "says": [[each.code, dict(each.figures)] for each in (way.says, *way.conditions)],
        }
        for way in found.ways
    ]


def weighed(day_pk: int, run_pk: int, run_name: str, digest: str) -> Weighed | None:
    """Return the ways compared, asked of the worker where nobody has; None while they are being compared."""
    name = f"room:{digest}:{run_pk}:ways"
    asked = cache.get(name)
    if asked is None:
        cache.set(name, weigh.enqueue(day_pk, run_name, digest).id, KEEP_S)
        return None
    try:
        result = weigh.get_result(asked)
    except TaskResultDoesNotExist:
        cache.delete(name)
        return None
    if result.status == TaskResultStatus.FAILED:
        return read([])
    return read(result.return_value or []) if result.status == TaskResultStatus.SUCCESSFUL else None


def read(kept: list[dict[str, Any]]) -> Weighed:
    """Return ways as the worker kept them."""
    ways = [
        (way["name"], way["allowed"], tuple(Sentence(code, figures) for code, figures in way["says"]))
        for way in kept
    ]
    return Weighed(
        tuple((name, said) for name, allowed, said in ways if allowed),
        tuple((name, said) for name, allowed, said in ways if not allowed),
    )
