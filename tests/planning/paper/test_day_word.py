"""The day word: the same for the same plan, another for another, no two sets alike."""

from __future__ import annotations

from dataclasses import replace

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.planning.paper import day_word, day_words, free_words
from leanladder.planning.paper.dayword import _content

Plan = tuple[DayLadder, ...]


def raised(plan: Plan, by_deg: float) -> Plan:
    """The plan with the first cap of its first ladder moved."""
    entry = plan[0]
    assert entry.ladder is not None
    lap = entry.ladder.laps[0]
    rung = lap.rungs[0]
    moved = replace(rung, cap_bike_deg=rung.cap_bike_deg + by_deg)
    changed = replace(
        entry.ladder, laps=(replace(lap, rungs=(moved, *lap.rungs[1:])), *entry.ladder.laps[1:])
    )
    return (replace(entry, ladder=changed), *plan[1:])


def test_the_same_plan_has_the_same_word(demo_day: Day, demo_circuit: Circuit, demo_plan: Plan) -> None:
    assert day_word(demo_day, demo_circuit, demo_plan) == day_word(demo_day, demo_circuit, demo_plan)


def test_a_changed_plan_changes_the_word(demo_day: Day, demo_circuit: Circuit, demo_plan: Plan) -> None:
    """But for about one change in a hundred: of 40 changes hardly more than two keep the word."""
    word = day_word(demo_day, demo_circuit, demo_plan)
    others = [day_word(demo_day, demo_circuit, raised(demo_plan, 0.02 * step)) for step in range(1, 41)]
    assert others.count(word) <= 2
    assert len(set(others)) > 25


def test_whatever_stands_on_a_card_counts(demo_day: Day, demo_circuit: Circuit, demo_plan: Plan) -> None:
    def content(day: Day, plan: Plan) -> list[str]:
        return list(_content(day, demo_circuit, plan))

    was = content(demo_day, demo_plan)
    riders = (replace(demo_day.riders[0], usual_lean_deg=20.0), *demo_day.riders[1:])
    assert content(replace(demo_day, riders=riders), demo_plan) != was
    assert content(demo_day, (replace(demo_plan[0], coach_pace=True), *demo_plan[1:])) != was
    assert content(demo_day, raised(demo_plan, 0.02)) != was
    assert content(demo_day, raised(demo_plan, 1e-7)) == was


def test_sets_of_a_day_never_share_a_word(demo_day: Day, demo_circuit: Circuit, demo_plan: Plan) -> None:
    words = day_words(demo_day, demo_circuit, {"a": demo_plan, "b": demo_plan, "c": demo_plan})
    assert len(set(words.values())) == 3


def test_nothing_of_the_day_is_called_by_the_word(
    demo_day: Day, demo_circuit: Circuit, demo_plan: Plan
) -> None:
    word = day_word(demo_day, demo_circuit, demo_plan)
    corners = (replace(demo_circuit.corners[0], name=f"{word} bend"), *demo_circuit.corners[1:])
    named = replace(demo_circuit, corners=corners)
    assert day_word(demo_day, named, demo_plan) != word


def test_words_are_short_and_none_reads_like_another() -> None:
    words = catalogue.day_words()
    assert len(words) > 100
    assert len(set(words)) == len(words)
    assert all(word.isalpha() and word.islower() and len(word) <= 8 for word in words)
    assert not {"heron", "otter", "wren"} & set(words)
    near = [
        (one, other)
        for one in words
        for other in words
        if one < other and len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) < 3
    ]
    assert not near


def test_a_day_that_has_used_every_word_has_more(
    demo_day: Day, demo_circuit: Circuit, demo_plan: Plan
) -> None:
    known = catalogue.day_words()
    assert free_words(known) == [f"{word} 2" for word in known]
    second = free_words(known)
    assert free_words({*known, *second})[0] == f"{known[0]} 3"
    assert day_word(demo_day, demo_circuit, demo_plan, known) in second
