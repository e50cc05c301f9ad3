"""What a day's plan would assume, before anything is planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from leanladder import catalogue, wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayMachine, DaySession, Rider
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.weather import Weather
from leanladder.planning.day_machines import Ready, checked, riders_of
from leanladder.planning.day_tyres import is_scrubbed, unstated
from leanladder.planning.day_weather import STILL, hours_around, is_beyond, weather_at
from leanladder.planning.ladder import MOST_LAPS
from leanladder.planning.morning import settle_road


@dataclass(frozen=True, slots=True)
class Assumption:
    """One thing assumed, about the day, a session, machine or rider by name: a code and its figures.

    refusal stands for a session without a number, and says why in place of a text by the code.
    """

    about: str
    name: str | None
    code: str
    figures: Mapping[str, object] = field(default_factory=dict)
    refusal: OutsideModelError | None = None


def assumptions(day: Day, circuit: Circuit) -> tuple[Assumption, ...]:
    """Return everything that the plan of a day would assume; raises InputError as the plan would."""
    ready = checked(day)
    found = list(_of_day(day, circuit))
    rode: dict[str, str] = {}
    for session in day.sessions:
        found += _of_session(day, circuit, session, rode)
    for machine in day.machines:
        found += _of_machine(machine, ready[machine.name])
    for rider in day.riders:
        found += _of_rider(rider)
    return tuple(found)


def said(assumption: Assumption, language: str) -> str:
    """Return an assumption in words."""
    refusal = assumption.refusal
    if refusal is None:
        return wording.text(f"assume.{assumption.code}", language, **assumption.figures)
    return " ".join((wording.text(refusal.code, language), refusal.fault.remedy or "")).strip()


def _of_day(day: Day, circuit: Circuit) -> Iterator[Assumption]:
    if circuit.zone is None:
        yield Assumption("day", None, "zone_unknown")
    if day.latitude_deg is None and circuit.latitude_deg is None:
        yield Assumption("day", None, "place_unknown")
    if day.altitude_m is None:
        yield Assumption("day", None, "altitude_unknown")
    if day.surface is None:
        yield Assumption("day", None, "surface_unknown")
    yield Assumption("day", None, "likely_air")
    yield Assumption("day", None, "between_hours")
    yield Assumption("day", None, "cooling")
    if not all(map(is_scrubbed, day.machines)):
        yield Assumption("day", None, "opening")
    yield Assumption("day", None, "upright")


def _of_session(
    day: Day, circuit: Circuit, session: DaySession, rode: dict[str, str]
) -> Iterator[Assumption]:
    def assumed(code: str, **figures: object) -> Assumption:
        return Assumption("session", session.name, code, figures)

    riders = riders_of(day, session)
    if not riders:
        yield assumed("nobody", group=session.group)
    weather = weather_at(day, circuit, session.at)
    if is_beyond(day, session.at):
        yield assumed("weather_held")
    yield from _of_weather(day, session, weather)
    try:
        road, _ = settle_road(weather, has_shade=bool(circuit.shaded.any()))
    except OutsideModelError as refusal:
        yield Assumption("session", session.name, refusal.code, refusal=refusal)
        return
    yield assumed(f"track_{road.origin}", track_c=f"{road.open_c:.0f}", spread=f"{road.spread_k:g}")
    if session.minutes is not None:
        yield assumed("laps_from_minutes", minutes=f"{session.minutes:g}", most=MOST_LAPS)
    if session.start is None:
        for machine in (rider.machine for rider in riders):
            before = rode.get(machine)
            code = "start_cold" if before is None else "start_after"
            yield assumed(code, machine=machine, session=before)
    rode.update((rider.machine, session.name) for rider in riders)


def _of_weather(day: Day, session: DaySession, weather: Weather) -> Iterator[Assumption]:
    before, after, _ = hours_around(day, session.at)
    if weather.humidity_pct is None:
        yield Assumption("session", session.name, "humidity_unknown")
    for name, value in (("cloud", STILL.cloud), ("wind_mps", STILL.wind_mps)):
        if None in {getattr(before, name), getattr(after, name)}:
            code = f"{name.removesuffix('_mps')}_unknown"
            yield Assumption("session", session.name, code, {"taken": f"{value:g}"})


def _of_machine(machine: DayMachine, ready: Ready) -> Iterator[Assumption]:
    def assumed(code: str, **figures: object) -> Assumption:
        return Assumption("machine", machine.name, code, figures)

    if ready.cold is None:
        front, rear = ready.motorcycle.front.cold_bar.value, ready.motorcycle.rear.cold_bar.value
        yield assumed("pressures", front_bar=f"{front:.2f}", rear_bar=f"{rear:.2f}")
    elif machine.gauge_offset_bar is None:
        yield assumed("gauge")
    for end, fitted in (("front", ready.front), ("rear", ready.rear)):
        if fitted.tyre.minimum_cold_bar is None:
            yield assumed("no_minimum", end=end, family=fitted.family)
    for end, state in (("front", machine.front_state), ("rear", machine.rear_state)):
        yield from (assumed(code, end=end) for code in unstated(state))


def _of_rider(rider: Rider) -> Iterator[Assumption]:
    usual = catalogue.level(rider.level).usual_lean_deg.value
    if rider.usual_lean_deg is None:
        yield Assumption("rider", rider.name, "usual_lean", {"usual_deg": f"{usual:.0f}"})
    elif rider.usual_lean_deg > usual:
        yield Assumption("rider", rider.name, "usual_lean_most", {"usual_deg": f"{usual:.0f}"})
    if rider.language not in wording.languages():
        yield Assumption("rider", rider.name, "language", {"wanted": rider.language})
