"""What a power loss cut short: found at the next start and begun again."""

from __future__ import annotations

import logging

from django.db import transaction
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from leanladder.records.plans import unfinished
from leanladder.web.jobs.plans import work_out
from leanladder.web.plans import ask_again

log = logging.getLogger(__name__)


def take_up() -> int:
    """Put jobs that were running when the worker ended back in the queue; return how many.

    Plans that wait for a job that nobody has are asked for anew: they count as well.
    """
    with transaction.atomic():
        cut = DBTaskResult.objects.filter(status=TaskResultStatus.RUNNING)
        count = cut.update(status=TaskResultStatus.READY, started_at=None)
        asked_for = _asked_for()
        lost = [plan for plan in unfinished() if plan.pk not in asked_for]
        for plan in lost:
            ask_again(plan)
    if count or lost:
        log.warning("%d jobs and %d plans were cut short; they begin again", count, len(lost))
    return count + len(lost)


def _asked_for() -> set[int]:
    """The keys of the plans that a job stands for."""
    waiting = DBTaskResult.objects.filter(status=TaskResultStatus.READY, task_path=work_out.module_path)
    return {int(each["args"][0]) for each in waiting.values_list("args_kwargs", flat=True)}
