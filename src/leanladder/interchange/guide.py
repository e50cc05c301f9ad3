"""leanladder.guide/1: bike lean against rubber temperature, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Protocol

from leanladder.domain.ladder import Notice
from leanladder.interchange.envelope import envelope

SCHEMA = "leanladder.guide/1"


class Row(Protocol):
    """One rubber temperature of a guide, as planning makes it."""

    @property
    def rubber_c(self) -> float:
        """Rubber of the shoulder about to be used [degC]."""

    @property
    def card_bike_deg(self) -> float | None:
        """What the caution card allows [deg of bike lean], None below 0 degC."""

    @property
    def physics_bike_deg(self) -> float:
        """What the grip alone allows [deg of bike lean]."""

    @property
    def grip(self) -> float:
        """The friction at hand [-]."""

    @property
    def texture_fill(self) -> float:
        """The index of how far the rubber fills the texture [-]."""


def guide_object(
    rows: Iterable[Row],
    *,
    parameters: str,
    inputs: Mapping[str, Any],
    cautions: Sequence[Notice],
) -> dict[str, Any]:
    """Return the leanladder.guide/1 object of a guide's rows, none rounded."""
    body = {"rows": [_row(row) for row in rows]}
    return envelope(SCHEMA, parameters=parameters, inputs=inputs, cautions=cautions, warnings=(), body=body)


def _row(row: Row) -> dict[str, float | None]:
    return {
        "rubber_c": row.rubber_c,
        "card_bike_deg": row.card_bike_deg,
        "physics_bike_deg": row.physics_bike_deg,
        "grip": row.grip,
        "texture_fill": row.texture_fill,
    }
