"""The guide: rows of rubber temperature before there is a circuit."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from leanladder import catalogue
from leanladder.domain.tyre import GripPoint
from leanladder.engine.cornering import lean_of_bike_lean
from leanladder.planning.guide import GuideRow, guide
from leanladder.planning.tables import shipped_tables

TABLES = shipped_tables()
TYRE = catalogue.tyre_family("sport-road").rear
ORDINARY = catalogue.surface("ordinary")
LEVELS = ("new", "regular", "experienced")


def rows(level: str) -> tuple[GuideRow, ...]:
    return guide(TYRE, catalogue.level(level), ORDINARY)


@pytest.mark.parametrize("level", LEVELS)
def test_rows_run_from_0_to_110(level: str) -> None:
    found = rows(level)
    assert [row.rubber_c for row in found] == list(range(0, 111, 5))
    top = catalogue.level(level).top_lean_deg.value
    cards = [row.card_bike_deg for row in found if row.card_bike_deg is not None]
    assert len(cards) == len(found)
    assert cards == sorted(cards)
    assert cards[-1] == top
    assert all(0.0 < row.grip < 1.6 and 0.0 < row.texture_fill <= 1.0 for row in found)


@pytest.mark.parametrize("level", LEVELS)
def test_the_physical_lean_is_the_share_of_the_grip(level: str) -> None:
    share = catalogue.level(level).grip_share.value * TABLES.margin["grip_held"]
    for row in rows(level):
        lean = lean_of_bike_lean(
            math.radians(row.physics_bike_deg),
            TABLES.margin["guide_crown_m"],
            TABLES.margin["guide_cg_height_m"],
        )
        assert math.tan(lean) == pytest.approx(share * row.grip, rel=1e-9)


def test_levels_differ_in_share_and_card_and_not_in_grip() -> None:
    for less, more in (("new", "regular"), ("regular", "experienced")):
        for one, other in zip(rows(less), rows(more), strict=True):
            assert one.grip == other.grip
            assert one.physics_bike_deg < other.physics_bike_deg
            assert one.card_bike_deg is not None
            assert other.card_bike_deg is not None
            assert one.card_bike_deg < other.card_bike_deg


def test_texture_fill_explains_and_moves_no_lean() -> None:
    stiff = replace(TABLES, grip=dict(TABLES.grip) | {"fill_soft_c": 90.0})
    plain, other = (
        guide(TYRE, catalogue.level("new"), ORDINARY),
        guide(TYRE, catalogue.level("new"), ORDINARY, stiff),
    )
    assert any(one.texture_fill != two.texture_fill for one, two in zip(plain, other, strict=True))
    assert [row.physics_bike_deg for row in plain] == [row.physics_bike_deg for row in other]


def test_measured_points_reach_the_guide() -> None:
    measured = replace(
        TYRE, compound=replace(TYRE.compound, grip_points=(GripPoint(20.0, 0.9), GripPoint(60.0, 1.3)))
    )
    found = {row.rubber_c: row.grip for row in guide(measured, catalogue.level("new"), ORDINARY)}
    assert found[20.0] == pytest.approx(0.9)
    assert found[60.0] == pytest.approx(1.3)
