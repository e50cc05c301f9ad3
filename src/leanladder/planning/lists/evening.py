"""The list of the evening before: what to pack, tyres, who stays in, what to look up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from leanladder import wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import DayList, ListPart
from leanladder.domain.sentence import Sentence
from leanladder.planning.day_check import assumptions
from leanladder.planning.day_machines import riders_of, start_of
from leanladder.planning.lists.choice import Plans
from leanladder.planning.lists.told import each_once, joined, tongue
from leanladder.planning.sets import SETS

BANDS: tuple[BandEnd, ...] = tuple(SETS.values())
# Whose refusal is the tyre's own and holds all day.
UNFIT = ("plugged", "too_old")
# Remarks on tyres that are changed, and those on tyres that are looked at again.
_CHANGED = ("condition.worn",)
_LOOKED_AT = ("condition.squared", "condition.old", "condition.cycles")
_FORECAST = ("humidity_unknown", "cloud_unknown", "wind_unknown", "weather_held", "track_assumed")


def evening_list(day: Day, circuit: Circuit, plans: Plans, language: str) -> DayList:
    """Return the list of the evening before, from the day's plans by end of its band.

    Raises InputError as the day's plan would.
    """
    change = each_once(_change(plans))
    return DayList(
        kind="evening",
        school=day.school,
        circuit=circuit.name,
        date=day.date,
        language=language,
        parts=(
            ListPart("lists.head_pack", tuple(_pack(day, changes=bool(change)))),
            ListPart("lists.head_change", change or (Sentence("lists.change_none"),)),
            ListPart("lists.head_stays_in", tuple(_stays_in(plans, language)) or _nobody()),
            ListPart("lists.head_look_at", tuple(_look_at(day, plans))),
            ListPart("lists.head_forecast", tuple(_forecast(day, circuit))),
        ),
    )


def _nobody() -> tuple[Sentence, ...]:
    return (Sentence("lists.stays_in_nobody"),)


def _pack(day: Day, *, changes: bool) -> Iterator[Sentence]:
    yield Sentence("lists.pack_gauge")
    yield Sentence("lists.pack_pump")
    yield Sentence("lists.pack_thermometer")
    machines = {machine.name: machine for machine in day.machines}
    warmed = (
        rider.machine
        for session in day.sessions
        for rider in riders_of(day, session)
        if (start := start_of(session, machines[rider.machine])) is not None and start.kind == "warmers"
    )
    names = joined(warmed)
    if names:
        yield Sentence("lists.pack_warmers", {"machines": names})
    if changes:
        yield Sentence("lists.pack_tyres")
    yield Sentence("lists.pack_sets")
    yield Sentence("lists.pack_board")


def _change(plans: Plans) -> Iterator[Sentence]:
    """Tyres to change: those that must not go out, worn ones, and those that suit no cold morning."""
    for code in UNFIT:
        names = joined(name for entry in _all(plans) if _refused(entry) == code for name in entry.machines)
        if names:
            yield Sentence(f"lists.change_{code}", {"machines": names})
    yield from (remark for entry in _all(plans) for remark in entry.remarks if remark.code in _CHANGED)
    likely = dict.fromkeys(_too_cold(plans.get("likely", ())))
    for unfit in likely | dict.fromkeys(_too_cold(plans.get("cold", ()))):
        code = "lists.change_cold" if unfit in likely else "lists.change_if_cold"
        yield Sentence(code, dict(zip(("end", "family", "machines"), unfit, strict=True)))


def _all(plans: Plans) -> Iterator[DayLadder]:
    return chain.from_iterable(plans.get(band, ()) for band in BANDS)


def _refused(entry: DayLadder) -> str | None:
    return None if entry.refusal is None else entry.refusal.code


def _too_cold(entries: Sequence[DayLadder]) -> Iterator[tuple[str, str, str]]:
    for entry in entries:
        ladder = entry.ladder
        if ladder is None or all(warning.code != "tyre_unfit_cold" for warning in ladder.warnings):
            continue
        for end, family in zip(("front", "rear"), entry.tyres, strict=True):
            if _stays_below(ladder, end):
                yield end, family, joined(entry.machines)


def _stays_below(ladder: Ladder, end: str) -> bool:
    """Whether no part of a tyre reaches its range on the laps planned."""
    fitted = ladder.session.front if end == "front" else ladder.session.rear
    read = (getattr(rung, end) for lap in ladder.laps for rung in lap.rungs)
    return all(
        max(rubber.left_c, rubber.centre_c, rubber.right_c) < fitted.tyre.working_low_c.value
        for rubber in read
    )


def _stays_in(plans: Plans, language: str) -> Iterator[Sentence]:
    """Who must not go out on what, by name, and sessions that have no number in a set."""
    found: dict[tuple[str, str, str], dict[str, list[str]]] = {}
    for name, band in SETS.items():
        for entry in plans.get(band, ()):
            code = _refused(entry)
            for who in zip(entry.riders, entry.machines, strict=True) if code else ():
                told = found.setdefault((*who, code or ""), {})
                told.setdefault(entry.session.name, []).append(name.upper())
    for (rider, machine, code), told in found.items():
        figures: dict[str, object] = {"rider": rider, "machine": machine}
        figures["why"] = wording.unmarked(code, tongue(language))
        if code in UNFIT:
            yield Sentence("lists.stays_in", figures)
            continue
        for sets, sessions in _by_sets(told).items():
            yield Sentence("lists.stays_in_sets", figures | {"sets": sets, "sessions": joined(sessions)})


def _by_sets(told: dict[str, list[str]]) -> dict[str, list[str]]:
    """Sessions together that have no number in the same sets."""
    found: dict[str, list[str]] = {}
    for session, sets in told.items():
        found.setdefault(joined(sets), []).append(session)
    return found


def _look_at(day: Day, plans: Plans) -> Iterator[Sentence]:
    ridden = {rider.machine for session in day.sessions for rider in riders_of(day, session)}
    for end in ("both", "front", "rear"):
        names = joined(
            machine.name for machine in day.machines if machine.name in ridden and _unlooked(machine) == end
        )
        if names:
            yield Sentence("lists.look_at", {"end": end, "machines": names})
    yield from each_once(
        remark for entry in _all(plans) for remark in entry.remarks if remark.code in _LOOKED_AT
    )
    yield Sentence("lists.look_at_all")


def _unlooked(machine: object) -> str | None:
    """Which of a machine's tyres nobody has looked at."""
    ends = [end for end in ("front", "rear") if getattr(machine, f"{end}_state") is None]
    return None if not ends else "both" if len(ends) > 1 else ends[0]


def _forecast(day: Day, circuit: Circuit) -> Iterator[Sentence]:
    found: dict[str, list[str]] = {}
    for assumption in assumptions(day, circuit):
        if assumption.code in _FORECAST and assumption.name is not None:
            found.setdefault(assumption.code, []).append(assumption.name)
    for code, sessions in found.items():
        yield Sentence(f"lists.forecast_{code}", {"sessions": joined(sessions)})
    if all(hour.air.cold_c == hour.air.mild_c for hour in day.weather):
        yield Sentence("lists.forecast_no_band")
    yield Sentence("lists.forecast_again")
    yield Sentence("lists.forecast_rain")
