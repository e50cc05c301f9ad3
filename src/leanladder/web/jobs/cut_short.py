"""What a power loss cut short: found at the next start and begun again."""

from __future__ import annotations

import logging
from collections.abc import Iterable

from django.db import transaction
from django.db.models import QuerySet
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from leanladder.records.plans import forget_failed, unfinished
from leanladder.web.jobs.plans import work_out
from leanladder.web.plans import ask_again, failed

log = logging.getLogger(__name__)

Job = DBTaskResult[..., object]  # of any arguments and answer

# Noted with a job each time that the worker fell over at it; after so many times it is not begun again.
FELL, MOST_FALLS = "fell over", 2


@transaction.atomic
def take_up(*, fell_over: bool = False) -> int:
    """Put jobs that were running when the worker ended back in the queue; return how many.

    Plans that wait for a job that nobody has are asked for anew: they count as well. fell_over: the worker
    ended by itself while the app went on; a job at which it did so twice has failed. At a start of the app
    what had failed gets another chance.
    """
    cut = DBTaskResult.objects.filter(status=TaskResultStatus.RUNNING)
    if fell_over:
        _give_up(_fallen(cut))
    else:
        forget_failed()
    count = cut.update(status=TaskResultStatus.READY, started_at=None)
    asked_for = _asked_for()
    lost = [plan for plan in unfinished() if plan.pk not in asked_for]
    for plan in lost:
        ask_again(plan)
    if count or lost:
        log.warning("%d jobs and %d plans were cut short; they begin again", count, len(lost))
    return count + len(lost)


def _fallen(cut: QuerySet[Job]) -> Iterable[Job]:
    """Note that the worker fell over at jobs, and return those at which it did so too often."""
    for job in cut:
        job.worker_ids = [*job.worker_ids, FELL]
        job.save(update_fields=["worker_ids"])
        if job.worker_ids.count(FELL) >= MOST_FALLS:
            yield job


def _give_up(jobs: Iterable[Job]) -> None:
    for job in jobs:
        log.error("the worker fell over %d times at %s: it is given up", MOST_FALLS, job.task_path)
        job.set_failed(RuntimeError("the worker fell over"))
        if job.task_path == work_out.module_path:
            failed(_plan_of(job.args_kwargs), "")


def _asked_for() -> set[int]:
    """The keys of the plans that a job stands for."""
    waiting = DBTaskResult.objects.filter(status=TaskResultStatus.READY, task_path=work_out.module_path)
    return {_plan_of(each) for each in waiting.values_list("args_kwargs", flat=True)}


def _plan_of(args_kwargs: dict[str, list[object]]) -> int:
    return int(str(args_kwargs["args"][0]))
