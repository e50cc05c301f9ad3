"""Which way may be told to riders, in what order, and why: one or two sentences each."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple, Protocol

from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.domain.way import EndsRise, WayName

# Told to nobody, whatever the figures say.
NEVER: tuple[WayName, ...] = ("weaving", "slow_straights")

CONDITIONS: Mapping[WayName, tuple[Sentence, ...]] = {
    "upright": (Sentence("upright_only"), Sentence("ways.half_grip"))
}


class Verdict(NamedTuple):
    """Whether a way may be told, its rank among those, why, and on which conditions."""

    allowed: bool
    rank: int | None
    says: Sentence
    conditions: tuple[Sentence, ...] = ()


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


def judge(session: Session, found: Mapping[WayName, Found]) -> dict[WayName, Verdict]:
    """Return a verdict on every way, those allowed first, best first.

    Allowed is what no rule forbids and what asks for less than the usable grip at every step. Of these
    that way comes first which warms the shoulders most: they are what the turns use, and come last.
    """
    against = {name: _against(session, name, each, found) for name, each in found.items()}
    allowed = [name for name, why in against.items() if why is None]
    ranked = sorted(allowed, key=lambda name: -needed_k(found[name]))
    verdicts: dict[WayName, Verdict] = {
        name: Verdict(True, rank, _why(name, found), CONDITIONS.get(name, ()))
        for rank, name in enumerate(ranked, 1)
    }
    return verdicts | {name: Verdict(False, None, why) for name, why in against.items() if why is not None}


def needed_k(found: Found) -> float:
    """Return the rise of the outer 2 mm [K] at the shoulders, of the tyre that gained less."""
    _, tread, _ = found.rises
    return min(tread.front.shoulders, tread.rear.shoulders)


def steady_share(found: Mapping[WayName, Found]) -> float:
    """Return the part [0..1] of the most any way warms the carcass that steady riding gives alone."""
    most = max(_carcass_k(each) for each in found.values())
    return _carcass_k(found["steady"]) / most if most > 0.0 else 1.0


def doubts(found: Mapping[WayName, Found]) -> tuple[Sentence, ...]:
    """Return what to doubt: common practice has a weave add a third of what upright riding adds, or less."""
    even = found["steady"].heat_j
    weave, upright = (found[name].heat_j - even for name in ("weaving", "upright"))
    return (Sentence("ways.weave_heat"),) if 3.0 * weave > upright else ()


def _carcass_k(found: Found) -> float:
    *_, carcass = found.rises
    return sum(end.centre + 2.0 * end.shoulders for end in (carcass.front, carcass.rear)) / 6.0


def _against(session: Session, name: WayName, each: Found, found: Mapping[WayName, Found]) -> Sentence | None:
    """Why a way may not be told; None where nothing stands against it."""
    if name == "weaving":
        return _no_weaving(each, found)
    if name == "slow_straights":
        return _no_slow_straights(each)
    if name == "upright" and not session.level.warming:
        return Sentence("ways.no_upright_level", {"level": session.level.name})
    if name == "upright" and not session.circuit.hard_upright_allowed:
        return Sentence("ways.no_upright_circuit")
    if each.peak_share >= 1.0:
        return Sentence("ways.no_grip", {"share_pct": _pct_up(each.peak_share)})
    return None


def _no_weaving(each: Found, found: Mapping[WayName, Found]) -> Sentence:
    own = _carcass_k(each)
    if own <= 0.0:
        return Sentence("ways.no_weaving_warm")
    share = min(1.0, max(0.0, _carcass_k(found["steady"]) / own))
    return Sentence("ways.no_weaving", {"share_pct": math.floor(100.0 * share)})


def _no_slow_straights(each: Found) -> Sentence:
    over_deg = math.floor(each.over_card_deg)
    code = "ways.no_slow_straights" if over_deg > 0 else "ways.no_slow_straights_warm"
    return Sentence(code, {"share_pct": _pct_up(each.peak_share), "over_deg": over_deg})


def _why(name: WayName, found: Mapping[WayName, Found]) -> Sentence:
    _, tread, _ = found[name].rises
    if needed_k(found[name]) <= 0.0:
        return Sentence("ways.why_warm", {"shoulders_k": math.ceil(-needed_k(found[name]))})
    figures = {
        "shoulders_k": math.floor(needed_k(found[name])),
        "centre_k": math.floor(min(tread.front.centre, tread.rear.centre)),
        "share_pct": math.floor(100.0 * steady_share(found)),
    }
    return Sentence(f"ways.why_{name}", figures)


def _pct_up(share: float) -> int:
    return math.ceil(100.0 * share - 1e-9)
