"""Which way may be told to riders, in what order, and why: one or two sentences each."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple, Protocol

from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.domain.way import EndsRise, WayName, percent, whole

# Of ways that warm alike the gentler comes first.
GENTLE: tuple[WayName, ...] = ("steady", "growing_lean", "upright", "weaving", "slow_straights")

CONDITIONS: Mapping[WayName, tuple[Sentence, ...]] = {
    "upright": (Sentence("upright_only"), Sentence("ways.half_grip"))
}


class Verdict(NamedTuple):
    """Whether a way may be told, its rank among those, why, and on which conditions."""

    allowed: bool
    rank: int | None
    says: Sentence
    conditions: tuple[Sentence, ...] = ()


class Need(NamedTuple):
    """Whether heat is of use: turned, whether any turn is ridden; hot, whether tyres or road are past it."""

    turned: bool
    hot: bool


class Found(Protocol):
    """What a verdict rests on, as the comparison found it."""

    @property
    def rises(self) -> tuple[EndsRise, EndsRise, EndsRise]:
        """Skin, outer 2 mm and carcass [K]."""

    @property
    def heat_j(self) -> float:
        """Into both tyres' rubber [J]."""

    @property
    def peak_share(self) -> float:
        """The highest share of the usable grip asked for [-]."""

    @property
    def over_card_deg(self) -> float:
        """How far the lean goes beyond the card [deg]."""


def judge(
    session: Session, found: Mapping[WayName, Found], need: Need, ways: Mapping[str, float]
) -> dict[WayName, Verdict]:
    """Return a verdict on every way, those allowed first, best first; ways holds data/ways.toml's figures.

    Allowed is what no rule forbids and what asks for less than the usable grip at every step. Of these
    that way comes first which warms the shoulders most: they are what the turns use, and come last. Drive
    and braking harder than usual need shoulders that gain by what is gentler too. Where no turn is
    ridden, or where it is too hot, nothing is ranked.
    """
    against = {name: _against(session, name, found, need, ways) for name in found}
    gaining = [name for name, why in against.items() if why is None and name != "upright"]
    idle = need.hot or not need.turned or all(whole(needed_k(found[name])) < 1 for name in gaining)
    if idle and against["upright"] is None:
        against["upright"] = Sentence("ways.no_upright_need")
    allowed = [name for name in GENTLE if against[name] is None]
    ranks: Sequence[int | None] = [None] * len(allowed)
    if need.turned and not need.hot:
        allowed, ranks = ranked(allowed, found, ways["same_k"]), range(1, len(allowed) + 1)
    verdicts: dict[WayName, Verdict] = {
        name: Verdict(True, rank, _why(name, found, need), CONDITIONS.get(name, ()))
        for name, rank in zip(allowed, ranks, strict=True)
    }
    return verdicts | {name: Verdict(False, None, why) for name, why in against.items() if why is not None}


def ranked(names: Sequence[WayName], found: Mapping[WayName, Found], same_k: float) -> list[WayName]:
    """Return ways, the warmest shoulders first; of those within same_k [K] of the warmest the gentlest."""
    left, order = list(names), list[WayName]()
    while left:
        most = max(needed_k(found[name]) for name in left)
        alike = [name for name in left if needed_k(found[name]) >= most - same_k]
        order += sorted(alike, key=GENTLE.index)
        left = [name for name in left if name not in alike]
    return order


def needed_k(found: Found) -> float:
    """Return the rise of the outer 2 mm [K] at the shoulders, of the tyre that gained less."""
    _, tread, _ = found.rises
    return min(tread.front.shoulders, tread.rear.shoulders)


def steady_share(found: Mapping[WayName, Found]) -> float | None:
    """Return the part [0..1] of the most any way warms the carcass that steady riding gives alone.

    None where steady riding lets the carcass cool.
    """
    even, most = _carcass_k(found["steady"]), max(_carcass_k(each) for each in found.values())
    return even / most if even > 0.0 else None


def doubted(found: Mapping[WayName, Found], times: float) -> bool:
    """Return whether the weave is warmer than practice knows: upright adds less than times its heat."""
    even = found["steady"].heat_j
    weave, upright = (found[name].heat_j - even for name in ("weaving", "upright"))
    return times * weave > upright


def _carcass_k(found: Found) -> float:
    *_, carcass = found.rises
    return sum(end.centre + 2.0 * end.shoulders for end in (carcass.front, carcass.rear)) / 6.0


def _against(
    session: Session, name: WayName, found: Mapping[WayName, Found], need: Need, ways: Mapping[str, float]
) -> Sentence | None:
    """Why a way may not be told; None where nothing stands against it."""
    each = found[name]
    if name == "weaving":
        return _no_weaving(found, need, ways["upright_times"])
    if name == "slow_straights":
        return _no_slow_straights(each, need)
    if name == "upright" and not session.level.warming:
        return Sentence("ways.no_upright_level", {"level": session.level.name})
    if name == "upright" and not session.circuit.hard_upright_allowed:
        return Sentence("ways.no_upright_circuit")
    if each.peak_share >= 1.0:
        return Sentence("ways.no_grip", {"share_pct": percent(each.peak_share)})
    return None


def _no_weaving(found: Mapping[WayName, Found], need: Need, times: float) -> Sentence:
    own = _carcass_k(found["weaving"])
    if need.hot or own <= 0.0:
        return Sentence("ways.no_weaving_warm")
    if doubted(found, times):
        return Sentence("ways.no_weaving_doubted")
    share = min(1.0, max(0.0, _carcass_k(found["steady"]) / own))
    return Sentence("ways.no_weaving", {"share_pct": math.floor(100.0 * share)})


def _no_slow_straights(each: Found, need: Need) -> Sentence:
    """Its share of the grip is named from the whole on only: below, it would read as room left."""
    share_pct, over_deg = percent(each.peak_share), math.floor(each.over_card_deg)
    too_much, over = each.peak_share >= 1.0, over_deg > 0
    if too_much and over:
        return Sentence("ways.no_slow_straights", {"share_pct": share_pct, "over_deg": over_deg})
    if too_much:
        return Sentence("ways.no_slow_straights_grip", {"share_pct": share_pct})
    if over:
        return Sentence("ways.no_slow_straights_lean", {"over_deg": over_deg})
    cools = need.turned and _carcass_k(each) <= 0.0
    return Sentence("ways.no_slow_straights_warm" if cools else "ways.no_slow_straights_early")


def _why(name: WayName, found: Mapping[WayName, Found], need: Need) -> Sentence:
    if need.hot:
        return Sentence("ways.why_hot")
    if not need.turned:
        return Sentence("ways.why_no_turn")
    _, tread, _ = found[name].rises
    shoulders_k, carcass_k = whole(needed_k(found[name])), whole(_carcass_k(found[name]))
    if shoulders_k <= 0:
        return _cooled(shoulders_k, carcass_k)
    figures: dict[str, str | float | int] = {
        "shoulders_k": shoulders_k,
        "centre_k": whole(min(tread.front.centre, tread.rear.centre)),
    }
    share = steady_share(found)
    if name == "steady" and share is None:
        return Sentence("ways.why_shoulders", figures)
    return Sentence(f"ways.why_{name}", figures | {"share_pct": math.floor(100.0 * (share or 0.0))})


def _cooled(shoulders_k: int, carcass_k: int) -> Sentence:
    """What to say of shoulders that gain nothing, by what falls."""
    if shoulders_k == 0:
        return Sentence("ways.why_same")
    if carcass_k > 0:
        return Sentence("ways.why_mixed", {"shoulders_k": -shoulders_k, "carcass_k": carcass_k})
    return Sentence("ways.why_warm", {"shoulders_k": -shoulders_k})
