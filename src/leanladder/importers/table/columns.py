"""Which column of a table is which."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass

from leanladder.importers.figures import Place

NAMES = {
    "x": ("x_m", "x", "east_m", "easting"),
    "y": ("y_m", "y", "north_m", "northing"),
    "lat": ("lat", "latitude", "lat_deg", "latitude_deg"),
    "lon": ("lon", "longitude", "lng", "long", "lon_deg", "longitude_deg"),
    "height": ("elevation_m", "elevation", "ele", "ele_m", "altitude_m", "altitude", "alt", "z_m", "z"),
}
ALLOWED = "x_m,y_m[,width_right_m,width_left_m] or lat,lon[,elevation_m]"


@dataclass(frozen=True, slots=True)
class Columns:
    """Places of the columns: two of position, in metres or degrees, height and widths if there are."""

    metres: bool
    first: int
    second: int
    height: int | None
    widths: tuple[int, int] | None
    names: tuple[str, ...]

    @property
    def used(self) -> tuple[int, ...]:
        """Return the places of all columns in use."""
        rest = [] if self.height is None else [self.height]
        return (self.first, self.second, *rest, *(self.widths or ()))


def named(place: Place, cells: Sequence[str]) -> Columns:
    """Return the columns of a header; raises InputError if it names no position."""
    names = tuple(_plain(cell) for cell in cells)
    found = {key: _find(names, known) for key, known in NAMES.items()}
    x, y, lat, lon = (found[key] for key in ("x", "y", "lat", "lon"))
    if lat is not None and lon is not None:
        return Columns(
            metres=False, first=lat, second=lon, height=found["height"], widths=_widths(names), names=names
        )
    if x is not None and y is not None:
        return Columns(
            metres=True, first=x, second=y, height=found["height"], widths=_widths(names), names=names
        )
    known = [name for group in NAMES.values() for name in group]
    near = [match for name in names for match in difflib.get_close_matches(name, known, n=1)]
    remedy = f"Did you mean {near[0]}?" if near else "Name the columns in the first line."
    raise place.error("the columns of a position are missing.", ",".join(names), ALLOWED, remedy)


def unnamed(place: Place, count: int) -> Columns:
    """Return the columns of a table without a header: x_m, y_m, and widths if there are four."""
    if count == 2:
        return Columns(metres=True, first=0, second=1, height=None, widths=None, names=("x_m", "y_m"))
    if count == 4:
        return Columns(
            metres=True,
            first=0,
            second=1,
            height=None,
            widths=(2, 3),
            names=("x_m", "y_m", "width_right_m", "width_left_m"),
        )
    remedy = "Name the columns in the first line."
    raise place.error("there is no header to say which column is which.", f"{count} columns", ALLOWED, remedy)


def _plain(cell: str) -> str:
    return cell.strip().strip('"').strip().lower().replace(" ", "_")


def _find(names: Sequence[str], known: Sequence[str]) -> int | None:
    return next((names.index(name) for name in known if name in names), None)


def _widths(names: Sequence[str]) -> tuple[int, int] | None:
    """Return the places of the widths to the right and left, if both are there."""
    sides = []
    for side in ("right", "left"):
        here = [i for i, name in enumerate(names) if side in name and ("width" in name or name[:2] == "w_")]
        sides += here[:1]
    return (sides[0], sides[1]) if len(sides) == 2 else None
