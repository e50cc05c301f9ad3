"""What a day's plan would assume, before anything is planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from leanladder import catalogue, wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Coach, Day, DayMachine, DaySession, Rider
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.weather import Weather
from leanladder.planning.day_machines import Ready, checked, riders_of, start_of
from leanladder.planning.day_tyres import is_scrubbed, unstated
from leanladder.planning.day_weather import (
    STILL,
    check_road,
    hours_around,
    is_beyond,
    minute_of,
    road_state,
    weather_at,
)
from leanladder.planning.laps import MOST_LAPS
from leanladder.planning.morning import settle_road

About = Literal["day", "session", "machine", "rider"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """One thing assumed, about the day, a session, machine or rider by name: a code and its figures.

    refusal stands for a session without a number, and says why in place of a text by the code, or after it
    where the code is of an end of the band.
    """

    about: About
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
    figures = {
        name: wording.text(f"end.{value}", language) if name == "end" else value
        for name, value in assumption.figures.items()
    }
    refusal = assumption.refusal
    if refusal is None:
        return wording.text(f"assume.{assumption.code}", language, **figures)
    why = " ".join((wording.text(refusal.code, language), refusal.fault.remedy or "")).strip()
    if assumption.code == refusal.code:
        return why
    return f"{wording.text(f'assume.{assumption.code}', language, **figures)} {why}"


def _of_day(day: Day, circuit: Circuit) -> Iterator[Assumption]:
    place = day.latitude_deg is None and circuit.latitude_deg is None
    unknown = {
        "notes_unknown": day.notes is None,
        "zone_unknown": circuit.zone is None,
        "place_unknown": place,
        "altitude_unknown": day.altitude_m is None,
        "surface_unknown": day.surface is None,
        "head_unknown": day.head is None,
    }
    yield from (Assumption("day", None, code) for code, is_so in unknown.items() if is_so)
    yield from _of_band(day)
    yield Assumption("day", None, "between_hours")
    yield Assumption("day", None, "starts")
    yield Assumption("day", None, "cooling")
    if not all(map(is_scrubbed, day.machines)):
        yield Assumption("day", None, "opening")
    yield Assumption("day", None, "upright")
    for group in day.groups:
        if not group.coaches:
            yield Assumption("day", None, "no_coach", {"group": group.name})
    yield from _of_paper(day)


def _of_band(day: Day) -> Iterator[Assumption]:
    """What stands for the air: the likely figure, and for an end of the band that nobody stated."""
    yield Assumption("day", None, "likely_air")
    for end in ("cold", "mild"):
        unstated_at = [
            f"{hour.at:%H:%M}" for hour in day.weather if getattr(hour.air, f"{end}_c") == hour.air.likely_c
        ]
        if unstated_at:
            yield Assumption("day", None, f"no_{end}_end", {"at": _listed(unstated_at)})
    yield Assumption("day", None, "band_rest")


def _of_paper(day: Day) -> Iterator[Assumption]:
    """Who reads in which language and print: what nobody stated is English, in ordinary print."""
    readers: tuple[Coach | Rider, ...] = (*day.coaches, *day.riders)
    english = [each.name for each in readers if each.language == "en"]
    if english:
        yield Assumption("day", None, "english", {"names": _listed(english)})
    ordinary = [rider.name for rider in day.riders if not rider.large_print]
    if ordinary:
        yield Assumption("day", None, "ordinary_print", {"names": _listed(ordinary)})
    for coach in day.coaches:
        if coach.language not in wording.languages():
            yield Assumption("day", None, "coach_language", {"coach": coach.name, "wanted": coach.language})


def _listed(names: Iterable[str]) -> str:
    return ", ".join(names)


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
        _check_road(day, session)
        road, _ = settle_road(weather, has_shade=bool(circuit.shaded.any()))
    except OutsideModelError as refusal:
        yield Assumption("session", session.name, refusal.code, refusal=refusal)
        return
    yield assumed(f"track_{road.origin}", track_c=f"{road.open_c:.0f}", spread=f"{road.spread_k:g}")
    yield from _of_ends(day, circuit, session, weather)
    if session.minutes is not None:
        yield assumed("laps_from_minutes", minutes=f"{session.minutes:g}", most=MOST_LAPS)
    yield from _of_starts(day, session, riders, rode)
    rode.update((rider.machine, session.name) for rider in riders)


def _check_road(day: Day, session: DaySession) -> None:
    """Check the road's state as far as the session is known to last; raises OutsideModelError."""
    check_road(day, session.at, minute_of(session.at) + (session.minutes or 0.0))


def _of_ends(day: Day, circuit: Circuit, session: DaySession, likely: Weather) -> Iterator[Assumption]:
    """Ends of the band at which the session has no number."""
    ends: tuple[BandEnd, ...] = ("cold", "mild")
    for end in ends:
        weather = weather_at(day, circuit, session.at, band=end)
        if weather == likely:
            continue
        try:
            settle_road(weather, has_shade=bool(circuit.shaded.any()))
        except OutsideModelError as refusal:
            yield Assumption("session", session.name, f"refused_{end}", refusal=refusal)


def _of_starts(
    day: Day, session: DaySession, riders: Iterable[Rider], rode: Mapping[str, str]
) -> Iterator[Assumption]:
    """How each machine starts, where the session does not say it, and what a stated stop leaves open."""
    machines = {machine.name: machine for machine in day.machines}
    for name in (rider.machine for rider in riders):
        start, before = start_of(session, machines[name]), rode.get(name)
        code = "start_machine" if start else "start_cold" if before is None else "start_after"
        if session.start is None:
            yield Assumption("session", session.name, code, {"machine": name, "session": before})
        if start is not None and start.kind == "stopped":
            sky = "stood_sun" if start.in_sun else "stood_shade"
            yield Assumption("session", session.name, sky, {"machine": name})


def _of_weather(day: Day, session: DaySession, weather: Weather) -> Iterator[Assumption]:
    before, after, _ = hours_around(day, session.at)
    if road_state(day, session.at) is None:
        yield Assumption("session", session.name, "road_unknown")
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
    fitted = (("front", ready.front), ("rear", ready.rear))
    for end, tyre in fitted:
        if tyre.tyre.minimum_cold_bar is None:
            yield assumed("no_minimum", end=end, family=tyre.family)
    known = all(tyre.tyre.minimum_cold_bar is not None for _, tyre in fitted)
    if machine.minimum is None and known:
        yield assumed("minimum_of_file")
    if machine.hot is None and known:
        yield assumed("hot_unknown")
    if machine.home is None:
        yield assumed("home_unknown")
    for end, state in (("front", machine.front_state), ("rear", machine.rear_state)):
        yield from (assumed(code, end=end) for code in unstated(state))
    yield from _of_looks(machine)


def _of_looks(machine: DayMachine) -> Iterator[Assumption]:
    """What is taken of tyres that someone looked at, and did not find worth stating."""
    looked = [(end, getattr(machine, f"{end}_state")) for end in ("front", "rear")]
    states = {end: state for end, state in looked if state is not None}
    for code, is_so in (
        ("crown_round", [end for end, state in states.items() if state.crown == "round"]),
        ("no_plug", [end for end, state in states.items() if not state.plugged]),
    ):
        if is_so:
            end = "both" if len(is_so) == len(looked) else is_so[0]
            yield Assumption("machine", machine.name, code, {"end": end})


def _of_rider(rider: Rider) -> Iterator[Assumption]:
    usual = catalogue.level(rider.level).usual_lean_deg.value
    if rider.usual_lean_deg is None:
        yield Assumption("rider", rider.name, "usual_lean", {"usual_deg": f"{usual:.0f}"})
    elif rider.usual_lean_deg > usual:
        yield Assumption("rider", rider.name, "usual_lean_most", {"usual_deg": f"{usual:.0f}"})
    if rider.language not in wording.languages():
        yield Assumption("rider", rider.name, "language", {"wanted": rider.language})
