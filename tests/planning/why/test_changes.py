"""What one change alone does to a rung: what a plan of that change gives, or why it does not apply."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from leanladder import wording
from leanladder.domain.condition import Condition
from leanladder.domain.ladder import Rung
from leanladder.domain.session import Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.domain.why import Change
from leanladder.planning.ladder import plan
from leanladder.planning.why import why
from leanladder.planning.why.figures import warmers

Ask = Callable[..., Session]
WARMERS = warmers()
KINDS = ["warmer_track", "warmers", "cold_start", "one_more_lap", "stop"]


def changes(session: Session, lap: int, corner: int) -> dict[str, Change]:
    found = why(session, lap, corner).changes
    assert [change.kind for change in found] == KINDS
    return {change.kind: change for change in found}


def rung(session: Session, lap: int, corner: int) -> Rung:
    return next(each for each in plan(session).laps[lap - 1].rungs if each.number == corner)


def gain_deg(change: Change) -> float:
    assert change.difference_deg is not None
    return change.difference_deg


def test_each_is_what_a_plan_of_it_gives(ask: Ask) -> None:
    session = ask(laps=3)
    own, found = rung(session, 2, 5), changes(session, 2, 5)
    warmer = replace(session.road, open_c=session.road.open_c + 5.0, shaded_c=session.road.shaded_c + 5.0)
    planned = {
        "warmer_track": rung(replace(session, road=warmer), 2, 5),
        "warmers": rung(replace(session, start=WARMERS), 2, 5),
        "one_more_lap": rung(session, 3, 5),
    }
    for kind, other in planned.items():
        change = found[kind]
        assert (change.cap_bike_deg, change.cap_lean_deg) == (other.cap_bike_deg, other.cap_lean_deg)
        assert change.limited_by == other.limited_by
        assert change.difference_deg == other.cap_bike_deg - own.cap_bike_deg


def test_the_lap_after_the_last_one_asked_for_counts_too(ask: Ask) -> None:
    change = changes(ask(laps=2), 2, 5)["one_more_lap"]
    assert (change.lap, change.cap_bike_deg) == (3, rung(ask(laps=3), 3, 5).cap_bike_deg)


def test_on_a_cold_morning_warmers_raise_and_a_stop_lowers(ask: Ask) -> None:
    """Trade: tyres off warmers carry more on the first laps; ten minutes in the pits cost warmth."""
    found = changes(ask(laps=6), 6, 3)
    assert gain_deg(changes(ask(laps=1), 1, 3)["warmers"]) > 3.0
    assert gain_deg(found["stop"]) < -0.5
    assert found["stop"].lap == 1
    assert gain_deg(found["warmer_track"]) > 0.0
    assert gain_deg(found["one_more_lap"]) > -0.1


def test_a_stop_of_cold_tyres_changes_nothing(ask: Ask) -> None:
    """At the air's temperature they stay at it, and the first lap is the same first lap."""
    assert gain_deg(changes(ask(laps=1), 1, 3)["stop"]) == 0.0


def test_off_warmers_ten_minutes_more_cost_lean(ask: Ask) -> None:
    found = changes(ask(laps=1, start=WARMERS), 1, 3)
    assert gain_deg(found["stop"]) < 0.0
    longer = replace(WARMERS, off_min=WARMERS.off_min + 10.0)
    assert found["stop"].cap_bike_deg == pytest.approx(
        rung(ask(laps=1, start=longer), 1, 3).cap_bike_deg, abs=0.2
    )


@pytest.mark.parametrize("start", [WARMERS, Start("cold")], ids=lambda start: start.kind)
def test_a_limit_that_falls_on_the_next_lap_is_said_to_fall(ask: Ask, start: Start) -> None:
    """Off warmers on a cold road it falls, whatever sets it; from cold it never does."""
    found = why(ask(level="regular", laps=2, start=start), 1, 1)
    gained = gain_deg(next(change for change in found.changes if change.kind == "one_more_lap"))
    falls = [sentence for sentence in found.sentences if sentence.code == "why.falls"]
    assert (gained <= -1.0) == (start == WARMERS)
    assert [sentence.figures["by_deg"] for sentence in falls] == [math.ceil(-gained)] * (start == WARMERS)


@pytest.mark.parametrize(
    ("start", "same"),
    [(Start("cold"), "cold_start"), (WARMERS, "warmers"), (Start("warmers", 60.0, 30.0, 2.0), "warmers")],
)
def test_a_start_that_is_so_already_is_no_change(ask: Ask, start: Start, same: str) -> None:
    found = changes(ask(laps=1, start=start), 1, 3)
    assert [kind for kind, change in found.items() if change.why_not is not None] == [same]
    assert found[same].cap_bike_deg is None
    why_not = found[same].why_not
    assert why_not is not None
    assert why_not.code == "why.not_already"


def test_a_corner_behind_the_pit_exit_has_no_first_lap_after_a_stop(ask: Ask) -> None:
    late = replace(ask().circuit, pit_exit_m=ask().circuit.corners[1].end_m + 20.0)
    found = changes(ask(laps=2, circuit=late), 2, 1)["stop"]
    assert found.why_not is not None
    assert found.why_not.code == "why.not_behind"


def test_where_the_model_does_not_apply_there_is_a_reason_in_place_of_a_number(ask: Ask) -> None:
    """Warm tyres on a frosty morning: started cold they would be brittle, and there is no number."""
    frosty = ask(
        laps=1,
        start=WARMERS,
        weather=Weather(-1.0, 5.0, 50.0),
        road=Road(5.0, 4.0, "measured", 1.0, 300.0),
    )
    change = changes(frosty, 1, 3)["cold_start"]
    assert change.cap_bike_deg is None
    assert change.why_not is not None
    assert change.why_not.code == "rubber_below_zero"


def test_a_track_that_no_air_goes_with_is_no_change(ask: Ask) -> None:
    hot = ask(laps=1, weather=Weather(28.0, 60.0, 40.0), road=Road(60.0, 40.0, "measured", 1.0, 900.0))
    change = changes(hot, 1, 3)["warmer_track"]
    assert change.why_not is not None
    assert change.why_not.code == "why.not_so_warm"


def test_a_stop_keeps_what_was_scrubbed(ask: Ask) -> None:
    """New sides open as they are ridden; a stop does not close them again."""
    new = Condition(scrubbed_left_deg=0.0, scrubbed_right_deg=0.0)
    session = ask(level="experienced", laps=4, start=WARMERS, front_state=new, rear_state=new)
    first, found = rung(session, 1, 3), changes(session, 4, 3)
    assert first.limited_by == "scrubbing"
    assert found["stop"].cap_bike_deg is not None
    assert found["stop"].cap_bike_deg > first.cap_bike_deg + 1.0


def test_beyond_forty_laps_nothing_is_planned(ask: Ask) -> None:
    change = changes(ask(laps=40), 40, 3)["one_more_lap"]
    assert change.why_not is not None
    assert change.why_not.code == "why.not_so_long"


@pytest.mark.parametrize("language", wording.languages())
def test_each_has_words_in_every_language(ask: Ask, language: str) -> None:
    for change in why(ask(laps=1), 1, 3).changes:
        for told in (change.what, change.why_not):
            assert told is None or wording.text(told.code, language, **told.figures)
