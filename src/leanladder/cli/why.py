"""`leanladder why`: everything behind one limit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli import asked as ask
from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import all_warnings, notices, worded
from leanladder.domain.errors import Fault, InputError

if TYPE_CHECKING:
    from leanladder.domain.why import Why

LapOption = Annotated[int, typer.Option("--lap", help="The lap, from 1.")]
CornerOption = Annotated[int, typer.Option("--corner", help="The corner, by its number.")]
LapsOption = Annotated[
    int | None, typer.Option("--laps", help="How many laps the ladder has, 1 to 40. [default: up to --lap]")
]


def why(
    *,
    lap: LapOption,
    corner: CornerOption,
    circuit: Annotated[Path, typer.Option("--circuit", help="The circuit's GPX, GeoJSON or CSV file.")],
    air: Annotated[float, typer.Option("--air", help="Air temperature, degC.")],
    start: Annotated[str, typer.Option("--start", metavar="S", help=options.START_HELP)],
    rider: options.RiderOption,
    laps: LapsOption = None,
    notes: options.NotesOption = None,
    reverse: options.ReverseFlag = False,
    closed_course: options.ClosedFlag = False,
    tyre: options.TyreOption = None,
    front: options.FrontOption = None,
    rear: options.RearOption = None,
    track: options.TrackOption = None,
    humidity: options.HumidityOption = None,
    seen_dry: options.DryFlag = False,
    wind: options.WindOption = 2.0,
    cloud: options.CloudOption = 0.5,
    place: options.PlaceOption = None,
    at: options.AtOption = None,
    surface: options.SurfaceOption = "ordinary",
    machine: options.MachineOption = "middleweight-sport",
    cold_pressure: options.ColdPressureOption = None,
    altitude: options.AltitudeOption = 0.0,
    as_json: JsonFlag = False,
) -> None:
    """Print why the limit at one corner on one lap is what it is, and what one change would do.

    A guide only, for a closed course in the dry. It takes what `plan` takes, and --lap and --corner.
    """
    _check(lap)
    from leanladder.cli import session as asking  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.planning.why import why as answer  # noqa: PLC0415  # the compiled kernel

    asked = asking.Asked(
        circuit=circuit, notes=notes, reverse=reverse, closed_course=closed_course,
        tyre=tyre, front=front, rear=rear, air_c=air, track_c=track, humidity_pct=humidity,
        seen_dry=seen_dry, wind_mps=wind, cloud=cloud, place=place, at=at, start=start,
        laps=lap if laps is None else laps, rider=rider, surface=surface, machine=machine,
        cold_pressure=cold_pressure, altitude_m=altitude,
    )  # fmt: skip
    asked_for, codes = asking.session(asked)
    with ask.in_options():
        found = answer(asked_for, lap, corner)
    print_why(found, codes, as_json=as_json)


def _check(lap: int) -> None:
    """Refuse a lap that no ladder has, before anything is read."""
    if not ask.LAPS.holds(lap):
        remedy = "Laps count from 1." if lap < 1 else "No ladder has more."
        raise InputError(
            "no ladder has such a lap.", Fault(None, None, "--lap", str(lap), ask.LAPS.text(), remedy)
        )


def print_why(answer: Why, road_codes: tuple[str, ...], *, as_json: bool) -> None:
    """Print an answer in words and tables, or as one JSON object."""
    from leanladder.cli.why_table import why_text  # noqa: PLC0415  # only when needed
    from leanladder.interchange.why import why_object  # noqa: PLC0415  # only when needed

    spoken = language()
    sentences = worded(answer.sentences, spoken)
    whats = worded((change.what for change in answer.changes), spoken)
    nots = (change.why_not for change in answer.changes)
    refused = [None if each is None else worded([each], spoken)[0].text for each in nots]
    changes = [(what.text, why_not) for what, why_not in zip(whats, refused, strict=True)]
    said = {
        "sentences": sentences,
        "cautions": notices(answer.ladder.cautions, spoken),
        "warnings": all_warnings(answer.ladder, road_codes, spoken),
    }
    if as_json:
        emit_json(why_object(answer, changes=changes, **said))
    else:
        emit(why_text(answer, changes=changes, language=spoken, **said))
