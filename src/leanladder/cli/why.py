"""`leanladder why`: everything behind one limit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli import asked as ask
from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import all_warnings, cause_worded, notices, worded
from leanladder.cli.plan import missing, typed
from leanladder.domain.errors import Fault, InputError

if TYPE_CHECKING:
    from pathlib import Path

    from leanladder.cli.session import Asked
    from leanladder.domain.ladder import Notice
    from leanladder.domain.why import Why

LapOption = Annotated[int, typer.Option("--lap", help="The lap, from 1.")]
CornerOption = Annotated[int, typer.Option("--corner", help="The corner, by its number.")]
LapsOption = Annotated[
    int | None,
    typer.Option("--laps", help="How many laps the ladder has, 1 to 40. [default: 8, or --lap and one]"),
]
MachineOption = Annotated[
    str,
    typer.Option("--machine", help="Machine, or a machine file; with a DAY, one of its machines by name."),
]
SESSION_LAPS = 8  # common practice: a run of some 15 minutes
_BESIDE_DAY = ("day", "lap", "corner", "machine")


def why(
    context: typer.Context,
    day: options.DayArgument = None,
    *,
    lap: LapOption,
    corner: CornerOption,
    circuit: options.CircuitOption = None,
    air: options.AirOption = None,
    start: options.StartOption = None,
    laps: LapsOption = None,
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
    machine: MachineOption = "middleweight-sport",
    cold_pressure: options.ColdPressureOption = None,
    altitude: options.AltitudeOption = 0.0,
    chance: options.ChanceOption = options.USUAL_CHANCE.of_100,
    seed: options.SeedOption = options.USUAL_CHANCE.seed,
    as_json: JsonFlag = False,
) -> None:
    """Print why the limit at one corner on one lap is what it is, and what one change would do.

    A guide only, for a closed course in the dry. It takes what `plan` takes, and --lap and --corner. With a
    DAY, for one --session; where several combinations go out in it, --machine names whose.
    """
    _check(lap)
    if day is not None:
        _print_of_day(context, day, (lap, corner), as_json=as_json)
        return
    for name, value in (("--session", session), ("--band", band)):
        if value is not None:
            raise InputError("this goes with a DAY.", Fault(field=name, remedy="Name the day's file."))
    if circuit is None or air is None or start is None or rider is None:
        raise missing("why", {"--circuit": circuit, "--air": air, "--start": start, "--rider": rider})
    from leanladder.cli.session import Asked  # noqa: PLC0415  # numpy and more: only when needed

    asked = Asked(
        circuit=circuit, notes=notes, reverse=reverse, closed_course=closed_course,
        tyre=tyre, front=front, rear=rear, air_c=air, track_c=track, humidity_pct=humidity,
        seen_dry=seen_dry, wind_mps=wind, cloud=cloud, place=place, at=at, start=start,
        laps=_laps(lap) if laps is None else laps, rider=rider, surface=surface, machine=machine,
        cold_pressure=cold_pressure, altitude_m=altitude, chance=ask.chance(chance, seed),
    )  # fmt: skip
    _print_asked(asked, (lap, corner), as_json=as_json)


def _laps(lap: int) -> int:
    """As many laps as a session has: what a ladder warns of shows only there.

    One lap more than the one asked about, since limits may fall at once; and no fewer than a session's, since
    tyres that had no time to warm would be called unfit.
    """
    needed = max(lap + 1, SESSION_LAPS)
    return needed if ask.LAPS.holds(needed) else lap


def _print_of_day(context: typer.Context, day: Path, rung: tuple[int, int], *, as_json: bool) -> None:
    from leanladder.cli.why_day import why_of_day  # noqa: PLC0415  # the compiled kernel

    given = {name: value for name, value in context.params.items() if typed(context, name)}
    beside = {name: value for name, value in given.items() if name not in _BESIDE_DAY}
    print_why(*why_of_day(day, beside, rung, given.get("machine")), as_json=as_json)


def _print_asked(asked: Asked, rung: tuple[int, int], *, as_json: bool) -> None:
    from leanladder.cli.session import session  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.planning.why import why as answer  # noqa: PLC0415  # the compiled kernel

    asked_for, codes = session(asked)
    with ask.in_options():
        found = answer(asked_for, *rung)
    print_why(found, all_warnings(found.ladder, codes, language()), as_json=as_json)


def _check(lap: int) -> None:
    """Refuse a lap that no ladder has, before anything is read."""
    if not ask.LAPS.holds(lap):
        remedy = "Laps count from 1." if lap < 1 else "No ladder has more."
        raise InputError(
            "no ladder has such a lap.", Fault(None, None, "--lap", str(lap), ask.LAPS.text(), remedy)
        )


def print_why(answer: Why, warnings: Sequence[Notice], *, as_json: bool) -> None:
    """Print an answer in words and tables, or as one JSON object."""
    from leanladder.cli.why_table import why_text  # noqa: PLC0415  # only when needed
    from leanladder.interchange.why import why_object  # noqa: PLC0415  # only when needed

    sentences, changes = worded(answer.sentences, language()), _changes(answer)
    cautions = notices(answer.ladder.cautions, language())
    if as_json:
        emit_json(
            why_object(
                answer,
                sentences=sentences,
                changes=changes,
                cautions=cautions,
                warnings=warnings,
                said=cause_worded,
            )
        )
        return
    said = why_text(
        answer,
        sentences=sentences,
        changes=changes,
        cautions=cautions,
        warnings=warnings,
        language=language(),
    )
    emit(said)


def _changes(answer: Why) -> list[tuple[str, str | None]]:
    """What each change is and, where it does not apply, why not, in words."""
    whats = worded((change.what for change in answer.changes), language())
    nots = (change.why_not for change in answer.changes)
    refused = [None if each is None else worded([each], language())[0].text for each in nots]
    return [(what.text, why_not) for what, why_not in zip(whats, refused, strict=True)]
