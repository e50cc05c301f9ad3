"""What planning says, worded for the page: warnings, limits, causes, chances."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from leanladder import wording
from leanladder.domain.chance import Doubt, FallOdds
from leanladder.domain.day import DayLadder
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.ladder import Ladder, Rung
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Start
from leanladder.domain.why import Change, Why

# Odds below one in so many are beyond what a model of grip alone has a say in; the text names it too.
RAREST, OFTEN = 10_000, 0.1
ROUNDING = 1e-9
# Figures that are codes themselves, and the groups of their words.
NAMED = {"side": "side", "other": "side", "end": "end"}


def told(sentence: Sentence, language: str) -> str:
    """Return a sentence's text; a side or an end among its figures in that language too."""

    def named(name: str, value: object) -> object:
        group = NAMED.get(name)
        return value if group is None else wording.text(f"{group}.{value}", language)

    figures = {name: named(name, value) for name, value in sentence.figures.items()}
    return wording.text(sentence.code, language, **figures)


def reason(rung: Rung, language: str) -> str:
    """Return what sets a limit, by the rubber as it arrives."""
    front_c, rear_c = (getattr(rubber, f"{rung.side}_c") for rubber in (rung.front, rung.rear))
    rubber_c = {"front_grip": front_c, "rear_grip": rear_c}.get(rung.limited_by, min(front_c, rear_c))
    return told(Sentence(rung.limited_by, {"side": rung.side, "rubber_c": math.floor(rubber_c)}), language)


def warnings(entry: DayLadder, ladder: Ladder, language: str) -> list[str]:
    """Return what is to be warned of: the road, the line, the ladder's own, the tyres."""
    road = ladder.session.road
    figures = {"shaded_c": math.floor(road.shaded_c), "track_c": math.floor(road.open_c)}
    held = {warning.code for warning in ladder.warnings}
    codes = (code for code in dict.fromkeys(entry.road_codes) if code not in held)
    own = (told(each.told, language) if each.told else each.text for each in ladder.warnings)
    return [
        *(wording.text(code, language, **figures) for code in codes),
        *own,
        *(told(each, language) for each in entry.remarks),
    ]


def cautions(ladder: Ladder, language: str) -> list[str]:
    """Return the cautions that stand with a ladder."""
    return [wording.text(code, language) for code in dict.fromkeys(ladder.cautions)]


def refusal(error: OutsideModelError, language: str) -> tuple[str, str]:
    """Return why there is no number, and what to do on a page."""
    own = f"ladder.do_{error.code}"
    known = wording.codes(language)
    why_not = wording.text(error.code, language) if f"refusal.{error.code}" in known else error.message
    if own in known:
        return why_not, wording.text(own, language)
    return why_not, error.fault.remedy or ""


def start(asked: Start, language: str) -> str:
    """Return how the tyres are when the wheels roll."""
    code = asked.kind if asked.kind != "stopped" else f"stopped_{'sun' if asked.in_sun else 'shade'}"
    warmers_c = "" if asked.warmers_c is None else f"{asked.warmers_c:g}"
    return wording.text(
        f"start.{code}",
        language,
        warmers_c=warmers_c,
        on_min=f"{asked.on_min:g}",
        off_min=f"{asked.off_min:g}",
    )


def others(rung: Rung, top_deg: float, language: str) -> str:
    """Return what card and grip alone would give; nothing above the level's top, which would tempt."""

    def least(value_deg: float) -> str:
        over = value_deg > top_deg
        said = math.floor(min(value_deg, top_deg))
        return wording.text("why.over", language, top_deg=said) if over else str(said)

    return wording.text(
        "ladder.others", language, card_deg=least(rung.card_bike_deg), grip_deg=least(rung.physics_bike_deg)
    )


def doubt(found: Doubt, top_deg: float, language: str) -> Iterator[str]:
    """Yield what the cases computed tell of one corner on one lap; nothing of falls."""
    over = wording.text("why.over", language, top_deg=math.floor(top_deg))
    leans = (found.bike_p50_deg, *found.bike_band_deg)
    middle, low, high = (over if lean > top_deg else math.floor(lean) for lean in leans)
    if found.bike_band_deg[0] > top_deg:
        yield wording.text("odds.carries_over", language, over=over)
    else:
        yield wording.text("odds.carries", language, middle_deg=middle, low_deg=low, high_deg=high)
    if found.main_causes:
        causes = "; ".join(wording.text(f"cause.{cause.code}", language) for cause in found.main_causes)
        yield wording.text("odds.carries_most", language, causes=causes)


def falls(odds: FallOdds, language: str) -> list[str]:
    """Return the odds of a fall over the laps, for the head instructor alone."""
    field = chance(odds.field, language)
    return [
        wording.text("odds.falls_rider", language, odds=chance(odds.rider, language)).removeprefix("- "),
        wording.text("odds.falls_field", language, riders=odds.riders, odds=field).removeprefix("- "),
        wording.text("odds.counted", language),
        wording.text("odds.unknown", language),
    ]


def chance(odds: float, language: str) -> str:
    """Return odds [0..1] in words, rounded so that they are never told smaller than they are."""
    if odds < 1.0 / RAREST:
        return wording.text("odds.rare", language)
    if odds > OFTEN:
        return wording.text("odds.often", language, count=math.ceil(100.0 * odds - ROUNDING))
    count = 1.0 / odds
    unit = 10 ** (len(str(math.floor(count + ROUNDING))) - 2)
    return wording.text("odds.one_in", language, count=unit * math.floor((count + ROUNDING) / unit))


def changes(answer: Why, language: str) -> list[tuple[str, str]]:
    """Return each change alone that applies and the limit it leads to, the most telling first."""
    rows = sorted((each for each in answer.changes if each.difference_deg is not None), key=_gain)
    return [(told(each.what, language), _led_to(each, language)) for each in rows]


def _gain(change: Change) -> float:
    return -(change.difference_deg or 0.0)


def _led_to(change: Change, language: str) -> str:
    return wording.text(
        "ladder.change_to",
        language,
        limit_deg=math.floor(change.cap_bike_deg or 0.0),
        set_by=wording.text(f"label.{change.limited_by}", language),
    )


def sentences(some: Iterable[Sentence], language: str) -> list[str]:
    """Return sentences in words."""
    return [told(each, language) for each in some]
