"""Days as planned, by the digest of what went in."""

from __future__ import annotations

from collections.abc import Callable

from django.db import transaction

from leanladder.domain.errors import Fault, InputError
from leanladder.records.day_content import day_of
from leanladder.records.history import utc_now
from leanladder.records.models import Plan

State = Plan.State


@transaction.atomic
def keep_plan(  # noqa: PLR0913  # what a plan is, each by name
    day_pk: int,
    digest: str,
    *,
    state: str = State.DONE,
    done: int = 0,
    of: int = 0,
    content: str = "",
    error: str = "",
) -> Plan:
    """Keep a plan of a day for a digest, new or in place of what was; raises InputError for no such day."""
    told = {
        "state": State(state),
        "done": done,
        "of": of,
        "content": content,
        "error": error,
        "made_at": utc_now(),
    }
    plan, _ = Plan.objects.update_or_create(day=day_of(day_pk), digest=digest, defaults=told)
    return plan


def plan(pk: int) -> Plan:
    """Return a plan by its key; raises InputError where there is none."""
    found = Plan.objects.filter(pk=pk).first()
    if found is None:
        raise InputError("there is no such plan.", Fault(field="plan", value=str(pk)))
    return found


def forget(pk: int) -> None:
    """Take a plan off record that nobody needs any more."""
    Plan.objects.filter(pk=pk).delete()


def plan_of(day_pk: int, digest: str) -> Plan | None:
    """Return the plan of a day for a digest, whole or not; None where nobody asked for one."""
    return Plan.objects.filter(day=day_pk, digest=digest).first()


def progress_of(day_pk: int, digest: str) -> Plan | None:
    """Return a plan as `plan_of` does, but fetch its content, which is large, only when it is looked at."""
    return Plan.objects.filter(day=day_pk, digest=digest).defer("content").first()


def wanted(day_pk: int, digest: str, ask: Callable[[Plan], None]) -> Plan:
    """Return a day's plan for a digest; where nobody asked for it before, a new one is asked for.

    ask: asks for it, within the same transaction, so that no plan waits for a job that nobody has.
    """
    found = progress_of(day_pk, digest)
    if found is not None:
        return found
    with transaction.atomic():
        plan, new = Plan.objects.get_or_create(
            day=day_of(day_pk), digest=digest, defaults={"state": State.WAITING, "made_at": utc_now()}
        )
        if new:
            ask(plan)
            plan.refresh_from_db()
    return plan


def tell_progress(plan_pk: int, done: int, of: int) -> None:
    """Keep how far a plan is."""
    Plan.objects.filter(pk=plan_pk).update(state=State.RUNNING, done=done, of=of)


def unfinished() -> list[Plan]:
    """Return plans that wait or were running: after a power loss, those to begin anew."""
    return list(Plan.objects.filter(state__in=(State.WAITING, State.RUNNING)).defer("content"))


def forget_failed() -> int:
    """Take plans that failed off record, so that they are asked for anew; return how many."""
    gone, _ = Plan.objects.filter(state=State.FAILED).delete()
    return gone


@transaction.atomic
def forget_plans(day_pk: int, keep: int) -> int:
    """Remove a day's plans but for the latest so many, and return how many went; what was given out stays."""
    kept = list(Plan.objects.filter(day=day_pk).values_list("pk", flat=True)[:keep])
    gone, _ = Plan.objects.filter(day=day_pk).exclude(pk__in=kept).delete()
    return gone
