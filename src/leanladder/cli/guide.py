"""`leanladder guide`: bike lean against rubber temperature, before there is a circuit."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from leanladder.cli import options
from leanladder.cli.common import JsonFlag, emit, emit_json, language
from leanladder.cli.notices import notices
from leanladder.domain.ladder import Notice
from leanladder.wording import GUIDE_CAUTIONS, text

if TYPE_CHECKING:
    from leanladder.domain.rider import Level
    from leanladder.domain.session import Surface
    from leanladder.domain.tyre import TyreFamily
    from leanladder.planning.guide import GuideRow

_WIDTH = 100
_COLUMN = 11


def guide(
    *,
    tyre: options.FamilyOption,
    rider: options.RiderOption,
    surface: options.SurfaceOption = "ordinary",
    as_json: JsonFlag = False,
) -> None:
    """Print how far a rider of a level may lean, by the temperature of the rubber about to be used.

    A guide only, for a closed course in the dry; the colder of front and rear counts.
    """
    from leanladder import catalogue  # noqa: PLC0415  # only when needed

    level, road, family = catalogue.level(rider), catalogue.surface(surface), catalogue.tyre_family(tyre)
    rows = lesser_rows(family, level, road)
    cautions = notices(GUIDE_CAUTIONS, language())
    if as_json:
        from leanladder.interchange.guide import guide_object  # noqa: PLC0415  # only when needed

        inputs = {"tyre": family.name, "level": level.name, "surface": _surface(road)}
        digest = catalogue.digest(family, level, road, *_tables())
        emit_json(guide_object(rows, parameters=digest, inputs=inputs, cautions=cautions))
    else:
        emit(
            guide_text(rows, family=family, level=level, surface=road, cautions=cautions, language=language())
        )


def lesser_rows(family: TyreFamily, level: Level, surface: Surface) -> tuple[GuideRow, ...]:
    """Return a row for each rubber temperature, of whichever end allows the lesser lean."""
    from leanladder.planning.guide import guide as rows_of  # noqa: PLC0415  # numpy: only when needed

    front, rear = rows_of(family.front, level, surface), rows_of(family.rear, level, surface)
    return tuple(min(pair, key=lambda row: row.physics_bike_deg) for pair in zip(front, rear, strict=True))


def guide_text(
    rows: Sequence[GuideRow],
    *,
    family: TyreFamily,
    level: Level,
    surface: Surface,
    cautions: Sequence[Notice],
    language: str = "en",
) -> str:
    """Return the guide as plain text, leans in whole degrees, rounded down."""
    heads = ("rubber", "limit", "card", "physics", "grip", "fill")
    parts = [
        f"{text('guide.title', language)} {text('table.explains', language)}",
        text("guide.subject", language, tyre=family.name, level=level.name, surface=surface.name),
        "",
        "".join(f"{text(f'guide.{head}', language):>{_COLUMN}}" for head in heads),
        *(_line(row, level.top_lean_deg.value, language) for row in rows),
        "",
        text("guide.columns", language),
        text("guide.fill_explains", language),
        "",
        f"{text('table.cautions', language)}:",
        *(f"- {caution.text}" for caution in cautions),
    ]
    return "\n".join(line for part in parts for line in _wrapped(part))


def _line(row: GuideRow, top_deg: float, language: str) -> str:
    card = row.card_bike_deg
    none = text("guide.none", language)
    limit = None if card is None else min(card, row.physics_bike_deg, top_deg)
    cells = (
        f"{row.rubber_c:.0f}",
        none if limit is None else str(math.floor(limit)),
        none if card is None else str(math.floor(card)),
        str(math.floor(row.physics_bike_deg)),
        f"{row.grip:.2f}",
        f"{row.texture_fill:.2f}",
    )
    return "".join(f"{cell:>{_COLUMN}}" for cell in cells)


def _wrapped(part: str) -> list[str]:
    return textwrap.wrap(part, _WIDTH, subsequent_indent="  ") if len(part) > _WIDTH else [part]


def _surface(surface: Surface) -> dict[str, float | str]:
    return {"name": surface.name, "texture_mm": surface.texture_mm, "polish": surface.polish}


def _tables() -> list[object]:
    from leanladder import catalogue  # noqa: PLC0415  # only when needed

    return [catalogue.parameters(name) for name in catalogue.table_names()]
