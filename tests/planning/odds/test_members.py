"""Members: tables near the curves they stand for, draws where they belong, a spread for every figure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.domain.parameter import Parameter
from leanladder.domain.session import Session
from leanladder.domain.tyre import GripPoint
from leanladder.engine.grip import TABLE_LENGTH, table_axis
from leanladder.planning.gripping import surface_grip
from leanladder.planning.odds.draws import draw
from leanladder.planning.odds.members import Members, enrol
from leanladder.planning.odds.sizes import size_of
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Tables

Ask = Callable[..., Session]
Place = Callable[..., Setting]
COUNT = 256


def members_of(place: Setting, seed: int = 1) -> Members:
    return enrol(place, draw(catalogue.spreads(), place.bends.shape[0], COUNT, seed))


def moved(figure: Parameter, by: float) -> Parameter:
    return replace(figure, value=figure.value + by)


@pytest.mark.parametrize("family", ["sport-road", "track-day", "race"])
@pytest.mark.parametrize("glass_k", [-13.0, -6.0, -2.0, 2.0, 5.0, 11.0])
@pytest.mark.parametrize("cold", [-2.0, 0.0, 1.5])
def test_tables_lie_on_the_curves_they_stand_for(
    ask: Ask, tables: Tables, family: str, glass_k: float, cold: float
) -> None:
    """Half way between rows of glass temperature, where straight lines are worst: within 0.004."""
    tyre = catalogue.tyre_family(family).front
    asked = ask()
    place = setting(replace(asked, front=replace(asked.front, tyre=tyre)), tables)
    curves = members_of(place).front.curves
    across = (glass_k + 16.0) / 4.0
    row, beside = int(across), across - int(across)
    found = sum(
        weight * (curves.friction[0, at] + cold * curves.cold[0, at])
        for at, weight in ((row, 1.0 - beside), (row + 1, beside))
    )
    own = tyre.compound
    true = surface_grip(
        replace(
            own,
            glass_c=moved(own.glass_c, glass_k),
            keying_cold=moved(own.keying_cold, cold * own.keying_cold.spread),
            adhesion_cold=moved(own.adhesion_cold, cold * own.adhesion_cold.spread),
        ),
        place.session.surface,
        tables,
    )
    warm = table_axis() > 0.0
    assert np.abs(found - true)[warm].max() < 0.004


def test_measured_points_hold_whatever_is_drawn(ask: Ask, tables: Tables) -> None:
    asked = ask()
    points = (GripPoint(20.0, 1.0), GripPoint(60.0, 1.2))
    own = replace(asked.front.tyre.compound, grip_points=points)
    tyre = replace(asked.front.tyre, compound=own)
    curves = members_of(setting(replace(asked, front=replace(asked.front, tyre=tyre)), tables)).front.curves
    for point in points:
        at = int(np.argmin(np.abs(table_axis() - point.rubber_c)))
        assert curves.friction[0, :, at] == pytest.approx(point.grip, rel=1e-9)
        assert curves.cold[0, :, at] == pytest.approx(0.0, abs=1e-12)
    assert curves.friction.shape[-1] == TABLE_LENGTH


def test_every_input_has_a_size_in_every_session(ask: Ask) -> None:
    for family in catalogue.tyre_names():
        tyres = catalogue.tyre_family(family)
        asked = ask()
        fitted = replace(
            asked, front=replace(asked.front, tyre=tyres.front), rear=replace(asked.rear, tyre=tyres.rear)
        )
        for spread in catalogue.spreads():
            assert size_of(spread, fitted) > 0.0, spread.code


def test_a_figure_s_own_spread_counts(ask: Ask) -> None:
    asked = ask()
    spreads = {spread.code: spread for spread in catalogue.spreads()}
    assert size_of(spreads["track"], asked) == asked.road.spread_k
    assert size_of(spreads["lean_scatter"], asked) == asked.level.lean_scatter_deg.value
    peak = asked.rear.tyre.compound.peak_grip
    assert size_of(spreads["rear_level"], asked) == pytest.approx(0.67 * peak.spread / peak.value)
    wider = replace(asked.rear.tyre, rolling_loss=replace(asked.rear.tyre.rolling_loss, spread=0.3))
    changed = replace(asked, rear=replace(asked.rear, tyre=wider))
    assert size_of(spreads["rolling_rear"], changed) == pytest.approx(0.3 / wider.rolling_loss.value)
    assert size_of(spreads["rolling_front"], changed) == size_of(spreads["rolling_front"], asked)


def test_the_parts_of_a_grip_level_make_up_its_spread() -> None:
    """Surface, place and tyre are independent: their squares add up to the whole, 1."""
    parts = {spread.code: spread.part for spread in catalogue.spreads()}
    for end in ("front_level", "rear_level"):
        whole = parts["surface"] ** 2 + parts["corner_grip"] ** 2 + parts[end] ** 2
        assert whole == pytest.approx(1.0, abs=0.01)


def test_what_is_common_is_common_and_what_is_own_is_own(ask: Ask, tables: Tables) -> None:
    place = setting(ask(), tables)
    members = members_of(place)
    front, rear = members.front, members.rear
    assert np.array_equal(front.differences.road_k, rear.differences.road_k)
    assert np.array_equal(front.own.shift_k, rear.own.shift_k)
    assert not np.array_equal(front.differences.loss, rear.differences.loss)
    levels = np.corrcoef(front.own.level, rear.own.level)[0, 1]
    assert 0.3 < levels < 0.6  # the day's road is in both: 0.35 of 0.8 of the variance
    assert members.machines.corner_level.shape == (place.bends.shape[0], COUNT)


def test_contact_is_never_better_than_perfect(ask: Ask, tables: Tables) -> None:
    place = setting(ask(), tables)
    members = members_of(place)
    patch = members.values["patch_front"]
    contact = members.front.differences.contact.ravel()[:COUNT] / np.sqrt(patch)
    assert contact.max() * tables.heat["contact_factor"] <= 1.0 + 1e-12


@pytest.mark.parametrize("cloud", [0.0, 0.5, 1.0])
def test_cloud_that_was_told_wrongly_moves_the_sun(ask: Ask, tables: Tables, cloud: float) -> None:
    asked = ask()
    place = setting(replace(asked, weather=replace(asked.weather, cloud=cloud)), tables)
    sun = members_of(place).front.differences.sun
    assert np.all(sun > 0.0)
    assert sun.min() < 1.0 or cloud == 1.0
    assert sun.max() > 1.0 or cloud == 0.0
