"""The job that works a day's ladders out."""

from __future__ import annotations

import logging

from django_tasks import task

from leanladder.domain.errors import LeanladderError
from leanladder.web import plans
from leanladder.web.today import Inputs

log = logging.getLogger(__name__)


@task(priority=50)
def work_out(plan_pk: int, inputs: str) -> None:
    """Work a plan out and keep it; where that fails, why."""
    try:
        plans.work_out_now(plan_pk, Inputs.read(inputs))
    except LeanladderError as error:
        remedy = error.fault.remedy
        plans.failed(plan_pk, " ".join(part for part in (error.message, remedy) if part))
    except Exception:
        log.exception("a plan could not be made")
        plans.failed(plan_pk, "")
        raise
