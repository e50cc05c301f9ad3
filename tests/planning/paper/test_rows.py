"""Which turns a card shows: the tightest, one of each side, in riding order."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Side
from leanladder.domain.paper import CardRow, Fan
from leanladder.planning.paper.quarters import word
from leanladder.planning.paper.rows import no_more_than, shown

FANS = st.tuples(*[st.integers(0, 4)] * 3)
ROWS = st.lists(st.tuples(st.booleans(), FANS), min_size=1, max_size=20)


def rows_of(drawn: list[tuple[bool, tuple[int, int, int]]], respected: int | None = None) -> list[CardRow]:
    found = []
    for number, (is_left, counts) in enumerate(drawn, 1):
        side: Side = "left" if is_left else "right"
        fans = tuple(Fan(count, word(count)) for count in counts)
        found.append(CardRow(number, side, number == respected, fans))
    return found


def fewest(row: CardRow) -> int:
    return min(fan.quarters for fan in row.fans if fan is not None)


@given(ROWS)
def test_shown_and_left_out_are_all_turns_in_order(drawn: list[tuple[bool, tuple[int, int, int]]]) -> None:
    rows = rows_of(drawn)
    kept, left_out = shown(rows, 6)
    numbers = [row.number for row in kept]
    assert numbers == sorted(numbers)
    assert sorted([*numbers, *left_out]) == [row.number for row in rows]
    assert len(kept) <= 7
    assert len(rows) > 6 or not left_out


@given(ROWS, st.integers(1, 20))
def test_no_turn_left_out_has_fewer_quarters_than_one_shown(
    drawn: list[tuple[bool, tuple[int, int, int]]], respected: int
) -> None:
    """But for the turn to respect, which is always shown, and one that is there for its side alone."""
    rows = rows_of(drawn, respected)
    kept, left_out = shown(rows, 6)
    sides = [row.side for row in kept]
    assert set(sides) == {row.side for row in rows}
    counted = [row for row in kept if not row.least_margin and sides.count(row.side) > 1]
    for row in rows:
        if row.number in left_out:
            assert all(fewest(other) <= fewest(row) for other in counted)


def test_the_turn_to_respect_is_shown_whatever_its_quarters() -> None:
    rows = rows_of([(True, (1, 1, 1))] * 8 + [(True, (4, 4, 4))], respected=9)
    kept, left_out = shown(rows, 6)
    assert 9 in [row.number for row in kept]
    assert left_out == (6, 7, 8)


def test_the_only_turn_of_a_side_is_shown() -> None:
    rows = rows_of([(False, (1, 1, 1))] * 8 + [(True, (4, 4, 4))])
    kept, _ = shown(rows, 6)
    assert [row.number for row in kept] == [1, 2, 3, 4, 5, 6, 9]


@given(ROWS)
def test_turns_left_out_have_at_least_what_the_turn_named_for_them_shows(
    drawn: list[tuple[bool, tuple[int, int, int]]],
) -> None:
    rows = rows_of(drawn)
    kept, left_out = shown(rows, 6)
    number = no_more_than(rows, left_out, kept)
    if number is not None:
        assert number in [row.number for row in kept]
        named = rows[number - 1].fans
        for row in rows:
            for own, theirs in zip(named, row.fans, strict=True):
                if row.number in left_out and own is not None and theirs is not None:
                    assert own.quarters <= theirs.quarters
    assert number is None or left_out
