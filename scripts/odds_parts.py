"""What scripts/odds.py runs: cells, chances, replicates, mutants and misfits, each as lines of its page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np
from tests.worlds.counts import (
    HIGH,
    LAP_HIGH,
    LEAST_RIDES,
    LOW,
    WIDE,
    Passed,
    Rate,
    fallen,
    faults,
    passed,
    rate,
    shares,
)
from tests.worlds.drawing import Tilts, fresh
from tests.worlds.laid import Laid, believing, bolder, lay
from tests.worlds.misfits import Misfit, bad_sides, shifted, sunny, told_wrongly, wider
from tests.worlds.outing import outing, ridden
from tests.worlds.sessions import FAMILIES, MORNINGS, STARTS, TRACKS, Asked, session

from leanladder.domain.errors import OutsideModelError
from leanladder.domain.session import Session
from leanladder.planning.setting import setting
from leanladder.planning.tables import shipped_tables

WORLDS = 4096
SEED = 700
REPLICATES = 16
MUTATED = (1, 2, 3, 4)
COLD, WARM = Asked(), Asked(family="race", start="warmers")
REPLICATED = (COLD, Asked("kart", "track-day", "warmers", "hot"), Asked("mini", "race", "cold", "hot"))
CHANCES = ((97.5, 8192), (99.0, 16384), (99.5, 16384))
MAIN = ("surface", "front_level", "rear_level", "cold_grip", "grip_shift", "glass", "corner_grip")
LEVELS = ("surface", "front_level", "rear_level", "corner_grip")
HALVED: dict[str, tuple[str, ...]] = {
    "surface": ("surface",),
    "front_level and rear_level": ("front_level", "rear_level"),
    "corner_grip": ("corner_grip",),
    "surface, both levels and corner_grip": LEVELS,
    "cold_grip": ("cold_grip",),
    "grip_shift": ("grip_shift",),
    "glass": ("glass",),
    "lean_scatter": ("lean_scatter",),
    "line_scatter": ("line_scatter",),
    "track and air": ("track", "air"),
    "contact and convection": ("contact", "convection"),
    "scrub and rolling": ("scrub", "rolling_front", "rolling_rear"),
    "patch and crown": ("patch_front", "patch_rear", "crown_front", "crown_rear"),
}


def row(*cells: object) -> str:
    """Return a row of a table."""
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def table(heads: Iterable[str], rows: Iterable[Iterable[object]]) -> list[str]:
    """Return a table, its first column to the left."""
    names = list(heads)
    lines = [row(*names), row("---", *["---:"] * (len(names) - 1))]
    return [*lines, *(row(*cells) for cells in rows), ""]


def said(text: str) -> None:
    """Say how far it is."""
    print(text, flush=True)


class Cell(NamedTuple):
    """A cell's answer: found, None where too few rungs; words, what is not kept; falls, how many.

    held: at rungs held back because falls would be too many, None where too few.
    """

    found: Passed | None
    words: list[str]
    falls: int
    held: Passed | None = None


def cell(asked: Asked, seed: int) -> Cell | None:
    """Return what fresh worlds say of a cell; None where the model has no ladder for it."""
    try:
        laid = lay(session(asked))
    except OutsideModelError:
        return None
    if (laid.counted | laid.held_back).sum() * WORLDS < LEAST_RIDES:
        return Cell(None, [], 0)
    used = outing(laid, WORLDS, seed)
    found = passed(laid, used)
    words = [] if found is None else faults(found, asked.of_100)
    return Cell(found, words, int(fallen(used).sum()), passed(laid, used, held_back=True))


def shown(one: Cell | None) -> str:
    """Return a cell as text: the ladder's figure and the most of a lap; bold where a bound is not kept."""
    if one is None:
        return "no ladder"
    if one.found is None:
        return "not tested" if one.held is None else "held back"
    most = max(lap.value for lap in one.found.laps.values())
    text = f"{100 * one.found.ladder.value:.2f}, {100 * most:.2f}"
    return f"**{text}**" if one.words else text


def cells_part() -> list[str]:
    """Return every circuit, tyre, start and morning, by grip alone and with all limits."""
    lines = [
        "### Cells",
        "",
        f"In 100, over the ladder and on the lap with most; at 95 in 100 it is to be {5 * LOW:g} to",
        f"{5 * HIGH:g}, and on no lap above {5 * LAP_HIGH:g}. Bold where that is not kept; `not tested` with",
        f"fewer than {LEAST_RIDES:,} rung-rides. `experienced`. By grip alone: card, level's top, clearance",
        "and the rule on falls out of the way. With all limits a rung is counted where the chance sets its",
        "cap; where the rule on falls sets it lower, it stands in a table of its own.",
        "",
    ]
    for judged in (False, True):
        lines += _cells(judged=judged)
    return lines


def _cells(*, judged: bool) -> list[str]:
    ways = list(product(STARTS, MORNINGS))
    found: dict[Asked, Cell | None] = {}
    for track, family in product(TRACKS, FAMILIES):
        for start, morning in ways:
            asked = Asked(track, family, start, morning, judged=judged)
            found[asked] = cell(asked, SEED + len(found))
            said(f"{asked}: {shown(found[asked])}")
    rows = [
        (f"{track}, {family}", *(shown(found[Asked(track, family, *way, judged=judged)]) for way in ways))
        for track, family in product(TRACKS, FAMILIES)
    ]
    heads = ("all limits" if judged else "by grip alone", *(", ".join(way) for way in ways))
    return [*table(heads, rows), *_summed_up(found), "", *_held_back(found)]


def _held_back(found: dict[Asked, Cell | None]) -> list[str]:
    """Return the cells with rungs that the rule on falls sets: as careful as the chance, or more."""
    rows = [
        (asked, one.held.rungs, one.held.ladder, "yes" if one.held.ladder.value <= 0.05 * HIGH else "no")
        for asked, one in found.items()
        if one is not None and one.held is not None
    ]
    if not rows:
        return []
    heads = ("set by the rule on falls", "rungs", "passes the share, in 100", f"at most {5 * HIGH:g}")
    return table(heads, rows)


def _summed_up(found: dict[Asked, Cell | None]) -> list[str]:
    ridden_in = [one for one in found.values() if one is not None and (one.found or one.held)]
    tested = {asked: one for asked, one in found.items() if one is not None and one.found is not None}
    ladders = [one.found.ladder for one in tested.values() if one.found is not None]
    out = [f"- {asked}: {', '.join(one.words)}" for asked, one in tested.items() if one.words]
    falls, rides = sum(one.falls for one in ridden_in), WORLDS * len(ridden_in)
    said_of = f"{len(tested)} of {len(found)} tested, {len(tested) - len(out)} within the bounds;"
    if ladders:
        mean, widest = np.mean([each.value for each in ladders]), max(each.error for each in ladders)
        said_of += f" mean {100 * mean:.2f}, intervals at most ±{100 * WIDE * widest:.2f};"
    return [f"{said_of} {falls} falls in {rides:,} rider-sessions.", "", *out]


def chances_part() -> list[str]:
    """Return other chances than 95 in 100."""
    rows = []
    for of_100, worlds in CHANCES:
        asked = replace(COLD, of_100=of_100)
        laid = lay(session(asked))
        found = passed(laid, outing(laid, worlds, SEED))
        if found is not None:
            most = max(lap.value for lap in found.laps.values())
            words = ", ".join(faults(found, of_100)) or "kept"
            rows.append((f"{of_100:g}, {asked}", worlds, found.ladder, f"{100 * most:.2f}", words))
        said(f"{of_100:g}: {found}")
    heads = ("chance, session", "worlds", "ladder, in 100", "most of a lap", "bounds")
    return ["### Other chances", "", *table(heads, rows)]


def replicates_part() -> list[str]:
    """Return ladders of sixteen seeds, each beside worlds of its own."""
    rows = []
    for asked in REPLICATED:
        values = []
        kept = 0
        for seed in range(1, REPLICATES + 1):
            laid = lay(session(asked, seed))
            found = passed(laid, outing(laid, WORLDS, SEED + 1000 * seed))
            if found is not None:
                values.append(found.ladder.value)
                kept += not faults(found, asked.of_100)
        figures = (np.std(values, ddof=1), min(values), max(values))
        rows.append(
            (asked, rate(np.array(values)), *(f"{100 * one:.2f}" for one in figures), f"{kept} of 16")
        )
        said(" ".join(map(str, rows[-1])))
    heads = ("session", "mean, in 100", "scatter of ladders", "least", "most", "all bounds kept")
    return ["### Sixteen seeds", "", "The interval is by ladders.", "", *table(heads, rows)]


def mutants_part() -> list[str]:
    """Return what planners that are wrong on purpose come to, and whether the bounds notice."""
    seeds = [(session(COLD, seed), SEED + 1000 * seed) for seed in MUTATED]
    right = [(lay(one), seed) for one, seed in seeds]
    parts = _parts(*right[0])
    rows = [_mutant("none", "", right, right)]
    bold = [(lay(bolder(one, 1.1)), seed) for one, seed in seeds]
    rows.append(_mutant("share of the grip times 1.1", "", bold, right))
    for what, codes in HALVED.items():
        with believing(codes, 0.5):
            believed = [(lay(one), seed) for one, seed in seeds]
        share = f"{sum(parts[code] for code in codes):.2f}"
        rows.append(_mutant(f"{what} halved", share, believed, right))
    heads = (str(COLD), "share", "mean, in 100", "over none", "noticed")
    return [
        "### Planners wrong on purpose",
        "",
        "Worlds ride ladders that were planned with too large a share of the grip, or in the belief that an",
        f"input's spread is half of what it is; {len(MUTATED)} seeds of each, the same worlds for all with a",
        "seed. Share: what the input has of all that varies in what is used, at the counted rungs. Noticed:",
        "of how many ladders the bounds say that something is wrong. An input with little share cannot be",
        "noticed, and does little harm.",
        "",
        *table(heads, rows),
    ]


def _parts(laid: Laid, seed: int) -> dict[str, float]:
    draws = fresh(laid.place.bends.shape[0], WORLDS, seed)
    return shares(laid, ridden(laid, draws), draws)


def _mutant(
    what: str, share: str, believed: list[tuple[Laid, int]], right: list[tuple[Laid, int]]
) -> tuple[object, ...]:
    """A row: mean of ladders, factor over the right ones in the same worlds, in how many it is noticed."""
    found = [_judged(laid, seed, true) for (laid, seed), (true, _) in zip(believed, right, strict=True)]
    sound = [_judged(laid, seed, laid) for laid, seed in right]
    mean = Rate(
        float(np.mean([one.ladder.value for one in found])),
        float(np.sqrt(np.sum([one.ladder.error**2 for one in found])) / len(found)),
    )
    factor = mean.value / float(np.mean([one.ladder.value for one in sound]))
    noticed = sum(bool(faults(one, COLD.of_100)) for one in found)
    said(f"{what} {share} {mean} {factor:.2f} {noticed}")
    return what, share, mean, f"{factor:.2f}", f"{noticed} of {len(found)}"


def _judged(laid: Laid, seed: int, right: Laid) -> Passed:
    """What worlds by seed say of a ladder by the share and the place of the right one."""
    used = ridden(laid, fresh(right.place.bends.shape[0], WORLDS, seed), right.place)
    found = passed(laid, used, right.share)
    if found is None:
        raise ValueError("a ladder by grip alone that no grip limits")
    return found


def misfits_part() -> list[str]:
    """Return how far the odds slip where the truth is another than was planned for, the worst first."""
    lines = [
        "### What slips where the truth is another",
        "",
        "At 95 in 100, aimed at 5 at most. Factor: over the same worlds where all is as said. Falls: of",
        "1,000 rider-sessions. By grip alone, so that no other limit helps.",
        "",
    ]
    for asked in (COLD, WARM):
        lines += _misfits(asked)
    return lines


def _misfits(asked: Asked) -> list[str]:
    usual, bright = session(asked), sunny(session(asked))
    laid, laid_bright = lay(usual), lay(bright)
    draws = fresh(laid.place.bends.shape[0], WORLDS, SEED)
    sides = bad_sides(laid, ridden(laid, draws), draws)
    moved = [shifted(code, float(np.sign(sides.get(code, -1.0)))) for code in MAIN]
    together: Tilts = {code: tilt for one in moved for code, tilt in one.tilts.items()}
    mistakes = [wider(), *moved, Misfit("all such shifts at once", tilts=together), *told_wrongly()]
    right, right_bright = (passed(one, outing(one, WORLDS, SEED)) for one in (laid, laid_bright))
    rows = [
        _slipped(one, laid_bright, right_bright)
        if one.what.startswith("shade")
        else _slipped(one, laid, right)
        for one in mistakes
    ]
    ordered = sorted((one for one in rows if one is not None), key=lambda one: -one[0])
    said(f"misfits of {asked}")
    return table(
        (str(asked), "passes the share, in 100", "factor", "most of a rung", "falls"),
        [one[1] for one in ordered],
    )


def _slipped(misfit: Misfit, laid: Laid, right: Passed | None) -> tuple[float, tuple[object, ...]] | None:
    asked: Session = laid.place.session
    if asked.start.kind != "warmers" and "warmers" in misfit.what:
        return None
    truth = setting(misfit.truth(asked), shipped_tables()) if misfit.truth else None
    used = outing(laid, WORLDS, SEED, truth, misfit.tilts)
    found = passed(laid, used)
    if found is None or right is None:
        return None
    over = ((used > laid.share) & laid.counted[:, :, None]).mean(axis=2)
    factor, falls = found.ladder.value / right.ladder.value, 1000 * fallen(used).mean()
    said(f"{misfit.what}: {found.ladder}, {factor:.1f}")
    cells = (misfit.what, found.ladder, f"{factor:.1f}", f"{100 * over.max():.1f}", f"{falls:.1f}")
    return found.ladder.value, cells
