"""Falls by grip: how often a rider-session ends in one, and what the ladder itself says of it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scripts.odds_parts import SEED, said, table
from tests.worlds.counts import WIDE, Rate, fallen, weighted
from tests.worlds.drawing import Days, every_day
from tests.worlds.laid import Laid, lay
from tests.worlds.outing import outing
from tests.worlds.rare import Rare, rare, slippery
from tests.worlds.sessions import Asked, session

from leanladder.planning.ladder import plan

Floats = NDArray[np.float64]
COUNTED = {"new": 32_768}  # enough to tell less than one in ten thousand
USUALLY = 8_192
TILTED = 4_096  # of each part of a mixture
DAYS, RIDERS = 480, 30
WORST = 5  # of DAYS: the worst 1 in 100
LONG = 12  # a run of some twenty minutes
MANY = 960  # riders of each part on each of the worst days
CASES = (
    Asked(level="new", judged=True),
    Asked(level="regular", judged=True),
    Asked(level="experienced", judged=True),
    Asked(level="experienced"),
    Asked(family="race", level="experienced"),
    Asked(family="race", start="warmers", morning="hot", judged=True, laps=LONG),
    Asked(start="warmers", morning="hot", level="new", judged=True, laps=LONG),
)
TOLD = (1, 2, 3, 4, 5, 6)  # seeds of ladders whose own odds are compared
MIXTURE = slippery(3.0, 6.0)
OWN = slippery(4.0, day=False)  # riders of one day have its road in common
FIELD_HEADS = ("session", "any day", "the ladder's own", "worst days", "a rider on them")
AIMS = {"new": 1e-4, "experienced": 1e-3}


class Fallen(NamedTuple):
    """Odds of a fall: counted in so many plain worlds, by tilted ones, and as ladders of some seeds say."""

    plain: int
    worlds: int
    tilted: Rate
    told_riders: list[float]
    told_fields: list[float]


class Field(NamedTuple):
    """Odds that at least one of a field falls: over all days, on the worst, and a rider's there."""

    every_day: Rate
    worst: Rate
    rider: float


def odds_of(asked: Asked, laid: Laid) -> Fallen:
    """Return the odds of a fall in a session."""
    worlds = COUNTED.get(asked.level, USUALLY)
    plain = int(fallen(outing(laid, worlds, SEED)).sum())
    found = rare(laid, TILTED, SEED + 100, MIXTURE)
    told = [odds for seed in TOLD if (odds := plan(session(asked, seed)).fall_odds) is not None]
    riders, fields = [odds.rider for odds in told], [odds.field for odds in told]
    said(f"{asked}: {plain} plain, tilted {_figure(found_rate(found))}, told {_range(riders)}")
    return Fallen(plain, worlds, found_rate(found), riders, fields)


def found_rate(found: Rare) -> Rate:
    """Return the odds by tilted worlds."""
    return weighted(fallen(found.used), found.weights)


def by_day(found: Rare, days: int, riders: int) -> Floats:
    """Return a rider's odds of a fall on each day (days,), by tilted worlds."""
    hits = (fallen(found.used) * found.weights).reshape(-1, days, riders)
    return np.asarray(np.minimum(hits.mean(axis=(0, 2)), 1.0))


def field_of(laid: Laid) -> Field:
    """Return the odds that at least one of thirty riders falls: days with their riders, nested."""
    days = every_day(DAYS, RIDERS, SEED + 200)
    found = rare(laid, DAYS * RIDERS, SEED + 210, OWN, days)
    severe = found.used.max(axis=(0, 1))[: DAYS * RIDERS].reshape(DAYS, RIDERS).mean(axis=1)
    worst = np.sort(np.argsort(severe)[-WORST:])
    on_worst = Days(DAYS, MANY, worst, days.seed)
    again = by_day(rare(laid, WORST * MANY, SEED + 220, OWN, on_worst), WORST, MANY)
    return Field(_field(by_day(found, DAYS, RIDERS)), _field(again), float(again.mean()))


def _field(odds: Floats) -> Rate:
    fields = -np.expm1(RIDERS * np.log1p(-np.minimum(odds, 1.0 - 1e-12)))
    return Rate(float(fields.mean()), float(fields.std(ddof=1) / np.sqrt(fields.size)))


def falls_part() -> list[str]:
    """Return the odds of falls, of riders and of fields."""
    riders, fields = [], []
    for asked in CASES:
        laid = lay(session(asked))
        found, field = odds_of(asked, laid), field_of(laid)
        said(f"{asked}: field {field}")
        riders.append(_rider_row(asked, found))
        days = (_figure(field.every_day), _range(found.told_fields), _figure(field.worst))
        fields.append((asked, *days, f"{field.rider:.1e}" if field.rider else "none seen"))
    return [
        "### Falls",
        "",
        "A fall: what a rung asks for passes all of the friction; all rungs of a ladder count. Plain: falls",
        "in so many rider-sessions; none of n means fewer than 3 of n (rule of three). Tilted:",
        f"{len(MIXTURE)} x {TILTED:,} worlds with slippery days and tyres among them, weighted (importance",
        "sampling). Aimed at: fewer than 1 of 10,000 for `new`, 1 of 1,000 for `experienced`. The",
        f"ladder's own: the least and the most of {len(TOLD)} seeds.",
        "",
        *table(("session", "plain", "tilted", "the ladder's own", "kept"), riders),
        f"At least one of {RIDERS} riders on one day, its road, weather and places alike: {DAYS} days; the",
        "worst 1 in 100 of days by the most that their riders use on average. Odds by tilted riders.",
        "",
        *table(FIELD_HEADS, fields),
    ]


def _rider_row(asked: Asked, found: Fallen) -> tuple[object, ...]:
    aim = AIMS.get(asked.level)
    most = found.tilted.value + WIDE * found.tilted.error
    if found.plain == 0:
        most = min(most, 3.0 / found.worlds)
    kept = "" if aim is None else "yes" if most < aim else "no"
    return asked, f"{found.plain} of {found.worlds:,}", _figure(found.tilted), _range(found.told_riders), kept


def _range(odds: list[float]) -> str:
    return f"{min(odds):.0e} to {max(odds):.0e}"


def _figure(each: Rate) -> str:
    if each.value == 0.0:
        return "none seen"
    return f"{each.value:.1e} ± {WIDE * each.error:.0e}"
