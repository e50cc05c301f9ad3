"""What the circuit's notes do to its line: merges, splits, names, bank, height, shade."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from leanladder.catalogue import surface
from leanladder.domain.circuit import CircuitNotes, Corner, Stretch
from leanladder.domain.errors import Fault, InputError
from leanladder.geometry import corners as found
from leanladder.geometry.elevation import smoothed_heights
from leanladder.geometry.line import Line, distances
from leanladder.geometry.matching import ahead_m, apart_m, within

Floats = NDArray[np.float64]

STEEPEST = 0.4  # a slope [-]: no road is as steep, circuits stay under 0.25; from memory
FAR_M = 150.0  # a name further than this from the nearest apex, and outside its corner, is for none


def check(notes: CircuitNotes, length_m: float) -> None:
    """Raise InputError for the first distance in the notes that does not lie on the lap."""
    for field, at_m in _all_distances(notes):
        if not 0.0 <= at_m <= length_m:
            remedy = "Distances are metres along the lap from the start line, in riding direction."
            fault = Fault(notes.file, None, field, f"{at_m:g}", f"0 to {length_m:.0f} m", remedy)
            raise InputError("the distance lies outside the lap.", fault)
    _check_heights(notes, length_m)
    for row, patch in enumerate(notes.patches):
        _check_surface(notes, f"patches[{row}].surface", patch.surface)


def _check_heights(notes: CircuitNotes, length_m: float) -> None:
    """Raise InputError for two heights at one distance, or a slope between them that no circuit has."""
    heights = sorted(notes.elevation)
    if len(heights) < 2:
        return
    for (at_m, height_m), (next_m, next_height_m) in pairwise([*heights, heights[0]]):
        along_m = (next_m - at_m) % length_m
        if abs(next_height_m - height_m) <= STEEPEST * along_m:
            continue
        value = f"{height_m:g} m at {at_m:g} m, {next_height_m:g} m at {next_m:g} m"
        allowed = f"a slope of {STEEPEST * 100.0:g} % at most"
        fault = Fault(notes.file, None, "elevation", value, allowed, "Check both distances and heights.")
        raise InputError("two of the heights are too close together for their difference.", fault)


def _check_surface(notes: CircuitNotes, field: str, name: str) -> None:
    """Raise the catalogue's InputError for a surface it does not know, with its place in the notes."""
    try:
        surface(name)
    except InputError as error:
        error.fault = replace(error.fault, file=notes.file, field=field)
        raise


def _all_distances(notes: CircuitNotes) -> Iterator[tuple[str, float]]:
    """Yield each distance [m] of the notes with the name of its field."""
    singles = {
        "start_at_m": notes.start_at_m,
        "pit_exit_m": notes.pit_exit_m,
        "pit_entry_m": notes.pit_entry_m,
    }
    yield from ((field, at_m) for field, at_m in singles.items() if at_m is not None)
    yield from ((f"splits_m[{row}]", at_m) for row, at_m in enumerate(notes.splits_m))
    yield from ((f"names[{row}].at_m", name.at_m) for row, name in enumerate(notes.names))
    yield from ((f"elevation[{row}].at_m", at_m) for row, (at_m, _) in enumerate(notes.elevation))
    stretches = {
        "merges": notes.merges,
        "shaded": notes.shaded,
        "banks": tuple(bank.stretch for bank in notes.banks),
        "patches": tuple(patch.stretch for patch in notes.patches),
    }
    for field, parts in stretches.items():
        for row, part in enumerate(parts):
            yield f"{field}[{row}].from_m", part.from_m
            yield f"{field}[{row}].to_m", part.to_m


def pieces(line: Line, notes: CircuitNotes) -> tuple[list[found.Piece], tuple[str, ...]]:
    """Return the line's corners with the notes' merges and splits made, and remarks on those without effect.

    Raises InputError for a merge of corners of both sides.
    """
    parts = found.find_pieces(line)
    remarks: list[str] = []
    for row, stretch in enumerate(notes.merges):
        inside = [part for part in parts if within(found.apex_m(line, part), stretch.from_m, stretch.to_m)]
        if len({part.sign for part in inside}) > 1:
            raise _both_sides(notes, row, stretch)
        if len(inside) < 2:
            remarks.append(f"merges[{row}]: fewer than two corners lie between {_text(stretch)}.")
            continue
        whole = found.merged(line, inside, stretch.from_m)
        parts = [*(part for part in parts if part not in inside), whole]
    for at_m in notes.splits_m:
        cut = next((part for part in parts if found.can_split(line, part, at_m)), None)
        if cut is None:
            remarks.append(f"splits_m: no corner lies at {at_m:.0f} m.")
            continue
        parts = [*(part for part in parts if part is not cut), *found.split(line, cut, at_m)]
    return found.in_order(line, parts), tuple(remarks)


def _both_sides(notes: CircuitNotes, row: int, stretch: Stretch) -> InputError:
    remedy = "A corner turns one way: merge corners of one side only."
    fault = Fault(notes.file, None, f"merges[{row}]", _text(stretch), "corners of one side", remedy)
    return InputError("the stretch holds corners of both sides.", fault)


def _text(stretch: Stretch) -> str:
    return f"{stretch.from_m:.0f} and {stretch.to_m:.0f} m"


def named(
    corners: tuple[Corner, ...], notes: CircuitNotes, length_m: float
) -> tuple[tuple[Corner, ...], tuple[str, ...]]:
    """Return the corners with their names, and a remark for each name that no corner takes."""
    names: dict[int, tuple[float, str]] = {}
    remarks = []
    for name in notes.names:
        near = min(corners, key=lambda corner: apart_m(corner.apex_m, name.at_m, length_m), default=None)
        if near is None or not _takes(near, name.at_m, length_m):
            remarks.append(f'No corner lies at {name.at_m:.0f} m for the name "{name.name}".')
            continue
        away = apart_m(near.apex_m, name.at_m, length_m)
        taken = names.get(near.number)
        if taken is None or away < taken[0]:
            names[near.number] = (away, name.name)
        if taken is not None:
            lost = max(taken, (away, name.name))[1]
            remarks.append(f'Two names for turn {near.number}; "{lost}" lies further off and is left out.')
    given = tuple(replace(c, name=names[c.number][1]) if c.number in names else c for c in corners)
    return given, tuple(remarks)


def _takes(corner: Corner, at_m: float, length_m: float) -> bool:
    """Return whether a name at a distance can be meant for a corner."""
    return within(at_m, corner.start_m, corner.end_m) or apart_m(corner.apex_m, at_m, length_m) <= FAR_M


def banks(s_m: Floats, notes: CircuitNotes) -> Floats:
    """Return the bank [deg] at each distance (n,) [m]; where stretches overlap the last one counts."""
    bank_deg = np.zeros(len(s_m))
    for bank in notes.banks:
        bank_deg[_mask(s_m, bank.stretch)] = bank.bank_deg
    return bank_deg


def shaded(s_m: Floats, notes: CircuitNotes) -> NDArray[np.bool_]:
    """Return whether each distance (n,) [m] lies in shade."""
    mask = np.zeros(len(s_m), dtype=np.bool_)
    for stretch in notes.shaded:
        mask |= _mask(s_m, stretch)
    return mask


def _mask(s_m: Floats, stretch: Stretch) -> NDArray[np.bool_]:
    inside = (s_m >= stretch.from_m, s_m <= stretch.to_m)
    return inside[0] & inside[1] if stretch.from_m <= stretch.to_m else inside[0] | inside[1]


def elevation(grid: Line, notes: CircuitNotes, points: Floats, heights_m: Floats | None) -> Floats:
    """Return the height [m] at each grid node (n,).

    The notes' heights count, joined by straight lines round the lap; else the survey's own (m,), of
    its points (m, 2), smoothed; else 0.
    """
    if notes.elevation:
        at, height = (np.array(column) for column in zip(*sorted(notes.elevation), strict=True))
        return np.asarray(np.interp(grid.s_m, at, height, period=grid.length_m), dtype=np.float64)
    if heights_m is None:
        return np.zeros(len(grid.s_m))
    along, length = distances(points)
    return smoothed_heights(ahead_m(notes.start_at_m, along, length), heights_m, length, len(grid.s_m))
