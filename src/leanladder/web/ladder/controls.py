"""The controls of a try: what each shows, and what it wishes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any
from urllib.parse import urlencode

from leanladder import catalogue
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.session import Session, Start
from leanladder.planning.why.figures import warmers, why_figures
from leanladder.web.ladder import said
from leanladder.web.ladder.pictures import Reader

# Cloud by the share of the sky that it covers, as an instructor names it.
SKIES = {"clear": 0.0, "thin": 0.25, "half": 0.5, "most": 0.75, "all": 1.0}
AS_IS = ""
NAMES = ("track", "air", "sky", "start", "tyre", "level")


@dataclass(frozen=True, slots=True)
class Control:
    """One control: its name, its label, what it stands at and what it is as planned, in the reader's words.

    choices: (value, words) of a list, none for a figure, whose unit is told.
    """

    name: str
    label: str
    value: str
    own: str
    choices: tuple[tuple[str, str], ...] = ()
    unit: str = ""


def controls(session: Session, typed: Mapping[str, str], reader: Reader) -> list[Control]:
    """Return a session's controls as they were last moved."""
    own_c = {"track": session.road.open_c, "air": session.weather.air_c}
    figures = [
        Control(name, reader.say(f"ladder.try_{name}"), typed.get(name) or own, own, unit=reader.units.degree)
        for name, own in ((name, reader.units.nearest(value_c)) for name, value_c in own_c.items())
    ]
    lists = {
        "sky": _skies(session, reader),
        "start": _starts(session, reader),
        "tyre": _tyres(session),
        "level": _levels(session),
    }
    return figures + [
        Control(name, reader.say(f"ladder.try_{name}"), typed.get(name, AS_IS), AS_IS, tuple(choices))
        for name, choices in lists.items()
    ]


def wishes(session: Session, typed: Mapping[str, str], reader: Reader) -> dict[str, Any]:
    """Return what is wished by what stands in the controls; raises InputError for what cannot be read."""
    own_c = {"track": session.road.open_c, "air": session.weather.air_c}
    found: dict[str, Any] = {}
    for name, value_c in own_c.items():
        if (text := typed.get(name, "").strip()) and text != reader.units.nearest(value_c):
            found[f"{name}_c"] = reader.units.celsius(_number(text, reader.say(f"ladder.try_{name}")))
    if sky := typed.get("sky"):
        found["cloud"] = _picked(SKIES, sky, "sky")
    if start := typed.get("start"):
        found["start"] = asdict(_picked(_start_kinds(), start, "start"))
    if tyre := typed.get("tyre"):
        found["tyre"] = _picked({name: name for name in catalogue.tyre_names()}, tyre, "tyre")
    if level := typed.get("level"):
        found["level"] = _picked({name: name for name in catalogue.level_names()}, level, "level")
    return found


def query_of(typed: Mapping[str, str]) -> str:
    """Return what stands in the controls as the rest of an address, for links that keep it."""
    kept = {name: typed[name] for name in NAMES if typed.get(name)}
    return f"&{urlencode(kept)}" if kept else ""


def _number(text: str, label: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise InputError("this is no number.", Fault(field=label, value=text[:20])) from None


def _picked(choices: Mapping[str, Any], value: str, field: str) -> Any:  # noqa: ANN401  # whatever a list holds
    if value not in choices:
        raise InputError(
            "there is no such choice.", Fault(field=field, value=value[:20], allowed=", ".join(choices))
        )
    return choices[value]


def _start_kinds() -> dict[str, Start]:
    stop_min = why_figures()["stop_min"]
    return {
        "cold": Start("cold"),
        "warmers": warmers(),
        "shade": Start("stopped", off_min=stop_min),
        "sun": Start("stopped", off_min=stop_min, in_sun=True),
    }


def _skies(session: Session, reader: Reader) -> Iterator[tuple[str, str]]:
    yield AS_IS, reader.say("ladder.as_planned", what=f"{100 * session.weather.cloud:.0f} %")
    for name in SKIES:
        yield name, reader.say(f"ladder.sky_{name}")


def _starts(session: Session, reader: Reader) -> Iterator[tuple[str, str]]:
    yield AS_IS, reader.say("ladder.as_planned", what=said.start(session.start, reader.language))
    for name, start in _start_kinds().items():
        yield name, said.start(start, reader.language)


def _tyres(session: Session) -> Iterator[tuple[str, str]]:
    yield AS_IS, " / ".join(dict.fromkeys((session.front.family, session.rear.family)))
    for name in catalogue.tyre_names():
        yield name, name


def _levels(session: Session) -> Iterator[tuple[str, str]]:
    yield AS_IS, session.level.name
    for name in catalogue.level_names():
        if name != session.level.name:
            yield name, name
