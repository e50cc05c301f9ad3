"""The turn to respect, and why; where groups close up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.ladder import Ladder
from leanladder.planning.paper.respect import corner_of, is_shaded, respect_why, respected, turns_first
from leanladder.planning.paper.spans import columns
from leanladder.planning.paper.straights import straights

Make = Callable[..., Ladder]


def chosen(ladder: Ladder) -> int | None:
    return respected(columns(ladder, "laps"))


def test_the_turn_with_the_least_margin_in_most_columns_is_respected(make: Make) -> None:
    assert chosen(make("rrl", [[13, 14, 13.5], [16, 17, 15], [18, 19, 16]])) == 3


def test_of_turns_as_often_the_one_with_the_least_cap(make: Make) -> None:
    assert chosen(make("rrl", [[13, 14, 15], [18, 17, 16]])) == 1
    assert chosen(make("rrl", [[19, 18, 17], [13, 14, 15]])) == 1


def test_without_a_turn_there_is_none(make: Make) -> None:
    assert respected(()) is None


def codes(ladder: Ladder) -> list[str]:
    number = chosen(ladder)
    assert number is not None
    why = respect_why(ladder.session.circuit, ladder, columns(ladder, "laps"), number)
    assert 1 <= len(why) <= 2
    return [sentence.code for sentence in why]


def plain(ladder: Ladder) -> Ladder:
    """The same without shade on the circuit."""
    circuit = ladder.session.circuit
    bright = replace(circuit, shaded=np.zeros_like(circuit.shaded))
    return replace(ladder, session=replace(ladder.session, circuit=bright))


def test_a_seldom_used_side_is_named_and_how_many_turns_come_first(make: Make) -> None:
    ladder = make("rrrl", [[16, 17, 18, 14]] * 3, warned=["seldom_used_side"])
    assert codes(plain(ladder)) == ["respect.seldom_left", "respect.rights_first"]


def test_the_busy_side_is_never_called_seldom(make: Make) -> None:
    ladder = make("rrrl", [[13, 17, 18, 19]] * 3, warned=["seldom_used_side"])
    assert codes(plain(ladder)) == ["respect.first_turn", "respect.cold_right"]


def test_what_does_not_come_from_cold_is_not_called_cold(make: Make) -> None:
    assert codes(plain(make("rl", [[30, 31]] * 3, limit="level_top"))) == ["respect.least"]


def test_rubber_that_is_not_scrubbed_is_named_first(make: Make) -> None:
    assert codes(plain(make("rl", [[31, 12]] * 3, limit="scrubbing")))[0] == "respect.new_both"


def test_turns_of_the_other_side_are_counted_over_the_start_line(make: Make) -> None:
    circuit = make("rlrr", [[1, 1, 1, 1]]).session.circuit
    assert turns_first(circuit, corner_of(circuit, 2)) == 3
    assert turns_first(circuit, corner_of(circuit, 1)) == 0


def test_shade_counts_within_a_turn_alone(demo_circuit: Circuit) -> None:
    """The example's notes shade it from 1480 to 1740 m: turns 5 and 6."""
    shaded = [corner.number for corner in demo_circuit.corners if is_shaded(demo_circuit, corner)]
    assert shaded == [5, 6]


def test_straights_run_from_exit_to_entry_longest_first(demo_circuit: Circuit) -> None:
    found = straights(demo_circuit)
    lengths = [straight.length_m for straight in found]
    assert lengths == sorted(lengths, reverse=True)
    assert (found[0].from_number, found[0].to_number) == (11, 1)
    first, last = demo_circuit.corners[0], demo_circuit.corners[-1]
    assert found[0].length_m == pytest.approx(demo_circuit.length_m - last.end_m + first.start_m)
    in_turns_m = sum(
        (corner.end_m - corner.start_m) % demo_circuit.length_m for corner in demo_circuit.corners
    )
    assert sum(lengths) + in_turns_m < demo_circuit.length_m
