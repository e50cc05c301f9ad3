"""Grip tables: a compound's own measured points go before the model."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.domain.tyre import Compound, GripPoint
from leanladder.engine import grip
from leanladder.planning.gripping import surface_grip, texture_fill
from leanladder.planning.tables import shipped_tables

TABLES = shipped_tables()
AXIS = grip.table_axis()
MEASURED = (GripPoint(5.0, 0.83), GripPoint(20.25, 0.97), GripPoint(45.0, 1.17), GripPoint(80.0, 1.21))


@pytest.fixture
def plain() -> Compound:
    return catalogue.tyre_family("sport-road").rear.compound


@pytest.fixture
def measured(plain: Compound) -> Compound:
    return replace(plain, grip_points=MEASURED)


def test_measured_points_hold_exactly_on_ordinary_asphalt(measured: Compound) -> None:
    table = surface_grip(measured, catalogue.surface("ordinary"), TABLES)
    for point in MEASURED:
        assert grip.grip_at(table, point.rubber_c) == pytest.approx(point.grip, rel=1e-9)


def test_outside_the_points_the_curve_goes_on_through_the_end(plain: Compound, measured: Compound) -> None:
    ordinary = catalogue.surface("ordinary")
    own, model = surface_grip(measured, ordinary, TABLES), surface_grip(plain, ordinary, TABLES)
    for outside, point in ((AXIS < 5.0, MEASURED[0]), (AXIS > 80.0, MEASURED[-1])):
        ratio = point.grip / grip.grip_at(model, point.rubber_c)
        assert own[outside] == pytest.approx(ratio * model[outside], rel=1e-9)
    assert np.abs(np.diff(own)).max() < 0.02  # no step where points and curve meet


def test_between_points_measured_grip_stays_between(measured: Compound) -> None:
    table = surface_grip(measured, catalogue.surface("ordinary"), TABLES)
    for low, high in pairwise(MEASURED):
        inside = table[(low.rubber_c <= AXIS) & (high.rubber_c >= AXIS)]
        assert inside.min() >= min(low.grip, high.grip) - 0.02
        assert inside.max() <= max(low.grip, high.grip) + 0.02


def test_another_surface_scales_measured_points_as_the_model_does(
    plain: Compound, measured: Compound
) -> None:
    ordinary, other = catalogue.surface("ordinary"), catalogue.surface("polished")
    model = surface_grip(plain, other, TABLES) / surface_grip(plain, ordinary, TABLES)
    own = surface_grip(measured, other, TABLES) / surface_grip(measured, ordinary, TABLES)
    assert own == pytest.approx(model, rel=1e-9)


def test_one_measured_point_shifts_the_whole_curve(plain: Compound) -> None:
    ordinary = catalogue.surface("ordinary")
    model = surface_grip(plain, ordinary, TABLES)
    own = surface_grip(replace(plain, grip_points=(GripPoint(40.0, 1.0),)), ordinary, TABLES)
    assert own == pytest.approx(model / grip.grip_at(model, 40.0), rel=1e-9)


@pytest.mark.parametrize("family", catalogue.tyre_names())
@pytest.mark.parametrize("surface", catalogue.surface_names())
def test_the_curve_rises_to_its_range_then_only_fades(family: str, surface: str) -> None:
    for tyre in (catalogue.tyre_family(family).front, catalogue.tyre_family(family).rear):
        table = surface_grip(tyre.compound, catalogue.surface(surface), TABLES)
        rising = tyre.compound.fade_from_c.value >= AXIS
        assert np.all(np.diff(table[rising]) >= -1e-12)
        assert np.all(np.diff(table[~rising]) <= 1e-12)
        assert 0.2 < table.min() < table.max() < 1.6


def test_texture_fill_is_an_index() -> None:
    fill = texture_fill(AXIS, TABLES)
    assert np.all(np.diff(fill) >= 0.0)
    assert 0.0 < fill[0] < 0.3
    assert 0.9 < fill[-1] <= 1.0


def test_a_curve_is_kept_and_cannot_be_changed_by_who_has_it(plain: Compound) -> None:
    ordinary = catalogue.surface("ordinary")
    kept = surface_grip(plain, ordinary, TABLES)
    assert surface_grip(replace(plain), ordinary, TABLES) is kept
    with pytest.raises(ValueError, match="read-only"):
        kept[0] = 2.0
    other = replace(TABLES, grip={**TABLES.grip, "wlf_width": 0.9 * TABLES.grip["wlf_width"]})
    assert not np.array_equal(surface_grip(plain, ordinary, other), kept)
