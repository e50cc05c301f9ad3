"""From what was asked of `leanladder plan` to a Session, or a refusal."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from leanladder import catalogue
from leanladder.cli import asked as ask
from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.rider import Level
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start, Surface
from leanladder.domain.tyre import TyreFamily
from leanladder.domain.weather import Weather
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.morning import settle_road
from leanladder.planning.weather_checks import check_weather
from leanladder.wording import text


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The options of `leanladder plan` as typed; temperatures [degC], wind [m/s], altitude [m].

    chance is checked already.
    """

    circuit: Path
    notes: Path | None
    reverse: bool
    closed_course: bool
    tyre: str | None
    front: str | None
    rear: str | None
    air_c: float
    track_c: float | None
    humidity_pct: float | None
    seen_dry: bool
    wind_mps: float
    cloud: float
    place: str | None
    at: str | None
    start: str
    laps: int
    rider: str
    surface: str
    machine: str
    cold_pressure: str | None
    altitude_m: float
    chance: Chance = Chance()  # noqa: RUF009  # frozen


def session(asked: Asked) -> tuple[Session, tuple[str, ...]]:
    """Return the session that was asked for, and the codes of the road's warnings.

    What was typed is checked before any circuit is read. Raises InputError for what cannot be used,
    and OutsideModelError where the model does not apply.
    """
    known = _known(asked)
    circuit = closed_circuit(asked)
    weather = _at_circuit(known.weather, asked, circuit)
    with ask.in_options():
        road, codes = settle_road(weather, has_shade=bool(circuit.shaded.any()))
    if asked.notes is None and _shade_would_stop(weather):
        codes = (*codes, "shade_unknown")
    made = Session(
        circuit=circuit,
        weather=weather,
        road=road,
        front=known.front,
        rear=known.rear,
        motorcycle=known.motorcycle,
        level=known.level,
        start=known.start,
        surface=known.surface,
        laps=asked.laps,
        cold_pressure=known.cold_pressure,
        chance=asked.chance,
    )
    return made, codes


def _shade_would_stop(weather: Weather) -> bool:
    """Whether a stretch in the shade, which nobody spoke of, would be too cold or damp for a number."""
    try:
        settle_road(weather, has_shade=True)
    except OutsideModelError:
        return True
    return False


def wanted_hot_bar(text: str | None) -> tuple[float, float] | None:
    """Return the hot pressures asked for, front and rear [bar], None where none are."""
    return None if text is None else ask.hot_pressure(text)


class _Known(NamedTuple):
    """What was typed, as domain values, before the circuit is read."""

    weather: Weather
    start: Start
    level: Level
    surface: Surface
    motorcycle: Motorcycle
    front: FittedTyre
    rear: FittedTyre
    cold_pressure: ColdPressure


def _known(asked: Asked) -> _Known:
    ask.within("--laps", asked.laps, ask.LAPS)
    weather = _weather(asked)
    with ask.in_options():
        check_weather(weather)
    start = ask.start(asked.start)
    motorcycle = catalogue.motorcycle(asked.machine)
    # Cold tyres set this morning at a usual figure of the machine's: to reckon from, never advice.
    usual = ColdPressure(motorcycle.front.cold_bar.value, motorcycle.rear.cold_bar.value, asked.air_c)
    return _Known(
        weather,
        start,
        catalogue.level(asked.rider),
        catalogue.surface(asked.surface),
        motorcycle,
        *tyres(asked),
        usual if asked.cold_pressure is None else ask.cold_pressure(asked.cold_pressure),
    )


def tyres(asked: Asked) -> tuple[FittedTyre, FittedTyre]:
    """Return the front and the rear tyre of the families asked for."""
    front = _family(asked.front or asked.tyre, "--front")
    rear = _family(asked.rear or asked.tyre, "--rear")
    return FittedTyre(front.name, front.front), FittedTyre(rear.name, rear.rear)


def _family(name: str | None, option: str) -> TyreFamily:
    if name is None:
        remedy = f"Give --tyre for both ends, or {option}."
        raise InputError("no tyre is named.", Fault(None, None, option, None, _listed(), remedy))
    return catalogue.tyre_family(name)


def _listed() -> str:
    return ", ".join(catalogue.tyre_names()) + ", or a tyre file"


def closed_circuit(asked: Asked) -> Circuit:
    """Return the circuit of the files asked for; raises OutsideModelError if none says it is closed."""
    notes = None if asked.notes is None else read_notes(asked.notes)
    outline = read_outline(asked.circuit)
    circuit = circuits.build(outline, notes, reverse=asked.reverse, closed_course=asked.closed_course)
    return closed(circuit, asked.circuit)


def closed(circuit: Circuit, file: Path) -> Circuit:
    """Return a circuit of a file as it is; raises OutsideModelError if nothing says that it is closed."""
    if circuit.closed_course:
        return circuit
    code = "not_closed_course"
    raise OutsideModelError(code, text(code), Fault(file=str(file), remedy=text(f"remedy.{code}")))


def _weather(asked: Asked) -> Weather:
    latitude_deg, longitude_deg = (None, None) if asked.place is None else ask.place(asked.place)
    return Weather(
        air_c=asked.air_c,
        track_c=asked.track_c,
        humidity_pct=asked.humidity_pct,
        wind_mps=asked.wind_mps,
        cloud=asked.cloud,
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        altitude_m=asked.altitude_m,
        seen_dry=asked.seen_dry,
    )


def _at_circuit(weather: Weather, asked: Asked, circuit: Circuit) -> Weather:
    """Return the weather with its time, by the circuit's zone, and the circuit's place if none was given."""
    at = None if asked.at is None else ask.moment(asked.at, circuit.zone)
    if weather.latitude_deg is not None:
        return replace(weather, at=at)
    return replace(weather, at=at, latitude_deg=circuit.latitude_deg, longitude_deg=circuit.longitude_deg)
