"""Cold pressures of the lists: by the gas law, as the gauge reads, never under the maker's minimum."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.planning.lists.made import (
    LATER,
    LOOKED_AT,
    WARM,
    day_of,
    entry,
    in_air,
    note_codes,
    quick,
    row_of,
)

from leanladder.domain.day import (
    PressurePair,
)
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import ColdPressure
from leanladder.planning.lists import pressure_rows
from leanladder.wording import codes

# Cold pressures


def test_a_stated_pressure_follows_the_gas_law_to_this_mornings_air(ridden: Ladder) -> None:
    """Gay-Lussac at sea level: 2.50 bar at 20 degC is (3.51325 x 278.15 / 293.15 - 1.01325) at 5 degC."""
    stated = ColdPressure(2.5, 2.3, 20.0)
    machine = replace(LOOKED_AT, cold=stated, gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0))
    row = row_of(machine, in_air(ridden, 5.0))
    assert row.front_bar == pytest.approx(3.51325 * 278.15 / 293.15 - 1.01325, abs=0.01)
    assert row.rear_bar == pytest.approx(3.31325 * 278.15 / 293.15 - 1.01325, abs=0.01)
    assert row.set_c == 5.0
    assert row.notes == ()
    # Common practice: a tenth of a bar for 10 K, or a little more.
    assert row.front_bar is not None
    assert 0.10 <= (2.5 - row.front_bar) / 1.5 <= 0.13


def test_the_gauges_offset_is_taken_off_before_and_put_back_after(ridden: Ladder) -> None:
    stated = ColdPressure(2.5, 2.3, 8.0)
    machine = replace(LOOKED_AT, cold=stated, minimum=PressurePair(2.0, 2.0))
    for offset_bar in (-0.1, 0.0, 0.15):
        row = row_of(replace(machine, gauge_offset_bar=offset_bar), in_air(ridden, 8.0))
        assert (row.front_bar, row.rear_bar) == (2.5, 2.3)
        assert row.offset_bar == offset_bar


def test_no_cold_pressure_without_the_makers_minimum(ridden: Ladder) -> None:
    stated = replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.1)
    for machine in (stated, replace(stated, hot=PressurePair(2.9, 2.7)), LOOKED_AT):
        row = row_of(machine, in_air(ridden, 8.0))
        assert (row.front_bar, row.rear_bar, row.minimum_front_bar) == (None, None, None)
        assert "lists.no_minimum" in note_codes(row)
    (stands,) = [note for note in row_of(stated, in_air(ridden, 8.0)).notes if note.code == "lists.stands"]
    assert stands.figures == {"front_bar": "2.50", "rear_bar": "2.30", "air_c": "8"}


def test_a_minimum_of_one_end_alone_advises_that_end_alone(ridden: Ladder) -> None:
    front = replace(ridden.session.front, tyre=replace(ridden.session.front.tyre, minimum_cold_bar=2.0))
    ladder = replace(ridden, session=replace(ridden.session, front=front))
    row = row_of(replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0), ladder)
    assert row.front_bar is not None
    assert row.rear_bar is None
    assert "lists.no_minimum" in note_codes(row)


def test_a_stated_pressure_below_the_minimum_is_raised_first(ridden: Ladder) -> None:
    machine = replace(
        LOOKED_AT, cold=ColdPressure(2.1, 2.4, 20.0), gauge_offset_bar=0.05, minimum=PressurePair(2.2, 2.2)
    )
    row = row_of(machine, in_air(ridden, 20.0))
    assert (row.front_bar, row.rear_bar) == (2.25, 2.4)
    assert note_codes(row) == ["lists.raise_first"]
    colder = row_of(machine, in_air(ridden, 2.0))  # 2.35 bar at 20 degC is 2.14 bar at 2 degC
    assert (colder.front_bar, colder.rear_bar) == (2.25, 2.25)


BARS, HOT = st.floats(1.5, 3.5), st.one_of(st.none(), st.floats(1.5, 3.5))
CELSIUS = st.tuples(st.floats(-5.0, 35.0), st.floats(0.0, 35.0))


@quick
@given(BARS, CELSIUS, st.floats(-0.3, 0.3), BARS, HOT)
def test_never_under_the_minimum_whatever_is_stated(
    ridden: Ladder,
    cold_bar: float,
    celsius: tuple[float, float],
    offset_bar: float,
    minimum_bar: float,
    hot_bar: float | None,
) -> None:
    set_c, air_c = celsius
    machine = replace(
        LOOKED_AT,
        cold=ColdPressure(cold_bar, cold_bar, set_c),
        gauge_offset_bar=offset_bar,
        minimum=PressurePair(minimum_bar, minimum_bar),
        hot=None if hot_bar is None else PressurePair(hot_bar, hot_bar),
        home=PressurePair(cold_bar, cold_bar),
    )
    row = row_of(machine, in_air(ridden, air_c))
    for read in (row.front_bar, row.rear_bar, row.home_front_bar, row.home_rear_bar):
        assert read is not None
        assert read - offset_bar >= minimum_bar - 1e-5
    if hot_bar is None and "lists.raise_first" not in note_codes(row):
        assert row.front_bar is not None
        warmer = air_c >= set_c
        assert row.front_bar >= cold_bar - 1e-5 if warmer else row.front_bar <= cold_bar + 0.01


def test_a_wanted_hot_pressure_gives_the_cold_one_by_the_entrys_own_ladder(ridden: Ladder) -> None:
    gas_c = ridden.laps[-1].front_end.gas_c
    hot_bar = 2.9
    machine = replace(LOOKED_AT, hot=PressurePair(hot_bar, hot_bar), minimum=PressurePair(1.5, 1.5))
    row = row_of(machine, in_air(ridden, 8.0))
    by_hand = (hot_bar + 1.01325) * (8.0 + 273.15) / (gas_c + 273.15) - 1.01325
    assert row.front_bar == pytest.approx(by_hand, abs=0.01)
    assert note_codes(row) == ["lists.for_hot"]
    held = row_of(replace(machine, minimum=PressurePair(2.95, 1.5)), in_air(ridden, 8.0))
    assert held.front_bar == 2.95
    assert note_codes(held) == ["lists.for_hot", "lists.held"]


def test_pressures_before_riding_home_are_as_the_gauge_reads(ridden: Ladder) -> None:
    row = row_of(replace(LOOKED_AT, home=PressurePair(2.5, 2.9), gauge_offset_bar=0.05), ridden)
    assert (row.home_front_bar, row.home_rear_bar) == (2.55, 2.95)


def test_machines_alike_share_a_row_and_others_have_their_own(ridden: Ladder) -> None:
    stated = replace(
        LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0)
    )
    machines = [replace(stated, name=name) for name in ("1", "2", "3", "4")]
    machines[1] = replace(machines[1], gauge_offset_bar=0.1)
    day = day_of(*machines)
    rows = pressure_rows(day, [entry(ridden, "3", "1", "2"), entry(None, "4", refused="plugged")])
    assert [row.machines for row in rows] == [("1", "3"), ("2",)]


def test_the_first_session_counts_and_warm_tyres_are_told(ridden: Ladder) -> None:
    machine = replace(
        LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0)
    )
    first = entry(in_air(ridden, 8.0), "1")
    later = entry(in_air(ridden, 14.0), "1", run=LATER, after="larks 1")
    (row,) = pressure_rows(day_of(machine), [first, later])
    assert (row.set_c, row.notes) == (8.0, ())
    (row,) = pressure_rows(day_of(machine), [later])
    assert note_codes(row) == ["lists.still_warm"]
    warm = replace(ridden, session=replace(ridden.session, start=WARM))
    assert note_codes(row_of(machine, warm)) == ["lists.before_warmers"]


def test_every_note_has_its_text_and_figures(ridden: Ladder) -> None:
    machine = replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0))
    rows = (row_of(machine, ridden), row_of(replace(machine, minimum=PressurePair(2.9, 2.9)), ridden))
    for note in (note for row in rows for note in row.notes):
        assert set(codes("en")[note.code]) <= set(note.figures)
