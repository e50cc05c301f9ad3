"""`leanladder procedure`: what is done where there is no number, in words."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli.common import emit, language
from leanladder.cli.table import WIDTH
from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.files import write_file
from leanladder.interchange.nearest import nearest
from leanladder.wording import text

if TYPE_CHECKING:
    from leanladder.domain.paper import ListPart, Procedure
    from leanladder.planning.procedures import Kind

# The procedures by the names they are asked for.
KINDS: dict[str, Kind] = {"wet": "wet", "drying": "drying", "open-road": "open_road"}


def procedure(
    kind: Annotated[str, typer.Argument(help=f"Which: {', '.join(KINDS)}.", show_default=False)],
    out: Annotated[
        Path | None, typer.Option(help="Write it as a PDF into this file.", show_default=False)
    ] = None,
) -> None:
    """Print what is done on a wet or drying track, or on the open road: words, no number."""
    from leanladder.planning.procedures import procedure as page_of  # noqa: PLC0415  # only when needed

    page = page_of(_known(kind), language())
    if out is None:
        emit(procedure_text(page))
        return
    from leanladder.sheets import procedure_pdf  # noqa: PLC0415  # the typesetter: only when needed

    write_file(out, procedure_pdf(page))
    emit(f"Written:\n  {out}")


def procedure_text(page: Procedure) -> str:
    """Return a procedure as plain text: a title, a sentence on its scope, and a list a part."""
    title = text(f"procedure.title_{page.kind}", page.language)
    says = text(f"procedure.says_{page.kind}", page.language)
    parts = [_part_text(part, page.language) for part in page.parts]
    return "\n\n".join([f"{title}\n{'=' * len(title)}", textwrap.fill(says, WIDTH), *parts])


def _part_text(part: ListPart, in_language: str) -> str:
    lines = (text(line.code, in_language, **line.figures) for line in part.lines)
    listed = (textwrap.fill(f"- {line}", WIDTH, subsequent_indent="  ") for line in lines)
    return "\n".join([f"{text(part.head, in_language)}:", *listed])


def _known(kind: str) -> Kind:
    if kind in KINDS:
        return KINDS[kind]
    close = nearest(kind, KINDS)
    remedy = f"Did you mean {close}?" if close else None
    raise InputError(
        "there is no such procedure.", Fault(None, None, "procedure", kind, ", ".join(KINDS), remedy)
    )
