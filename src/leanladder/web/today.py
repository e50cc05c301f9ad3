"""A day as it stands: its file, what was measured since, and limits that were lowered."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from leanladder import catalogue, wording
from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, DaySession
from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.domain.weather import Road, Weather
from leanladder.importers import read_outline
from leanladder.interchange.day import read_day
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.day import Again, plan_day
from leanladder.planning.day_weather import weather_at
from leanladder.planning.morning import settle_road
from leanladder.planning.paper import day_word
from leanladder.planning.sets import at_most

# How long after it was taken a measurement stands for what rolls then: tracks warm and cool.
STANDS = timedelta(minutes=90)
MOST_TURNS, CLOSE_K = 12, 0.01  # of finding a colder track
FIELDS = ("track_c", "air_c", "cloud", "wind_mps", "humidity_pct")
Told = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Reading:
    """What someone measured at an aware time, for one run by name or, without one, for all that roll soon."""

    at: datetime
    run_name: str = ""
    track_c: float | None = None
    air_c: float | None = None
    cloud: float | None = None
    wind_mps: float | None = None
    humidity_pct: float | None = None
    seen_dry: bool = False


@dataclass(frozen=True, slots=True)
class Careful:
    """Limits lowered for all: a level at most, a chance, a track colder by colder_k [K]."""

    level: str = ""
    chance_of_100: float | None = None
    colder_k: float = 0.0


@dataclass(frozen=True, slots=True)
class Inputs:
    """All that a plan of a day counts on: the digest of its file, readings by rising time, lowered limits."""

    file_digest: str
    readings: tuple[Reading, ...] = ()
    careful: tuple[Careful, ...] = ()
    again: Again | None = None

    def digest(self) -> str:
        """Return a name of these inputs together with every figure and law that the plan rests on."""
        return hashlib.sha256(f"{catalogue_digest()}\n{self.written()}".encode()).hexdigest()

    def written(self) -> str:
        """Return them as JSON, for the worker and to be kept with what was handed out."""
        rows = [asdict(each) | {"at": each.at.astimezone(UTC).isoformat()} for each in self.readings]
        again = None if self.again is None else asdict(self.again)
        whole = {
            "file_digest": self.file_digest,
            "readings": rows,
            "careful": [asdict(each) for each in self.careful],
        }
        return json.dumps(whole | {"again": again})

    @staticmethod
    def read(text: str) -> Inputs:
        """Return what was written."""
        whole = json.loads(text)
        readings = (Reading(**row | {"at": datetime.fromisoformat(row["at"])}) for row in whole["readings"])
        careful, again = (Careful(**row) for row in whole["careful"]), whole["again"]
        return Inputs(
            whole["file_digest"], tuple(readings), tuple(careful), None if again is None else Again(**again)
        )


@cache
def catalogue_digest() -> str:
    """Return a short name of the engine and of all figures that ship: they stay while a process runs."""
    from leanladder.engine import ENGINE  # noqa: PLC0415  # a name alone, but it loads the package

    tables = [catalogue.parameters(name) for name in catalogue.table_names()]
    return f"{ENGINE} {catalogue.digest(*tables, catalogue.spreads())}"


class Standing(NamedTuple):
    """A day planned as it stands: its ladders and the word that stands for them."""

    day: Day
    circuit: Circuit
    entries: tuple[DayLadder, ...]
    word: str


def planned(file: Path, inputs: Inputs, told: Told | None = None) -> Standing:
    """Return the ladders of the day in a file as it stands; told hears how many runs are done of how many.

    Raises InputError for a day that cannot be used, OutsideModelError where its course is not closed.
    """
    day = read_day(file)
    circuit = circuit_of(day)
    ladders = 0

    def heard(lap: int, _laps: int) -> None:
        nonlocal ladders
        if lap == 1 and told is not None:
            ladders += 1
            told(ladders, max(ladders, len(day.sessions)))

    if inputs.again is not None:
        day = _until(day, inputs.again.run)
    entries = _entries(day, circuit, inputs, heard)
    if inputs.careful:
        # what is meant to lower limits never raises one: a colder track would on tyres that run too hot
        usual = _entries(day, circuit, replace(inputs, careful=()), heard)
        entries = at_most([entries, usual])[0]
    if inputs.again is not None:
        entries = tuple(entry for entry in entries if entry.session.name == inputs.again.run)
    return Standing(day, circuit, entries, day_word(day, circuit, entries))


def _entries(day: Day, circuit: Circuit, inputs: Inputs, heard: Told) -> tuple[DayLadder, ...]:
    return plan_day(
        day,
        circuit,
        weathers_of(day, circuit, inputs),
        instead=_held(day, inputs.careful),
        chance=_chance(inputs.careful),
        progress=heard,
        again=inputs.again,
    )


def _until(day: Day, run_name: str) -> Day:
    """A day without the runs after one: how they go does not matter for it."""
    names = [run.name for run in day.sessions]
    last = names.index(run_name) + 1 if run_name in names else len(names)
    return replace(day, sessions=day.sessions[:last])


def circuit_of(day: Day) -> Circuit:
    """Return a day's circuit; raises OutsideModelError where nothing says that it is closed."""
    notes = None if day.notes is None else read_notes(day.notes)
    circuit = circuits.build(read_outline(day.circuit), notes)
    if circuit.closed_course:
        return circuit
    code = "not_closed_course"
    fault = Fault(field="circuit", remedy=wording.text(f"remedy.{code}"))
    raise OutsideModelError(code, wording.text(code), fault)


def weathers_of(day: Day, circuit: Circuit, inputs: Inputs) -> Mapping[str, Weather]:
    """Return the weather of each run that a reading or a lowered track speaks of, by its name."""
    found: dict[str, Weather] = {}
    colder_k = sum(each.colder_k for each in inputs.careful)
    for run in day.sessions:
        weather = weather_at(day, circuit, run.at)
        known = _known(inputs.readings, run, rolls_at(day, circuit, run))
        if known:
            weather = replace(weather, **known)
        if colder_k:
            weather = _colder(weather, circuit, colder_k)
        if known or colder_k:
            found[run.name] = weather
    return found


def _colder(weather: Weather, circuit: Circuit, colder_k: float) -> Weather:
    """The weather with its track less some kelvin in sun and shade, doubt included; no number stays none.

    The figure then counts as measured, which is doubted less and shaded otherwise than one computed: so it is
    taken down until the cold side of what is known lies lower by as much as was asked for.
    """
    has_shade = bool(circuit.shaded.any())
    try:
        road, _ = settle_road(weather, has_shade=has_shade)
    except OutsideModelError:
        return weather
    wanted, track_c = [each - colder_k for each in _cold_side(road)], road.open_c - colder_k
    for _ in range(MOST_TURNS):
        try:
            found, _ = settle_road(replace(weather, track_c=track_c), has_shade=has_shade)
        except OutsideModelError:
            break  # there is no number on so cold a track: that is lower too
        over = max(each - low for each, low in zip(_cold_side(found), wanted, strict=True))
        if over < CLOSE_K:
            break
        track_c -= over
    return replace(weather, track_c=track_c)


def _cold_side(road: Road) -> tuple[float, float]:
    """The cold side of what is known of a road in the open and in the shade."""
    return road.open_c - road.spread_k, road.shaded_c - road.spread_k


def rolls_at(day: Day, circuit: Circuit, run: DaySession) -> datetime:
    """Return when a run rolls, as an aware time."""
    return datetime.combine(day.date, run.at, tzinfo=ZoneInfo(circuit.zone or "UTC"))


def _known(readings: tuple[Reading, ...], run: DaySession, rolls: datetime) -> dict[str, Any]:
    """What the latest readings say for a run, field by field; older than STANDS says nothing."""
    known: dict[str, Any] = {}
    for reading in readings:
        soon = not reading.run_name and timedelta(0) <= rolls - reading.at <= STANDS
        if reading.run_name == run.name or soon:
            known |= {name: getattr(reading, name) for name in FIELDS if getattr(reading, name) is not None}
            known |= {"seen_dry": True} if reading.seen_dry else {}
    return known


def _held(day: Day, careful: tuple[Careful, ...]) -> Mapping[str, Day]:
    """The day instead, at every run, with riders at the most careful level that was asked for at most."""
    names = catalogue.level_names()
    at_most = min((names.index(each.level) for each in careful if each.level), default=len(names))
    riders = tuple(
        replace(rider, level=names[min(names.index(rider.level), at_most)]) for rider in day.riders
    )
    if riders == day.riders:
        return {}
    held = replace(day, riders=riders)
    return {run.name: held for run in day.sessions}


def _chance(careful: tuple[Careful, ...]) -> Chance:
    usual = Chance()
    return replace(usual, of_100=max([usual.of_100, *(each.chance_of_100 or 0.0 for each in careful)]))
