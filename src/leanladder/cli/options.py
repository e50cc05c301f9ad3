"""The options of `leanladder plan` and `leanladder guide`, each with its help."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from leanladder.domain.chance import LEAST_CHANCE, MOST_CHANCE, Chance

DayArgument = Annotated[
    Path | None,
    typer.Argument(metavar="DAY", help="A day's file (day/1), in place of the options.", show_default=False),
]


class BandChoice(StrEnum):
    """Which end of what the air may turn out to be."""

    COLD = "cold"
    LIKELY = "likely"
    MILD = "mild"


SessionOption = Annotated[str | None, typer.Option("--session", help="With a DAY: this session alone.")]
BandOption = Annotated[
    BandChoice | None,
    typer.Option(
        "--band", help="With a DAY: cold or mild, the ends of the forecast's air.", show_default=False
    ),
]
CircuitOption = Annotated[
    Path | None,
    typer.Option("--circuit", help="The circuit's GPX, GeoJSON or CSV file. [required without DAY]"),
]
NotesOption = Annotated[Path | None, typer.Option("--notes", help="The circuit's notes.")]
ReverseFlag = Annotated[bool, typer.Option("--reverse", help="The file runs against the riding direction.")]
ClosedFlag = Annotated[bool, typer.Option("--closed-course", help="The circuit is closed to other traffic.")]
TyreOption = Annotated[str | None, typer.Option("--tyre", help="Tyre family, or a tyre file, at both ends.")]
FrontOption = Annotated[str | None, typer.Option("--front", help="Tyre at the front, where another.")]
RearOption = Annotated[str | None, typer.Option("--rear", help="Tyre at the rear, where another.")]
FamilyOption = Annotated[str, typer.Option("--tyre", help="Tyre family, or a tyre file.")]
AirOption = Annotated[
    float | None, typer.Option("--air", help="Air temperature, degC. [required without DAY]")
]
TrackOption = Annotated[float | None, typer.Option("--track", help="Track temperature as measured, degC.")]
HumidityOption = Annotated[float | None, typer.Option("--humidity", help="Relative humidity, %.")]
DryFlag = Annotated[bool, typer.Option("--seen-dry", help="Someone has looked: the road is dry.")]
WindOption = Annotated[float, typer.Option("--wind", help="Wind, m/s at 2 m.")]
CloudOption = Annotated[float, typer.Option("--cloud", help="Cloud, 0 clear to 1 overcast.")]
PlaceOption = Annotated[str | None, typer.Option("--place", metavar="LAT,LON", help="Place, degrees.")]
AtOption = Annotated[
    str | None,
    typer.Option("--at", metavar="TIME", help="ISO 8601; without an offset the circuit's own time."),
]
START_HELP = "cold, warmers:DEGC:MIN_ON:MIN_OFF, stopped:MIN:shade|sun."
StartOption = Annotated[
    str | None,
    typer.Option(
        "--start",
        metavar="S",
        help=f"{START_HELP} [required without DAY]",
    ),
]
LapsOption = Annotated[
    int | None, typer.Option("--laps", help="How many laps, 1 to 40. [required without DAY]")
]
LevelOption = Annotated[
    str | None,
    typer.Option("--rider", help="Rider level: new, regular or experienced. [required without DAY]"),
]
RiderOption = Annotated[str, typer.Option("--rider", help="Rider level: new, regular or experienced.")]
SurfaceOption = Annotated[
    str, typer.Option("--surface", help="ordinary, polished, abrasive, or TEXTURE_MM:POLISH.")
]
MachineOption = Annotated[str, typer.Option("--machine", help="Machine, or a machine file.")]
ColdPressureOption = Annotated[
    str | None, typer.Option("--cold-pressure", metavar="F,R@C", help="As set cold: bar, bar, at degC.")
]
HotPressureOption = Annotated[
    str | None,
    typer.Option("--hot-pressure", metavar="F,R", help="Hot pressures wanted, bar: prints the cold ones."),
]
AltitudeOption = Annotated[float, typer.Option("--altitude", help="Altitude, m.")]
USUAL_CHANCE = Chance()
ChanceOption = Annotated[
    float,
    typer.Option(
        "--chance",
        metavar="OF_100",
        help="In how many of 100 worlds drawn grip is to carry the limits, "
        f"{LEAST_CHANCE:g} to {MOST_CHANCE:g}; more lowers them.",
    ),
]
SeedOption = Annotated[
    int, typer.Option("--seed", help="Seed of the draws, a whole number: the same gives the same ladder.")
]
OddsFlag = Annotated[
    bool,
    typer.Option(
        "--odds", help="Print what is not known of the grip, and the odds of a fall: for instructors."
    ),
]
StatesFlag = Annotated[
    bool, typer.Option("--states", help="Print the tyres' temperatures through depth too.")
]
