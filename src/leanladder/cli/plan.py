"""`leanladder plan`: a cap for every corner of every lap."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from leanladder.cli import asked as ask
from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import all_warnings, cause_worded, notices
from leanladder.cli.progress import progress
from leanladder.domain.errors import Fault, InputError

if TYPE_CHECKING:
    from leanladder.domain.ladder import Ladder


def plan(
    context: typer.Context,
    day: options.DayArgument = None,
    *,
    circuit: options.CircuitOption = None,
    air: options.AirOption = None,
    start: options.StartOption = None,
    laps: options.LapsOption = None,
    rider: options.LevelOption = None,
    session: options.SessionOption = None,
    band: options.BandOption = None,
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
    hot_pressure: options.HotPressureOption = None,
    altitude: options.AltitudeOption = 0.0,
    chance: options.ChanceOption = options.USUAL_CHANCE.of_100,
    seed: options.SeedOption = options.USUAL_CHANCE.seed,
    states: options.StatesFlag = False,
    odds: options.OddsFlag = False,
    as_json: JsonFlag = False,
) -> None:
    """Print how far a rider may lean at each corner of each lap, and why.

    A guide only, for a closed course in the dry. With a DAY, a ladder for each combination that goes out;
    beside it stand only --session, --band, --laps, --closed-course, --chance, --seed, --odds, and for all
    riders of one --session its weather, --rider, --tyre, --front, --rear, --cold-pressure and --start.
    """
    if day is not None:
        _print_day(context, day, as_json=as_json)
        return
    for name, value in (("--session", session), ("--band", band)):
        if value is not None:
            raise InputError("this goes with a DAY.", Fault(field=name, remedy="Name the day's file."))
    if circuit is None or air is None or start is None or laps is None or rider is None:
        given = {"--circuit": circuit, "--air": air, "--start": start, "--laps": laps, "--rider": rider}
        raise missing("plan", given)
    from leanladder.cli import session as asking  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.planning import ladder  # noqa: PLC0415  # the compiled kernel: only when needed

    asked = asking.Asked(
        circuit=circuit, notes=notes, reverse=reverse, closed_course=closed_course,
        tyre=tyre, front=front, rear=rear, air_c=air, track_c=track, humidity_pct=humidity,
        seen_dry=seen_dry, wind_mps=wind, cloud=cloud, place=place, at=at, start=start, laps=laps,
        rider=rider, surface=surface, machine=machine, cold_pressure=cold_pressure, altitude_m=altitude,
        chance=ask.chance(chance, seed),
    )  # fmt: skip
    wanted_bar = asking.wanted_hot_bar(hot_pressure)
    asked_for, codes = asking.session(asked)
    with progress(wanted=chance > options.USUAL_CHANCE.of_100) as told:
        planned = ladder.plan(asked_for, progress=told)
    _answer(planned, codes, wanted_bar, states=states, odds=odds, as_json=as_json)


def missing(command: str, given: Mapping[str, object]) -> InputError:
    """Return what to tell of the first option that is required without a DAY, in a usage error's words."""
    first = next(name for name, value in given.items() if value is None)
    return InputError(
        f"Missing option '{first}'.", Fault(remedy=f"`leanladder {command} --help` lists what it takes.")
    )


def _print_day(context: typer.Context, day: Path, *, as_json: bool) -> None:
    from leanladder.cli.plan_day import changes, print_day  # noqa: PLC0415  # the compiled kernel

    given = {name: value for name, value in context.params.items() if name != "day" and typed(context, name)}
    print_day(day, changes(given), as_json=as_json)


def typed(context: typer.Context, name: str) -> bool:
    """Return whether an option was typed, not left to its default."""
    source = context.get_parameter_source(name)
    return source is not None and source.name == "COMMANDLINE"


def _answer(
    ladder: Ladder,
    road_codes: Iterable[str],
    wanted_bar: tuple[float, float] | None,
    *,
    states: bool,
    odds: bool,
    as_json: bool,
) -> None:
    from leanladder.planning.pressure import cold_advice  # noqa: PLC0415  # only when needed

    advice = () if wanted_bar is None else cold_advice(ladder, *wanted_bar)
    cautions = notices(ladder.cautions, language())
    warnings = all_warnings(ladder, road_codes, language())
    if as_json:
        from leanladder.interchange.ladder import ladder_object  # noqa: PLC0415  # only when needed

        emit_json(
            ladder_object(ladder, cautions=cautions, warnings=warnings, said=cause_worded, advice=advice)
        )
        return
    from leanladder.cli.table import ladder_text  # noqa: PLC0415  # only when needed

    printed = ladder_text(ladder, cautions=cautions, warnings=warnings, language=language())
    if advice:
        from leanladder.cli.table import advice_text  # noqa: PLC0415  # only when needed

        printed += "\n\n" + advice_text(advice, language())
    if odds:
        from leanladder.cli.odds import odds_text  # noqa: PLC0415  # only when needed

        printed += "\n\n" + odds_text(ladder, language())
    if states:
        from leanladder.cli.states import states_text  # noqa: PLC0415  # only when needed

        printed += "\n\n" + states_text(ladder, language())
    emit(printed)
