"""What pages that ask every few seconds need of a day, in few and small queries."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db.models import Max

from leanladder.records.given import REPLACED
from leanladder.records.models import Change, Given, Lowered, Measured, Plan, Rained, Seen, Standing


def mark_of_saves(day_pk: int) -> str:
    """Return a short name of the last saves that a plan of a day may rest on; it changes with each of them.

    Every save of the records that make a day's file leaves a change, whichever day it is for.
    """
    change = Change.objects.aggregate(last=Max("pk"))["last"]
    measured = Measured.objects.filter(day=day_pk).aggregate(last=Max("pk"))["last"]
    lowered = Lowered.objects.filter(day=day_pk).aggregate(last=Max("pk"), ended=Max("ended_at"))
    ended = lowered["ended"] and lowered["ended"].timestamp()
    return f"{change}-{measured}-{lowered['last']}-{ended}"


def mark_of_calls(day_pk: int, run_name: str) -> str:
    """Return a short name of all that cards of a run may be given out on; it changes with each call.

    That is what was saved, rain, what was made void of the day, what was given out of the run, its stops.
    """
    void = Given.objects.filter(day=day_pk, void_at__isnull=False).exclude(void_why=REPLACED)
    called = sorted((pk, at.timestamp()) for pk, at in void.values_list("pk", "void_at") if at)
    rained = Rained.objects.filter(day=day_pk).aggregate(Max("pk"))["pk__max"]
    last = Given.objects.filter(day=day_pk, run_name=run_name).aggregate(Max("pk"))["pk__max"]
    stops = Standing.objects.filter(day=day_pk, ended_at=None).values_list("pk", "run_name")
    own = sorted(pk for pk, name in stops if name in {None, run_name})
    return f"{mark_of_saves(day_pk)} {rained} {called} {last} {own}"


def plan_state(day_pk: int, digest: str) -> Plan | None:
    """Return the plan of a digest without its content, None where there is none."""
    return Plan.objects.filter(day=day_pk, digest=digest).defer("content").first()


def last_changes(day_pk: int) -> dict[str, datetime]:
    """Return when something was last measured, by the run it was for; under no name for all.

    Limits that were lowered or let up count for all.
    """
    found = dict(Measured.objects.filter(day=day_pk).order_by("at").values_list("run_name", "at"))
    for at, ended_at in Lowered.objects.filter(day=day_pk).values_list("at", "ended_at"):
        found[""] = max(each for each in (found.get(""), at, ended_at) if each is not None)
    return found


def last_seen(link_pks: Iterable[int]) -> dict[int, datetime]:
    """Return when the phones of links asked last, by the links' keys; nothing for those that never did."""
    rows = Seen.objects.filter(link__in=list(link_pks), last_at__isnull=False)
    return dict(rows.values_list("link").annotate(last=Max("last_at")).order_by())
