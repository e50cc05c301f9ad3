"""A day made into ladders: one for each distinct combination that goes out."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from leanladder import catalogue
from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder, DaySession, Rider
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import ColdPressure, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.planning import starts
from leanladder.planning.condition import unfit
from leanladder.planning.day_machines import Ready, checked, riders_of, start_of
from leanladder.planning.day_tyres import Tyres, after_session, remarks, tyres_of, with_tyres
from leanladder.planning.day_weather import check_road, minute_of, was_wet, weather_at
from leanladder.planning.ladder import Progress, follow
from leanladder.planning.laps import MOST_LAPS, started
from leanladder.planning.morning import settle_road
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting
from leanladder.planning.tables import shipped_tables


@dataclass(frozen=True, slots=True)
class Left:
    """How a machine's last session left its tyres: the wheels, when [min of the day], which ladder."""

    wheels: Wheels
    ended_min: float
    ladder: int
    session: str


USUAL = Chance()
MOMENT_MIN = 0.01  # as good as nothing: a run has one lap at least


@dataclass(frozen=True, slots=True)
class Again:
    """A run that was stopped and is to roll again: how long it had rolled [min], how long it stood [min].

    in_sun, whether it stood in the sun; on_min [min], how long warmers that a machine has were on again,
    None where they were not.
    """

    run: str
    rolled_min: float
    off_min: float
    in_sun: bool = False
    on_min: float | None = None


@dataclass(frozen=True, slots=True)
class _Ground:
    """What every session of a day stands on: circuit, machines made ready, the air [degC] in the morning.

    chance: how sure caps are to be; progress: who is told the laps of each ladder; again: the run that was
    stopped, None where none was.
    """

    day: Day
    circuit: Circuit
    ready: Mapping[str, Ready]
    morning_c: float
    chance: Chance
    progress: Progress | None
    again: Again | None = None


@dataclass(frozen=True, slots=True)
class _Run:
    """A session with its weather and road; looked: someone has looked at that road and found it dry."""

    session: DaySession
    weather: Weather
    road: Road
    codes: tuple[str, ...]
    looked: bool


@dataclass(frozen=True, slots=True)
class _Kept:
    """What is kept of machines from session to session, by their names: fitted, front and rear by name."""

    left: dict[str, Left]
    tyres: dict[str, Tyres]
    fitted: dict[str, tuple[str, str]]


class Planned(NamedTuple):
    """A combination's entry, and what made its tyres as they began where its session's start does not."""

    entry: DayLadder
    begin: Callable[[Setting], Wheels] | None = None


_Key = tuple[object, ...]


def plan_day(  # noqa: PLR0913  # a day and five things that may be stated beside it
    day: Day,
    circuit: Circuit,
    weathers: Mapping[str, Weather] | None = None,
    *,
    band: BandEnd = "likely",
    instead: Mapping[str, Day] | None = None,
    chance: Chance = USUAL,
    progress: Progress | None = None,
    again: Again | None = None,
) -> tuple[DayLadder, ...]:
    """Return the ladders of a day, as `begun_day` plans them."""
    begun = begun_day(
        day, circuit, weathers, band=band, instead=instead, chance=chance, progress=progress, again=again
    )
    return tuple(planned.entry for planned in begun)


def begun_day(  # noqa: PLR0913  # as plan_day
    day: Day,
    circuit: Circuit,
    weathers: Mapping[str, Weather] | None = None,
    *,
    band: BandEnd = "likely",
    instead: Mapping[str, Day] | None = None,
    chance: Chance = USUAL,
    progress: Progress | None = None,
    again: Again | None = None,
) -> tuple[Planned, ...]:
    """Return the ladders of a day in the order of its sessions, the most careful level first.

    One ladder stands for riders of one session who share level, machine model, tyres, pressures and start.
    A start is the session's own, else the machine's; a machine without either begins on tyres as its
    session before left them, after the time between in the shade, else cold. band says which end of the
    air's band counts, all day; weathers replaces the day's own at sessions by their names, instead the
    whole day: riders and machines as they are for that session alone. Tyres put on for it come as stated.
    Where a session or a combination is refused, its entry carries the refusal and the tyres stay as they
    were. chance holds for every ladder; progress is told the laps done and to do of one after the other.
    again: a run that was stopped is planned from where it stopped, for as long as it has left.
    Raises InputError for what cannot be used.
    """
    given, ready, others = weathers or {}, checked(day), instead or {}
    weather = {
        run.name: given.get(run.name) or weather_at(day, circuit, run.at, band=band) for run in day.sessions
    }
    morning_c = weather[day.sessions[0].name].air_c if day.sessions else 0.0
    usual = _Ground(day, circuit, ready, morning_c, chance, progress, again)
    kept = _Kept({}, tyres_of(day), {each.name: (each.front, each.rear) for each in day.machines})
    found: list[Planned] = []
    for session in day.sessions:
        other = others.get(session.name)
        ground = usual if other is None else replace(usual, day=other, ready=checked(other))
        _refit(ground.day, kept)
        groups = _combinations(ground.day, session, kept)
        try:
            run = _run(ground, session, weather[session.name], given=session.name in given)
        except OutsideModelError as refusal:
            for riders in groups:
                # What a tyre is unfit for does not dry with the road: it is said first.
                why = _unfit(ground.day, riders[0].machine) or refusal
                found.append(Planned(_entry(session, riders, ground.ready, refusal=why)))
            continue
        for riders in groups:
            found.append(_planned(ground, run, riders, kept, len(found)))
    return tuple(found)


def _unfit(day: Day, name: str) -> OutsideModelError | None:
    machine = next(each for each in day.machines if each.name == name)
    return unfit(machine.front_state, machine.rear_state, day.date, shipped_tables().condition)


def _refit(day: Day, kept: _Kept) -> None:
    """Forget how sessions before left tyres where a machine has others fitted by now."""
    fresh = tyres_of(day)
    for machine in day.machines:
        fitted = (machine.front, machine.rear)
        if kept.fitted[machine.name] != fitted:
            kept.fitted[machine.name] = fitted
            kept.left.pop(machine.name, None)
            kept.tyres[machine.name] = fresh[machine.name]


def _combinations(day: Day, session: DaySession, kept: _Kept) -> list[tuple[Rider, ...]]:
    """The session's riders, those together who share all that makes a ladder."""
    machines = {machine.name: machine for machine in day.machines}
    found: dict[_Key, list[Rider]] = {}
    for rider in riders_of(day, session):
        machine = machines[rider.machine]
        start = start_of(session, machine)
        before = kept.left.get(rider.machine) if start is None else None
        gauge = machine.gauge_offset_bar or 0.0 if machine.cold else 0.0
        fitted = (machine.machine, machine.front, machine.rear, machine.cold, gauge, machine.minimum)
        so_far = (kept.tyres[rider.machine].alike, before and before.ladder)
        found.setdefault((rider.level, *fitted, start, *so_far), []).append(rider)
    names = catalogue.level_names()
    return sorted((tuple(riders) for riders in found.values()), key=lambda some: names.index(some[0].level))


def _run(ground: _Ground, session: DaySession, weather: Weather, *, given: bool) -> _Run:
    """A session's weather and road; raises OutsideModelError where the road has no number."""
    day, until_min = ground.day, minute_of(session.at) + (session.minutes or 0.0)
    looked = given and weather.seen_dry
    check_road(day, session.at, until_min, looked=looked)
    road, codes = settle_road(weather, has_shade=bool(ground.circuit.shaded.any()))
    return _Run(session, weather, road, codes, looked)


def _planned(ground: _Ground, run: _Run, riders: tuple[Rider, ...], kept: _Kept, number: int) -> Planned:
    """One combination's entry; its machines' tyres are then as it leaves them."""
    day, session, ready = ground.day, run.session, ground.ready
    name = riders[0].machine
    machine = next(each for each in day.machines if each.name == name)
    start = start_of(session, machine)
    before = kept.left.get(name)
    # Warmth does not outlast a wet road or what stood on it: the first run after it begins cold.
    wet = was_wet(day, 0.0 if before is None else before.ended_min, minute_of(session.at))
    start = Start("cold") if wet else start
    before = before if start is None else None
    gap_min = 0.0 if before is None else _gap_min(day, session, riders[0], before)
    begins = start or (Start("cold") if before is None else Start("stopped", off_min=gap_min))
    asked = with_tyres(_asked(ground, run, riders[0], begins), kept.tyres[name], day)
    try:
        begin = None if before is None else _stood(before, gap_min)
        minutes = session.minutes
        if ground.again is not None and ground.again.run == session.name:
            asked, begin, minutes = rolling_again(asked, begin, minutes, ground.again)
        followed = follow(asked, begin=begin, minutes=minutes, progress=ground.progress)
        last = followed.ladder.laps[-1]
        ended_min = minute_of(session.at) + last.minute + last.time_s / 60.0
        check_road(day, session.at, ended_min, looked=run.looked)
    except OutsideModelError as refusal:
        return Planned(_entry(session, riders, ready, refusal=refusal, codes=run.codes))
    for rider in riders:
        kept.left[rider.machine] = Left(followed.left, ended_min, number, session.name)
        kept.tyres[rider.machine] = after_session(kept.tyres[rider.machine], followed)
    after = None if before is None else before.session
    entry = _entry(session, riders, ready, ladder=followed.ladder, codes=run.codes, after=after)
    told = remarks(machine, entry.machines, followed.ladder)
    told = (Sentence("condition.after_wet"), *told) if wet else told
    return Planned(replace(entry, remarks=told, coach_pace=asked.coach_pace), begin)


def rolling_again(
    asked: Session, begin: Callable[[Setting], Wheels] | None, minutes: float | None, again: Again
) -> tuple[Session, Callable[[Setting], Wheels], float | None]:
    """Return the question, the tyres and the minutes [min] of a run that rolls again after it was stopped.

    The tyres are as the last lap that had ended by then left them, on the cold side; then they stood, or
    were on warmers again where the machine has some.
    """
    warmed = asked.start.kind == "warmers" and again.on_min is not None
    if warmed:
        start = replace(asked.start, on_min=again.on_min or 0.0, off_min=again.off_min)
        return _left_to_do(replace(asked, start=start), minutes, again, started)
    before = follow(asked, begin=begin, minutes=max(again.rolled_min, MOMENT_MIN))
    ended = [
        step for step in before.steps if step.minute + step.ridden.heated.time_s / 60.0 <= again.rolled_min
    ]
    left = Left(ended[-1].ridden.heated.end if ended else before.start, 0.0, 0, again.run)

    def stood(place: Setting) -> Wheels:
        tyres = zip(left.wheels, (place.front, place.rear), strict=True)
        return Wheels(
            *(starts.stood(state, tyre, place, again.off_min, in_sun=again.in_sun) for state, tyre in tyres)
        )

    start = Start("stopped", off_min=again.off_min, in_sun=again.in_sun)
    return _left_to_do(replace(asked, start=start), minutes, again, stood)


def _left_to_do(
    asked: Session, minutes: float | None, again: Again, begin: Callable[[Setting], Wheels]
) -> tuple[Session, Callable[[Setting], Wheels], float | None]:
    """What is left of a stopped run's minutes; a run of laps begins all of them anew."""
    left_min = None if minutes is None else max(minutes - again.rolled_min, MOMENT_MIN)
    return asked, begin, left_min


def _gap_min(day: Day, session: DaySession, rider: Rider, before: Left) -> float:
    gap_min = minute_of(session.at) - before.ended_min
    if gap_min >= 0.0:
        return float(math.ceil(gap_min))  # whole minutes, on the cold side
    fault = Fault(
        file=day.file,
        field=f"sessions, {session.name}",
        value=f"{session.at:%H:%M}",
        remedy="Let it start later, or give the rider another machine.",
    )
    what = f"machine {rider.machine!r} is still out in session {before.session!r}."
    raise InputError(what, fault)


def _stood(before: Left, gap_min: float) -> Callable[[Setting], Wheels]:
    """How the tyres begin that stood in the shade since the session before."""

    def begin(place: Setting) -> Wheels:
        tyres = zip(before.wheels, (place.front, place.rear), strict=True)
        return Wheels(*(starts.stood(state, tyre, place, gap_min, in_sun=False) for state, tyre in tyres))

    return begin


def _asked(ground: _Ground, run: _Run, rider: Rider, start: Start) -> Session:
    """One combination's question; pressures that nobody stated were set once, in the morning's air."""
    machine, day = ground.ready[rider.machine], ground.day
    motorcycle = machine.motorcycle
    usual = ColdPressure(motorcycle.front.cold_bar.value, motorcycle.rear.cold_bar.value, ground.morning_c)
    return Session(
        circuit=ground.circuit,
        weather=run.weather,
        road=run.road,
        front=machine.front,
        rear=machine.rear,
        motorcycle=motorcycle,
        level=catalogue.level(rider.level),
        start=start,
        surface=catalogue.surface(day.surface or "ordinary"),
        laps=run.session.laps or MOST_LAPS,
        cold_pressure=machine.cold or usual,
        chance=ground.chance,
    )


def _entry(  # noqa: PLR0913  # what an entry is made of, each by name
    session: DaySession,
    riders: tuple[Rider, ...],
    ready: Mapping[str, Ready],
    *,
    ladder: Ladder | None = None,
    refusal: OutsideModelError | None = None,
    codes: tuple[str, ...] = (),
    after: str | None = None,
) -> DayLadder:
    machine = ready[riders[0].machine]
    return DayLadder(
        session=session,
        riders=tuple(rider.name for rider in riders),
        machines=tuple(rider.machine for rider in riders),
        machine=machine.motorcycle.name,
        level=riders[0].level,
        tyres=(machine.front.family, machine.rear.family),
        ladder=ladder,
        refusal=refusal,
        road_codes=codes,
        after=after,
    )
