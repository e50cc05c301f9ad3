"""`leanladder ways`: ways of warming a tyre, compared over the same laps at the same mean speed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import all_warnings, notices
from leanladder.cli.plan import missing
from leanladder.domain.errors import Fault, InputError
from leanladder.wording import text

if TYPE_CHECKING:
    from leanladder.domain.sentence import Sentence

LapsOption = Annotated[
    int | None, typer.Option("--laps", help="How many laps are compared, 1 to 40. [default: 3]")
]
# Only to say in plain words that this command takes none.
NoDay = Annotated[Path | None, typer.Argument(hidden=True, metavar="no DAY")]
CircuitOption = Annotated[
    Path | None, typer.Option("--circuit", help="The circuit's GPX, GeoJSON or CSV file. [required]")
]
AirOption = Annotated[float | None, typer.Option("--air", help="Air temperature, degC. [required]")]
StartOption = Annotated[
    str | None, typer.Option("--start", metavar="S", help=f"{options.START_HELP} [required]")
]
LevelOption = Annotated[
    str | None, typer.Option("--rider", help="Rider level: new, regular or experienced. [required]")
]


def ways(
    day: NoDay = None,
    *,
    circuit: CircuitOption = None,
    air: AirOption = None,
    start: StartOption = None,
    rider: LevelOption = None,
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
    """Print ways of warming the tyres side by side: what may be told to riders, and what not.

    All ride the same laps in the same time. For coaches; a guide only, for a closed course in the dry.
    """
    if day is not None:
        remedy = "Name the circuit by --circuit and the morning by options."
        raise InputError("`ways` takes no DAY.", Fault(value=str(day), remedy=remedy))
    if circuit is None or air is None or start is None or rider is None:
        raise missing("ways", {"--circuit": circuit, "--air": air, "--start": start, "--rider": rider})
    from leanladder.cli import session as asking  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.planning.ways import compare, usual_laps  # noqa: PLC0415  # the compiled kernel

    asked = asking.Asked(
        circuit=circuit, notes=notes, reverse=reverse, closed_course=closed_course,
        tyre=tyre, front=front, rear=rear, air_c=air, track_c=track, humidity_pct=humidity,
        seen_dry=seen_dry, wind_mps=wind, cloud=cloud, place=place, at=at, start=start,
        laps=usual_laps() if laps is None else laps,
        rider=rider, surface=surface, machine=machine, cold_pressure=cold_pressure, altitude_m=altitude,
    )  # fmt: skip
    session, codes = asking.session(asked)
    compared = compare(session)
    cautions = notices(compared.cautions, language())
    warnings = all_warnings(compared, codes, language())
    if as_json:
        from leanladder.interchange.ways import ways_object  # noqa: PLC0415  # only when needed

        emit_json(ways_object(compared, cautions=cautions, warnings=warnings, said=_said))
        return
    from leanladder.cli.ways_table import ways_text  # noqa: PLC0415  # only when needed

    emit(ways_text(compared, cautions=cautions, warnings=warnings, language=language()))


def _said(sentence: Sentence) -> str:
    return text(sentence.code, language(), **sentence.figures)
