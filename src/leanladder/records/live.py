"""What happens on the day itself: stops, what was measured, limits lowered for all."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from django.db import transaction
from django.db.models import Q

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.day_file import HourIn
from leanladder.records.checking import checked
from leanladder.records.day_content import day_of
from leanladder.records.history import content_of, note, reason_of, utc_now, who_name
from leanladder.records.models import Lowered, Measured, Person, Standing

# Of a reading without air: the check that serves for a day's file asks for one.
_ANY_AIR_C = 10.0
READINGS = ("track_c", "air_c", "cloud", "wind_mps", "humidity_pct")


class Known(NamedTuple):
    """What was measured last before a run, each figure by itself; None where nobody has. at: the latest."""

    track_c: float | None = None
    air_c: float | None = None
    cloud: float | None = None
    wind_mps: float | None = None
    humidity_pct: float | None = None
    seen_dry: bool = False
    at: datetime | None = None


@transaction.atomic
def measure(
    day_pk: int, by: Person | None, *, run_name: str = "", seen_dry: bool = False, **readings: float | None
) -> Measured:
    """Keep what was measured or seen just now, for one run or from now on.

    readings: track_c, air_c [degC], cloud [0..1], wind_mps [m/s], humidity_pct [%], those there are; each
    within what a day's file takes. Raises InputError.
    """
    day = day_of(day_pk)
    strange = next((key for key in readings if key not in READINGS), None)
    if strange is not None:
        raise InputError(f"{strange!r} is no reading.", Fault(field=strange, allowed=", ".join(READINGS)))
    stated = {key: value for key, value in readings.items() if value is not None}
    if not stated and not seen_dry:
        raise InputError("nothing was measured.", Fault(field="track_c", remedy="Give at least one figure."))
    checked(HourIn, {"at": "00:00", "air_c": _ANY_AIR_C, **stated}, "measured")
    return Measured.objects.create(
        day=day, run_name=run_name, at=utc_now(), by_name=who_name(by), seen_dry=seen_dry, **stated
    )


def measured(day_pk: int, run_name: str = "") -> Known:
    """Return what is known of the weather for a run by measuring: figure by figure the latest there is."""
    found: dict[str, float] = {}
    some = list(Measured.objects.filter(Q(run_name="") | Q(run_name=run_name), day=day_pk))
    for row in some:
        for key in READINGS:
            value = getattr(row, key)
            if value is not None:
                found.setdefault(key, value)
    dry = any(row.seen_dry for row in some)
    return Known(**found, seen_dry=dry, at=some[0].at if some else None)


def all_measured(day_pk: int) -> list[Measured]:
    """Return everything that was measured on a day, the latest first."""
    return list(Measured.objects.filter(day=day_pk))


@transaction.atomic
def begin_stop(
    day_pk: int,
    who: Person | None,
    *,
    run_name: str | None = None,
    in_sun: bool = False,
    in_lane: bool = True,
) -> Standing:
    """Keep that a run stopped just now, or all where None; one that stands already is returned as it is."""
    day = day_of(day_pk, lock=True)
    found = day.stops.filter(run_name=run_name, ended_at=None).first()
    if found is not None:
        return found
    kept = Standing.objects.create(
        day=day, run_name=run_name, since=utc_now(), in_sun=in_sun, in_lane=in_lane
    )
    note(kept, was=None, who=who)
    return kept


@transaction.atomic
def change_stop(
    pk: int,
    who: Person | None,
    *,
    in_sun: bool | None = None,
    in_lane: bool | None = None,
    warmers: bool | None = None,
) -> Standing:
    """Change what is known of a stop that lasts; raises InputError.

    warmers: they go on just now, or come off.
    """
    kept = _stop(pk)
    was = content_of(kept)
    kept.in_sun = kept.in_sun if in_sun is None else in_sun
    kept.in_lane = kept.in_lane if in_lane is None else in_lane
    if warmers is not None:
        kept.warmers_at = (kept.warmers_at or utc_now()) if warmers else None
    kept.save()
    note(kept, was=was, who=who)
    return kept


@transaction.atomic
def end_stop(pk: int, who: Person | None) -> Standing:
    """Keep that the wheels roll again; raises InputError for a stop that ended."""
    kept = _stop(pk)
    was = content_of(kept)
    kept.ended_at = utc_now()
    kept.save()
    note(kept, was=was, who=who)
    return kept


def stops(day_pk: int, *, lasting: bool = True) -> list[Standing]:
    """Return a day's stops, the latest first: those that last, or all."""
    found = Standing.objects.filter(day=day_pk)
    return list(found.filter(ended_at=None) if lasting else found)


@transaction.atomic
def lower(  # noqa: PLR0913  # what may be lowered, each by name
    day_pk: int, by: Person | None, reason: str, *, level: str = "", chance_of_100: float | None = None,
    colder_k: float | None = None, quarters: int | None = None,
) -> Lowered:  # fmt: skip
    """Lower limits of all from now on, with a reason: a level, a greater chance, a colder track, quarters.

    Nothing of it may raise one: colder_k [K] and quarters are above nought. Raises InputError.
    """
    stated = {"level": level, "chance_of_100": chance_of_100, "colder_k": colder_k, "quarters": quarters}
    if not any(stated.values()):
        raise InputError("nothing is lowered.", Fault(field="lower", remedy="Choose by what."))
    for key in ("colder_k", "quarters", "chance_of_100"):
        value = stated[key]
        if isinstance(value, int | float) and not value > 0:
            raise InputError(
                "this would not lower it.", Fault(field=key, value=f"{value:g}", allowed="above 0")
            )
    day = day_of(day_pk)
    kept = Lowered.objects.create(
        day=day, reason=reason_of(reason, needed=True), at=utc_now(), by_name=who_name(by), **stated
    )
    note(kept, was=None, who=by, reason=reason)
    return kept


@transaction.atomic
def take_back(pk: int, by: Person | None, why: str) -> Lowered:
    """Let limits be again as they were before they were lowered, with a reason; raises InputError.

    For the head instructor alone: whoever calls sees to that.
    """
    kept = Lowered.objects.select_for_update().filter(pk=pk, ended_at=None).first()
    if kept is None:
        raise InputError("nothing is lowered so.", Fault(field="lower", value=str(pk)))
    was = content_of(kept)
    kept.ended_at, kept.ended_by_name, kept.ended_why = utc_now(), who_name(by), reason_of(why, needed=True)
    kept.save()
    note(kept, was=was, who=by, reason=why)
    return kept


def lowered(day_pk: int) -> list[Lowered]:
    """Return what limits of a day are lowered by now, the latest first."""
    return list(Lowered.objects.filter(day=day_pk, ended_at=None))


def _stop(pk: int) -> Standing:
    found = Standing.objects.select_for_update().filter(pk=pk, ended_at=None).first()
    if found is None:
        raise InputError("this stop has ended.", Fault(field="stop", remedy="Begin another one."))
    return found
