"""Axes with round figures, and labels that stand apart."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.drawing.axes import (
    Axis,
    Band,
    Plot,
    axes,
    axis_about,
    figures,
    framed,
    laps_axis,
    spread,
    ticks,
)

VALUES = st.floats(-50, 500)


@given(values=st.lists(VALUES, min_size=1, max_size=12), span=st.floats(0.1, 50))
def test_an_axis_holds_its_values_and_ends_on_ticks(values: list[float], span: float) -> None:
    axis = axis_about("°C", values, least_span=span)
    assert axis.low <= min(values) + 1e-6
    assert max(values) <= axis.high + 1e-6
    assert axis.high - axis.low >= span - 1e-6
    found = ticks(axis)
    assert 3 <= len(found) <= 11
    assert all(axis.low - 1e-6 <= tick <= axis.high + 1e-6 for tick in found)


def test_an_axis_needs_values() -> None:
    with pytest.raises(ValueError, match="values"):
        axis_about("°C", [])


def test_small_changes_stay_small() -> None:
    axis = axis_about("bar", [2.30, 2.31], least_span=0.4)
    assert axis.high - axis.low >= 0.4


@pytest.mark.parametrize(
    ("low", "high", "first"), [(0, 60, "0"), (1.95, 2.4, "2.0"), (0, 1.3, "0.0"), (0, 0.2, "0.00")]
)
def test_figures_of_an_axis_have_as_many_decimals(low: float, high: float, first: str) -> None:
    found = figures(Axis("", low, high))
    assert found[0] == first
    assert len({len(figure.partition(".")[2]) for figure in found}) == 1


def test_a_unit_may_write_its_own_figures() -> None:
    assert figures(Axis("", 0, 10, lambda value: f"{value:.1f}".replace(".", ",")))[1] == "2,0"


def test_laps_are_whole() -> None:
    assert ticks(laps_axis("lap", 8)) == [1, 2, 3, 4, 5, 6, 7, 8]


@given(wanted=st.lists(st.floats(0, 300), min_size=1, max_size=12).map(sorted), gap=st.floats(1, 20))
def test_labels_stand_apart_and_inside(wanted: list[float], gap: float) -> None:
    places = spread(wanted, gap, 0, 300)
    assert all(below - above >= gap - 1e-6 for above, below in pairwise(places))
    assert places[0] >= -1e-6
    assert places[-1] <= 300 + 1e-6


def test_labels_with_room_stand_where_they_are_wanted() -> None:
    assert spread([10.0, 40.0, 90.0], 16, 0, 100) == pytest.approx([10, 40, 90])
    assert spread([50.0, 50.0], 16, 0, 100) == pytest.approx([42, 58])


def test_a_band_is_drawn_as_far_as_the_chart_goes() -> None:
    def drawn(low: float, high: float) -> str:
        bands = (Band(low, high, "working range"),)
        return "".join(axes(framed(Plot(Axis("", 0, 10), Axis("", 0, 50), bands))))

    assert "working range" in drawn(40, 75)
    assert "working range" not in drawn(60, 90)
