"""How far the ladders of a day as it stands are, found without writing its file anew each time."""

from __future__ import annotations

from typing import NamedTuple

from django.core.cache import cache

from leanladder.records import latest
from leanladder.web import plans

KEEP_S = 3600


class Working(NamedTuple):
    """How far: state, runs done and to do, why it failed, and the digest of what they rest on."""

    state: str
    done: int
    of: int
    error: str
    digest: str


class Road(NamedTuple):
    """What a run's ladders rest on: track and air [degC], where the track's figure came from."""

    track_c: float
    air_c: float
    origin: str


def working(day_pk: int) -> Working:
    """Return how far the ladders of a day as it stands are, and see to it that they are worked out.

    Writing the day's file takes a tenth of a second: its digest is kept as long as nothing was saved.
    """
    key = f"live:digest:{day_pk}:{latest.mark_of_saves(day_pk)}"
    digest = cache.get(key)
    if digest is None:
        digest = plans.inputs_of(day_pk).digest()
        cache.set(key, digest, KEEP_S)
    plan = latest.plan_state(day_pk, digest)
    if plan is None:
        return Working(*plans.progress(day_pk), digest)
    return Working(plan.state, plan.done, plan.of, plan.error, digest)


def roads(day_pk: int, how_far: Working) -> dict[str, Road]:
    """Return what each run's ladders rest on, by the runs' names; none while they are worked out."""
    if how_far.state != "done":
        return {}
    key = f"live:roads:{day_pk}:{how_far.digest}"
    found: dict[str, Road] | None = cache.get(key)
    if found is None:
        found = _roads(day_pk)
        cache.set(key, found, KEEP_S)
    return found


def _roads(day_pk: int) -> dict[str, Road]:
    worked = plans.worked(day_pk)
    found: dict[str, Road] = {}
    for entry in () if worked is None else worked.entries:
        if entry.ladder is not None:
            session = entry.ladder.session
            road = Road(session.road.open_c, session.weather.air_c, session.road.origin)
            found.setdefault(entry.session.name, road)
    return found
