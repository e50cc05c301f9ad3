"""How each way is ridden: what its motion keeps to, and the little laws behind it."""

from __future__ import annotations

import numpy as np
import pytest
from tests.planning.conftest import Ask

from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.planning.tables import Tables
from leanladder.planning.ways import motions
from leanladder.planning.ways.base import Base, base, upright_limits
from leanladder.planning.ways.heating import depths_c, heat_motion

TOP_MPS = 20.0


@pytest.fixture(scope="module")
def made(ask: Ask, tables: Tables) -> Base:
    return base(ask("experienced", laps=2), tables)


def straight(lap: motions.Ridden) -> np.typing.NDArray[np.bool_]:
    return np.asarray(lap.way.corner_of[: lap.way.lap_steps] < 0)


def test_steady_keeps_to_its_top_speed_and_to_gentle_drive(made: Base) -> None:
    level = made.place.session.level
    for lap in motions.steady(made, TOP_MPS):
        assert lap.moves.speed_mps.max() <= TOP_MPS + 1e-9
        assert lap.moves.along_mps2.max() <= level.coach_drive_mps2.value + 1e-9


def test_slow_corners_are_within_the_caps_of_cold_tyres(made: Base) -> None:
    most = np.minimum(made.caps.cap, made.ways["slow_corner_deg"])
    for lap in motions.steady(made, TOP_MPS):
        inside = lap.way.corner_of[: lap.way.lap_steps]
        bike = np.degrees(np.abs(lap.moves.bike_lean))
        for index in lap.way.ridden:
            assert bike[inside == index].max() <= most[index] + 0.5  # between two points a step may be over


def test_slow_straights_take_a_corner_at_the_usual_lean(made: Base) -> None:
    usual = made.place.session.level.usual_lean_deg.value
    for lap in motions.slow_straights(made, TOP_MPS):
        assert np.degrees(np.abs(lap.moves.bike_lean)).max() == pytest.approx(usual, abs=1.0)


def test_a_weave_goes_both_ways_alike_and_costs_no_time(made: Base) -> None:
    even, woven = motions.steady(made, TOP_MPS), motions.weaving(made, TOP_MPS)
    for plain, lap in zip(even, woven, strict=True):
        assert np.array_equal(lap.moves.dt_s, plain.moves.dt_s)
        added = np.degrees(lap.moves.bike_lean - plain.moves.bike_lean)
        assert added.max() == pytest.approx(made.ways["weave_deg"], rel=0.02)
        assert added.min() == pytest.approx(-made.ways["weave_deg"], rel=0.02)
        assert abs(float((added * lap.moves.dt_s).sum() / lap.moves.dt_s.sum())) < 0.2  # whole waves
        assert not added[~straight(lap)].any()


def test_a_weaves_path_is_longer_but_hardly(made: Base) -> None:
    """Small waves: speed across is at most g tan(20 deg) T / (2 pi), some 2 m/s."""
    most_mps = GRAVITY_MPS2 * np.tan(np.radians(20.0)) * made.ways["weave_s"] / (2.0 * np.pi)
    for plain, lap in zip(motions.steady(made, TOP_MPS), motions.weaving(made, TOP_MPS), strict=True):
        extra = lap.moves.speed_mps**2 - plain.moves.speed_mps**2
        assert extra.min() >= -1e-9
        assert extra.max() <= most_mps**2 + 1e-9


def test_upright_drive_comes_before_braking_and_keeps_to_its_limits(made: Base) -> None:
    drive, brake = upright_limits(made, 1, made.caps)
    lap = motions.upright(made, 18.0)[0]
    on = straight(lap)
    along = lap.moves.along_mps2[on]
    assert along.max() <= drive + 1e-9
    # where a corner's own speeds need more, the coach's braking holds
    assert -along.min() <= max(brake, made.place.session.level.coach_brake_mps2.value) + 0.3
    hard = np.flatnonzero(on & (lap.moves.along_mps2 < -0.9 * brake))
    drives = np.flatnonzero(on & (lap.moves.along_mps2 > 0.9 * drive))
    assert hard.size
    assert drives.size
    assert drives[0] < hard[0]


def test_drive_and_braking_are_done_50_m_before_the_braking_point(made: Base) -> None:
    """The design's rule. From there the speed is held until the corner asks for less."""
    checked = 0
    for lap in motions.upright(made, 18.0):
        along, on = lap.moves.along_mps2, straight(lap)
        inside = lap.way.corner_of[: lap.way.lap_steps]
        steps = int(made.ways["done_m"] / lap.way.step_m)
        for index in lap.way.ridden:
            turn_in = int(np.flatnonzero(inside == index)[0])
            braking = turn_in
            while braking > 0 and on[braking - 1] and along[braking - 1] < -0.01:
                braking -= 1
            if braking == turn_in:
                continue  # a wide corner that asks for no braking
            checked += 1
            before = np.arange(max(0, braking - steps), braking)
            assert np.abs(along[before][on[before]]).max(initial=0.0) <= 0.01
    assert checked >= 10


def test_the_early_laps_use_at_most_half_the_grip(made: Base) -> None:
    """The design's rule: half of the grip then available, in the first two laps."""
    early, later = upright_limits(made, 1, made.caps), upright_limits(made, 3, made.caps)
    half_mps2 = 0.5 * float(made.caps.upright.min()) * GRAVITY_MPS2
    assert early[1] <= half_mps2
    assert early[0] <= half_mps2 * made.place.machine.drive_share
    assert early[0] <= later[0]
    assert early[1] < later[1]


def test_growing_lean_grows(made: Base) -> None:
    first, second = motions.growing_lean(made, TOP_MPS)
    leans = [np.degrees(np.abs(lap.moves.bike_lean)).max() for lap in (first, second)]
    assert leans[0] < leans[1]


def test_a_slower_top_speed_takes_longer(made: Base) -> None:
    for ride in (
        motions.steady,
        motions.weaving,
        motions.slow_straights,
        motions.growing_lean,
        motions.upright,
    ):
        times = [motions.seconds(ride(made, top)) for top in (15.0, 18.0, 21.0)]
        assert times == sorted(times, reverse=True)


def test_depths_are_read_by_third(made: Base) -> None:
    """A uniform tyre reads the same everywhere; after a lap the centre is the warmest third."""
    tyre = made.place.rear
    assert np.allclose(depths_c(made.start.rear, tyre.body), 8.0)
    lap = motions.steady(made, TOP_MPS)[0]
    warmed = heat_motion(made.place, lap.way, lap.moves, made.start)
    thirds = depths_c(warmed.end.rear, tyre.body)
    assert thirds.shape == (3, 3)
    assert (thirds[:, 1] > thirds[:, 0]).all()
    assert (thirds[:, 1] > thirds[:, 2]).all()


def test_the_grip_asked_for_is_the_forces_over_the_grip_at_hand(made: Base) -> None:
    """Upright and steady on a straight only rolling and drag are pushed against: a small share of it."""
    lap = motions.steady(made, TOP_MPS)[0]
    warmed = heat_motion(made.place, lap.way, lap.moves, made.start)
    even = straight(lap) & (np.abs(lap.moves.along_mps2) < 0.01) & (np.abs(lap.moves.bike_lean) < 0.01)
    assert even.any()
    assert warmed.used[:, even].max() < 0.2
    assert warmed.used.max() > 0.2
