"""Which causes are told of a cap: chosen from the physics of that rung."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from leanladder import catalogue, wording
from leanladder.domain.condition import Condition
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.domain.why import HeatBudget
from leanladder.planning.condition import at_coach_pace
from leanladder.planning.ladder import plan
from leanladder.planning.why import answer, why
from leanladder.planning.why.causes import Case, counted_level, sentences

pytestmark = pytest.mark.usefixtures("without_changes")

Ask = Callable[..., Session]
WARMERS = Start("warmers", 80.0, 60.0, 5.0)


def codes(session: Session, lap: int, corner: int) -> list[str]:
    """The codes told, checked to have words with their figures in every language."""
    found = why(session, lap, corner).sentences
    for sentence in found:
        for language in wording.languages():
            assert wording.text(sentence.code, language, **sentence.figures)
    assert found[0].code == "why.head"
    return [sentence.code for sentence in found]


def warm(ask: Ask, **changes: object) -> Session:
    """A summer's day with every level's rubber well in its range after some laps."""
    return ask(
        weather=Weather(28.0, 38.0, 40.0), road=Road(38.0, 33.0, "measured", 1.0, 700.0), laps=8, **changes
    )


def test_the_demos_one_left_turn_has_an_idle_shoulder(ask: Ask) -> None:
    told = why(ask(level="new", laps=2), 2, 5).sentences
    by_code = {sentence.code: sentence.figures for sentence in told}
    assert list(by_code)[:4] == ["why.head", "caution_card", "why.idle_side_once", "why.early"]
    assert by_code["why.idle_side_once"]["total"] == 11
    assert by_code["why.idle_side_once"]["gap_m"] > 2000  # type: ignore[operator]
    assert "why.cold_road" in by_code


def test_the_busy_side_is_not_idle(ask: Ask) -> None:
    assert not [code for code in codes(ask(laps=2), 2, 6) if "idle" in code]


def test_the_first_turn_of_a_cold_start_is_just_out(ask: Ask) -> None:
    found = codes(ask(laps=1), 1, 1)
    assert "why.just_out" in found
    assert "why.heat_in" not in found  # next to nothing yet


def test_later_the_want_of_heat_is_told_not_of_time(ask: Ask) -> None:
    found = codes(ask(laps=5), 5, 5)
    assert "why.below_range" in found
    assert "why.early" not in found


@pytest.mark.parametrize(("lap", "code"), [(1, "why.cools_at_once"), (3, "why.cools")])
def test_off_warmers_an_idle_shoulder_cools(ask: Ask, lap: int, code: str) -> None:
    assert code in codes(ask(laps=3, start=WARMERS), lap, 5)


def test_rubber_that_cools_does_not_want_for_time(ask: Ask) -> None:
    """The trade's riders think that warmth still comes; off warmers on a cold road it goes."""
    session = ask(laps=3, start=WARMERS)
    low_c = session.rear.tyre.working_low_c.value
    found = why(session, 3, 5)
    assert min(found.rung.front.left_c, found.rung.rear.left_c) < low_c
    told = [sentence.code for sentence in found.sentences]
    assert "why.cools" in told
    assert not {"why.just_out", "why.early", "why.below_range"} & set(told)


def test_a_tyre_that_gave_off_more_than_it_took_in_is_told_of(ask: Ask) -> None:
    """And one that warms from cold is not."""
    for start, loses in ((WARMERS, True), (Start("cold"), False)):
        found = why(ask(laps=3, start=start), 3, 5)
        end = found.front if found.rung.limited_by == "front_grip" else found.rear
        kept_j = sum(end.since_rolling.stored_j.values())
        assert (kept_j < -1000.0) == loses
        assert ("why.net_loss" in [sentence.code for sentence in found.sentences]) == loses


@pytest.mark.parametrize(("road_j", "told"), [(9e3, False), (11e3, True), (-11e3, False)])
def test_a_loss_below_a_tenth_is_not_told(
    ask: Ask, monkeypatch: pytest.MonkeyPatch, road_j: float, *, told: bool
) -> None:
    """Of 100 kJ that came in; less than nothing came out of the road."""
    cases: list[Case] = []

    def kept(case: Case) -> tuple[Sentence, ...]:
        cases.append(case)
        return ()

    monkeypatch.setattr(answer, "sentences", kept)
    why(ask(laps=2), 2, 5)
    heat = HeatBudget(2.0, {"rolling": 100e3}, {"road": road_j, "sky": -20e3}, {"tread": 120e3 - road_j})
    tyres = tuple(replace(tyre, since_rolling=heat) for tyre in cases[0].tyres)
    found = sentences(cases[0]._replace(tyres=tyres))  # type: ignore[arg-type]
    assert ("why.cold_road" in [sentence.code for sentence in found]) == told


def test_cold_tyres_never_cool(ask: Ask) -> None:
    assert not [code for lap in (1, 2) for code in codes(ask(laps=2), lap, 5) if "cools" in code]


def test_the_top_of_a_level_is_not_for_want_of_warmth(ask: Ask) -> None:
    new = catalogue.level("new")
    low = replace(new, top_lean_deg=replace(new.top_lean_deg, value=24.0))
    found = codes(replace(warm(ask), level=low), 8, 3)
    assert found == ["why.head", "level_top", "why.no_warmth"]


def test_clearance_is_not_either(ask: Ask) -> None:
    bike = catalogue.motorcycle("middleweight-sport")
    low = replace(bike, clearance_right_deg=replace(bike.clearance_right_deg, value=12.0))
    assert codes(ask(laps=1, motorcycle=low), 1, 3) == ["why.head", "clearance", "why.no_warmth"]


def test_rubber_past_its_best_is_told(ask: Ask) -> None:
    hot = ask(
        level="experienced",
        laps=12,
        weather=Weather(40.0, 62.0, 30.0),
        road=Road(62.0, 55.0, "measured", 1.0, 950.0),
        motorcycle=catalogue.motorcycle("litre-sport"),
    )
    high_c = hot.front.tyre.working_high_c.value
    past = [
        rung.number
        for rung in plan(hot).laps[-1].rungs
        if rung.limited_by == "front_grip" and getattr(rung.front, f"{rung.side}_c") > high_c
    ]
    assert past
    assert "why.too_hot" in codes(hot, 12, past[0])


def test_in_its_range_the_rubber_is_no_cause(ask: Ask) -> None:
    found = codes(warm(ask, level="experienced"), 8, 3)
    assert found[1] in {"front_grip", "rear_grip", "caution_card"}
    assert found[2] in {"why.in_range", "why.in_range_grip"}


def test_at_the_coachs_pace_the_new_levels_share_counts(ask: Ask) -> None:
    session = ask(level="experienced")
    assert counted_level(session) == "experienced"
    led = at_coach_pace(session)
    assert counted_level(led) == "new"
    assert led.level.grip_share.value == catalogue.level("new").grip_share.value


def test_a_worn_crown_is_named(ask: Ask) -> None:
    worn = Condition(crown="worn")
    assert "why.condition" in codes(ask(laps=1, front_state=worn, rear_state=worn), 1, 3)


def test_scrubbing_is_named_alone(ask: Ask) -> None:
    new = Condition(scrubbed_left_deg=0.0, scrubbed_right_deg=0.0)
    found = codes(ask(level="experienced", laps=1, start=WARMERS, front_state=new, rear_state=new), 1, 3)
    assert found == ["why.head", "scrubbing", "why.no_warmth"]


def test_no_sentence_proposes_heat(ask: Ask) -> None:
    """New riders are never told to brake or drive harder; nobody is told to weave."""
    for code in wording.codes():
        if code.startswith("why."):
            words = wording.text(code, **dict.fromkeys(wording.codes()[code], "7")).lower()
            assert not any(word in words for word in ("weav", "harder", "brake harder", "accelerate"))
