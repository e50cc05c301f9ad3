"""`leanladder plan`: a cap for every corner of every lap."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import notices

if TYPE_CHECKING:
    from leanladder.domain.ladder import Ladder, Notice


def plan(
    *,
    circuit: options.CircuitOption,
    air: options.AirOption,
    start: options.StartOption,
    laps: options.LapsOption,
    rider: options.RiderOption,
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
    states: options.StatesFlag = False,
    as_json: JsonFlag = False,
) -> None:
    """Print how far a rider may lean at each corner of each lap, and why.

    A guide only, for a closed course in the dry.
    """
    from leanladder.cli import session as asking  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.planning import ladder  # noqa: PLC0415  # the compiled kernel: only when needed

    asked = asking.Asked(
        circuit=circuit, notes=notes, reverse=reverse, closed_course=closed_course,
        tyre=tyre, front=front, rear=rear, air_c=air, track_c=track, humidity_pct=humidity,
        seen_dry=seen_dry, wind_mps=wind, cloud=cloud, place=place, at=at, start=start, laps=laps,
        rider=rider, surface=surface, machine=machine, cold_pressure=cold_pressure, altitude_m=altitude,
    )  # fmt: skip
    wanted_bar = asking.wanted_hot_bar(hot_pressure)
    session, codes = asking.session(asked)
    _answer(ladder.plan(session), codes, wanted_bar, states=states, as_json=as_json)


def all_warnings(ladder: Ladder, road_codes: Iterable[str], language: str) -> tuple[Notice, ...]:
    """Return what was done to the circuit's line, the road's warnings, then the ladder's own."""
    from leanladder.domain.ladder import Notice  # noqa: PLC0415  # numpy: only when needed

    remarks = tuple(Notice("circuit_remark", remark) for remark in ladder.session.circuit.remarks)
    held = {warning.code for warning in ladder.warnings}
    missing = [code for code in road_codes if code not in held]
    road = ladder.session.road
    figures = {"shaded_c": math.floor(road.shaded_c), "track_c": math.floor(road.open_c)}
    return remarks + notices(missing, language, **figures) + ladder.warnings


def _answer(
    ladder: Ladder,
    road_codes: Iterable[str],
    wanted_bar: tuple[float, float] | None,
    *,
    states: bool,
    as_json: bool,
) -> None:
    from leanladder.planning.pressure import cold_advice  # noqa: PLC0415  # only when needed

    advice = () if wanted_bar is None else cold_advice(ladder, *wanted_bar)
    cautions = notices(ladder.cautions, language())
    warnings = all_warnings(ladder, road_codes, language())
    if as_json:
        from leanladder.interchange.ladder import ladder_object  # noqa: PLC0415  # only when needed

        emit_json(ladder_object(ladder, cautions=cautions, warnings=warnings, advice=advice))
        return
    from leanladder.cli.table import ladder_text  # noqa: PLC0415  # only when needed

    printed = ladder_text(ladder, cautions=cautions, warnings=warnings, language=language())
    if advice:
        from leanladder.cli.table import advice_text  # noqa: PLC0415  # only when needed

        printed += "\n\n" + advice_text(advice, language())
    if states:
        from leanladder.cli.states import states_text  # noqa: PLC0415  # only when needed

        printed += "\n\n" + states_text(ladder, language())
    emit(printed)
