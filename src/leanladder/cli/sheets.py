"""`leanladder sheets DAY`: the day on paper, as PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from leanladder.cli import options
from leanladder.cli.common import JsonFlag


def sheets(
    day: Annotated[Path, typer.Argument(metavar="DAY", help="The day's file (day/1).", show_default=False)],
    *,
    out: Annotated[Path, typer.Option(help="Folder to write them into; made where missing.")],
    session: Annotated[str | None, typer.Option("--session", help="This session alone.")] = None,
    band: Annotated[
        options.BandChoice | None,
        typer.Option("--band", help="One set: the forecast's cold, likely or mild air.", show_default=False),
    ] = None,
    large_print: Annotated[bool, typer.Option("--large-print", help="Every card in large print.")] = False,
    word: Annotated[
        str | None, typer.Option("--word", help="Day word in place of the chosen one; one set only.")
    ] = None,
    air: Annotated[float | None, typer.Option("--air", help="Air temperature at --session, degC.")] = None,
    track: Annotated[float | None, typer.Option("--track", help="Track as measured, degC.")] = None,
    humidity: options.HumidityOption = None,
    seen_dry: options.DryFlag = False,
    wind: Annotated[float | None, typer.Option("--wind", help="Wind, m/s at 2 m.")] = None,
    cloud: Annotated[float | None, typer.Option("--cloud", help="Cloud, 0 clear to 1 overcast.")] = None,
    laps: Annotated[int | None, typer.Option("--laps", help="How many laps, 1 to 40.")] = None,
    rider: Annotated[str | None, typer.Option("--rider", help="Level of all riders of --session.")] = None,
    start: Annotated[
        str | None,
        typer.Option("--start", metavar="S", help="Start of --session, as for plan."),
    ] = None,
    tyre: options.TyreOption = None,
    front: options.FrontOption = None,
    rear: options.RearOption = None,
    cold_pressure: options.ColdPressureOption = None,
    closed_course: options.ClosedFlag = False,
    as_json: JsonFlag = False,
) -> None:
    """Write a day's sheets, cards, briefings and lists as PDF.

    Where no track was measured: three sets for the evening before, a cold, b likely, c mild. Else, or with
    --band, or with what was measured for one --session: one set in the folder today.
    """
    from leanladder.cli.day_changes import changes  # noqa: PLC0415  # the same
    from leanladder.cli.day_paper import Wanted, write_day  # noqa: PLC0415  # the compiled kernel

    asked: dict[str, object] = {
        "session": session, "band": band, "air": air, "track": track, "humidity": humidity, "wind": wind,
        "cloud": cloud, "laps": laps, "rider": rider, "start": start, "tyre": tyre, "front": front,
        "rear": rear, "cold_pressure": cold_pressure, "seen_dry": seen_dry or None,
        "closed_course": closed_course or None,
    }  # fmt: skip
    changed = changes({name: value for name, value in asked.items() if value is not None})
    wanted = Wanted(changed, one_band=band is not None, large_print=large_print, word=word, as_json=as_json)
    write_day(day, out, wanted)
