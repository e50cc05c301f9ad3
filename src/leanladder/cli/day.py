"""`leanladder day check DAY`: every assumption that the plan of a day would make."""

from __future__ import annotations

import textwrap
from enum import StrEnum
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.wording import text

if TYPE_CHECKING:
    from leanladder.planning.day_check import Assumption

_WIDTH = 100


class Action(StrEnum):
    """What may be done with a day's file."""

    CHECK = "check"


def day(
    action: Annotated[  # noqa: ARG001  # one so far: its name is checked by the reading of it
        Action, typer.Argument(help="check: say what its plan would assume.", show_default=False)
    ],
    file: Annotated[Path, typer.Argument(metavar="DAY", help="The day's file (day/1).", show_default=False)],
    closed_course: Annotated[
        bool, typer.Option("--closed-course", help="The circuit is closed to other traffic.")
    ] = False,
    as_json: JsonFlag = False,
) -> None:
    """Explain every assumption that the plan of a day would make."""
    from leanladder.cli.plan_day import day_circuit  # noqa: PLC0415  # numpy and more: only when needed
    from leanladder.interchange.day import read_day  # noqa: PLC0415  # the same
    from leanladder.interchange.day_plan import day_check_object  # noqa: PLC0415  # the same
    from leanladder.planning.day_check import assumptions, said  # noqa: PLC0415  # the same

    known = read_day(file)
    circuit = day_circuit(known, closed_course=closed_course)
    found = [(each, said(each, language())) for each in assumptions(known, circuit)]
    if as_json:
        emit_json(day_check_object(known, circuit, found))
    else:
        emit(check_text(found, language()))


def check_text(found: list[tuple[Assumption, str]], language: str) -> str:
    """Return assumptions as text, under a heading for the day and each session, machine and rider."""
    parts = [text("day.check_title", language)]
    for (about, name), some in groupby(found, key=lambda each: (each[0].about, each[0].name)):
        heading = text("day.day" if name is None else f"day.of_{about}", language, name=name)
        lines = [
            textwrap.fill(words, _WIDTH, initial_indent="- ", subsequent_indent="  ") for _, words in some
        ]
        parts.append("\n".join((f"{heading}:", *lines)))
    return "\n\n".join(parts)
