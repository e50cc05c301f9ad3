"""A circuit from its outline and notes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from leanladder.domain.circuit import (
    Bank,
    Circuit,
    CircuitNotes,
    CornerName,
    Outline,
    Patch,
    Stretch,
)
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning.circuits import build

EXAMPLE = Path(__file__).resolve().parents[2] / "src" / "leanladder" / "data" / "example"


def demo(**notes: object) -> Circuit:
    outline = read_outline(EXAMPLE / "circuit.csv")
    return build(outline, CircuitNotes(**notes))  # type: ignore[arg-type]


def outline_of(points: np.ndarray, frame: str = "metres") -> Outline:
    return Outline("test", frame, np.asarray(points, dtype=np.float64), source="lap.csv")  # type: ignore[arg-type]


def test_the_demo_has_eleven_corners_one_of_them_left() -> None:
    circuit = build(read_outline(EXAMPLE / "circuit.csv"), read_notes(EXAMPLE / "circuit-notes.toml"))
    # The script that draws the line: place and size of each corner are known.
    drawn = [(372, 42), (682, 85), (965, 120), (1412, 18), (1535, 30), (1703, 34), (1923, 100)]
    drawn += [(2142, 70), (2367, 95), (2569, 110), (2758, 60)]
    turns = [80, 36, 26, 88, 72, 58, 28, 34, 28, 24, 30]
    assert [corner.side for corner in circuit.corners] == ["right"] * 4 + ["left"] + ["right"] * 6
    for corner, (apex, radius), turn in zip(circuit.corners, drawn, turns, strict=True):
        assert corner.apex_m == pytest.approx(apex, abs=6.0)
        assert corner.radius_m == pytest.approx(radius, rel=0.06)
        assert corner.turn_deg == pytest.approx(turn, abs=2.0)
        assert corner.name
    assert circuit.length_m == pytest.approx(3010.0, abs=1.5)
    assert circuit.net_turns == -1
    assert circuit.closed_course
    assert circuit.hard_upright_allowed
    assert circuit.remarks == ()
    straight = np.abs(circuit.curvature_per_m) < 1.0 / 500.0
    assert straight.mean() > 0.5


def test_the_grid_is_even_and_complete() -> None:
    circuit = demo()
    n = len(circuit.s_m)
    assert n % 2 == 0
    np.testing.assert_allclose(circuit.s_m, np.arange(n) * circuit.length_m / n)
    for name in ("x_m", "y_m", "curvature_per_m", "elevation_m", "bank_deg", "shaded"):
        assert getattr(circuit, name).shape == (n,)


def test_corners_are_numbered_in_riding_order_with_gaps_to_the_last_of_their_side() -> None:
    corners = demo().corners
    assert [corner.number for corner in corners] == list(range(1, 12))
    assert corners[1].same_side_gap_m == pytest.approx(corners[1].start_m - corners[0].end_m)
    left = next(corner for corner in corners if corner.side == "left")
    length = demo().length_m
    assert left.same_side_gap_m == pytest.approx((left.start_m - left.end_m) % length)
    assert corners[0].same_side_gap_m == pytest.approx(corners[0].start_m + length - corners[-1].end_m)


def test_reversed_the_corners_come_the_other_way_round() -> None:
    outline = read_outline(EXAMPLE / "circuit.csv")
    there, back = build(outline), build(outline, reverse=True)
    assert back.net_turns == -there.net_turns
    swap = {"left": "right", "right": "left"}
    assert [c.side for c in back.corners] == [swap[c.side] for c in there.corners[::-1]]
    for one, other in zip(there.corners[::-1], back.corners, strict=True):
        assert other.apex_m == pytest.approx(there.length_m - one.apex_m, abs=4.0)
        assert other.turn_deg == pytest.approx(one.turn_deg, abs=1.0)


def test_reverse_by_notes_and_by_flag_is_the_same() -> None:
    outline = read_outline(EXAMPLE / "circuit.csv")
    by_flag = build(outline, reverse=True)
    for notes_too in (False, True):
        by_notes = build(outline, CircuitNotes(reverse=True), reverse=notes_too)
        assert by_notes.corners == by_flag.corners


def test_a_mirrored_circuit_swaps_its_sides_exactly() -> None:
    outline = read_outline(EXAMPLE / "circuit.csv")
    mirrored = build(outline_of(outline.points * [1.0, -1.0]))
    plain = build(outline_of(outline.points))
    np.testing.assert_allclose(mirrored.curvature_per_m, -plain.curvature_per_m, rtol=1e-9, atol=1e-15)
    for one, other in zip(plain.corners, mirrored.corners, strict=True):
        assert {one.side, other.side} == {"left", "right"}
        assert other.number == one.number
        for name in ("start_m", "apex_m", "end_m", "radius_m", "turn_deg", "same_side_gap_m"):
            if name != "same_side_gap_m":
                assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-9)
        assert other.same_side_gap_m == pytest.approx(one.same_side_gap_m, rel=1e-9)


def test_a_start_line_shifts_every_distance() -> None:
    plain, moved = demo(), demo(start_at_m=1000.0)
    assert moved.corners[0].apex_m == pytest.approx(plain.corners[3].apex_m - 1000.0, abs=4.0)
    assert moved.corners[-1].apex_m == pytest.approx(
        plain.corners[2].apex_m + plain.length_m - 1000.0, abs=4.0
    )


def test_a_start_line_within_a_corner_is_kept_and_remarked() -> None:
    circuit = demo(start_at_m=1412.0)
    across = [corner for corner in circuit.corners if corner.end_m < corner.start_m]
    assert len(across) == 1
    assert "start line lies within turn" in circuit.remarks[0]


def test_names_go_to_the_nearest_apex_and_far_ones_are_remarked() -> None:
    circuit = demo(names=(CornerName(690.0, "Mill"), CornerName(120.0, "Nowhere")))
    assert circuit.corners[1].name == "Mill"
    assert sum(bool(corner.name) for corner in circuit.corners) == 1
    assert "Nowhere" in circuit.remarks[0]


def test_of_two_names_for_one_corner_the_nearer_stays() -> None:
    circuit = demo(names=(CornerName(660.0, "Far"), CornerName(684.0, "Near")))
    assert circuit.corners[1].name == "Near"
    assert "Far" in circuit.remarks[0]


def test_a_merge_makes_one_of_two_and_a_split_two_of_one() -> None:
    plain = demo()
    merged = demo(merges=(Stretch(1880.0, 2200.0),))
    assert len(merged.corners) == 10
    whole = merged.corners[6]
    assert whole.start_m == plain.corners[6].start_m
    assert whole.end_m == plain.corners[7].end_m
    assert whole.turn_deg == pytest.approx(28 + 34, abs=3.0)
    split = demo(splits_m=(372.0,))
    assert len(split.corners) == 12
    assert split.corners[0].end_m == split.corners[1].start_m
    turns = split.corners[0].turn_deg + split.corners[1].turn_deg
    assert turns == pytest.approx(plain.corners[0].turn_deg, rel=1e-9)


def test_a_merge_of_both_sides_is_refused_and_an_idle_one_remarked() -> None:
    with pytest.raises(InputError, match="both sides"):
        demo(merges=(Stretch(1380.0, 1600.0),))
    circuit = demo(merges=(Stretch(10.0, 200.0),), splits_m=(100.0,))
    assert len(circuit.corners) == 11
    assert len(circuit.remarks) == 2


def test_banks_shade_heights_and_the_rest_come_through() -> None:
    circuit = demo(
        banks=(Bank(Stretch(2900.0, 100.0), 4.0),),
        shaded=(Stretch(1500.0, 1600.0),),
        elevation=((0.0, 10.0), (1505.0, 40.0)),
        patches=(Patch(Stretch(10.0, 20.0), "polished"),),
        pit_exit_m=140.0,
        pit_entry_m=2800.0,
        zone="Europe/London",
    )
    s = circuit.s_m
    np.testing.assert_array_equal(circuit.bank_deg != 0.0, (s >= 2900.0) | (s <= 100.0))
    np.testing.assert_array_equal(circuit.shaded, (s >= 1500.0) & (s <= 1600.0))
    half = int(np.argmin(np.abs(s - 752.5)))
    assert circuit.elevation_m[half] == pytest.approx(25.0, abs=0.1)
    # Round the start line the height comes back to where it began.
    assert circuit.elevation_m[-1] == pytest.approx(10.0, abs=0.2)
    assert (circuit.pit_exit_m, circuit.pit_entry_m, circuit.zone) == (140.0, 2800.0, "Europe/London")
    assert not circuit.closed_course


def test_the_surveys_own_heights_are_kept() -> None:
    outline = read_outline(EXAMPLE / "circuit.csv")
    heights = 50.0 + 5.0 * np.sin(np.arange(len(outline.points)) / len(outline.points) * 2.0 * np.pi)
    circuit = build(Outline("test", "metres", outline.points, elevation_m=heights))
    expected = 50.0 + 5.0 * np.sin(circuit.s_m / circuit.length_m * 2.0 * np.pi)
    np.testing.assert_allclose(circuit.elevation_m, expected, atol=0.05)
    backwards = build(Outline("test", "metres", outline.points, elevation_m=heights), reverse=True)
    expected = 50.0 - 5.0 * np.sin(circuit.s_m / circuit.length_m * 2.0 * np.pi)
    np.testing.assert_allclose(backwards.elevation_m, expected, atol=0.05)


@pytest.mark.parametrize(
    ("notes", "field"),
    [
        (CircuitNotes(start_at_m=4000.0), "start_at_m"),
        (CircuitNotes(pit_exit_m=3200.0), "pit_exit_m"),
        (CircuitNotes(names=(CornerName(10.0, "a"), CornerName(3500.0, "b"))), "names[1].at_m"),
        (CircuitNotes(shaded=(Stretch(0.0, 3300.0),)), "shaded[0].to_m"),
        (CircuitNotes(splits_m=(5000.0,)), "splits_m[0]"),
    ],
)
def test_a_distance_off_the_lap_is_refused(notes: CircuitNotes, field: str) -> None:
    with pytest.raises(InputError, match="outside the lap") as caught:
        build(read_outline(EXAMPLE / "circuit.csv"), notes)
    assert caught.value.fault.field == field
    assert caught.value.fault.allowed == "0 to 3010 m"


@pytest.mark.parametrize("surface", ["pollished", "0.8:7"])
def test_an_unknown_surface_of_a_patch_is_refused(surface: str) -> None:
    with pytest.raises(InputError) as caught:
        demo(patches=(Patch(Stretch(10.0, 20.0), surface),))
    assert caught.value.fault.field == "patches[0].surface"


# ---- outlines that are no circuit ----------------------------------------------------------------

DEMO = read_outline(EXAMPLE / "circuit.csv").points


def test_the_closed_lap_may_repeat_its_first_point_or_leave_a_gap() -> None:
    plain = build(outline_of(DEMO))
    repeated = build(outline_of(np.vstack([DEMO, DEMO[:1]])))
    assert repeated.corners == plain.corners
    open_by_100_m = build(outline_of(DEMO[:-16]))
    assert len(open_by_100_m.corners) == 11
    assert "gap is closed" in open_by_100_m.remarks[0]


def test_several_laps_in_one_track_give_the_first() -> None:
    rng = np.random.default_rng(1)
    laps = np.vstack([DEMO, DEMO + rng.normal(0.0, 1.0, DEMO.shape), DEMO[:40]])
    circuit = build(outline_of(laps))
    assert circuit.length_m == pytest.approx(build(outline_of(DEMO)).length_m, abs=25.0)
    assert len(circuit.corners) == 11
    assert "laps" in circuit.remarks[0]


def test_a_track_a_little_past_its_start_is_cut_there() -> None:
    over = np.vstack([DEMO, np.add(DEMO[:12], [0.0, 2.0])])
    circuit = build(outline_of(over))
    assert circuit.length_m == pytest.approx(3010.0, abs=15.0)
    assert len(circuit.corners) == 11


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (DEMO[:2], "too few"),
        (np.repeat(DEMO[:1], 50, axis=0), "too few"),
        (DEMO * 0.05, "too short"),
        (DEMO * 12.0, "too long"),
        (DEMO[:420], "does not come back"),
        (DEMO * [1.0, np.nan], "not a finite number"),
        (np.vstack([DEMO[:150], np.add(DEMO[150:151], [60.0, 60.0]), DEMO[151:]]), "turns on the spot"),
        (np.column_stack([np.abs(np.arange(-400.0, 400.0, 5.0)), np.zeros(160)]), "turns on the spot"),
    ],
)
def test_what_is_no_circuit_is_refused(points: np.ndarray, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        build(outline_of(points))
    assert caught.value.fault.file == "lap.csv"


@pytest.mark.parametrize("points", [DEMO[:200], np.column_stack([np.arange(0.0, 9e3, 25.0), np.zeros(360)])])
@pytest.mark.parametrize("stated", [False, True])
def test_a_route_is_outside_the_model_whatever_is_stated(points: np.ndarray, stated: bool) -> None:
    with pytest.raises(OutsideModelError, match="no circuit") as caught:
        build(outline_of(points), closed_course=stated)
    assert caught.value.code == "open_route"
    assert "leanladder procedure open-road" in (caught.value.fault.remedy or "")


def test_a_long_way_round_on_roads_is_told_of_the_leaflet() -> None:
    angle = np.linspace(0.0, 2.0 * np.pi, 2000)
    loop = np.column_stack([46.5 + 0.1 * np.sin(angle), 8.4 + 0.1 * np.cos(angle)])
    with pytest.raises(InputError, match="too long") as caught:
        build(outline_of(loop, "degrees"))
    assert "leanladder procedure open-road" in (caught.value.fault.remedy or "")


def test_four_points_are_four_corners_drawn_straight() -> None:
    circuit = build(outline_of(np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]])))
    assert [corner.side for corner in circuit.corners] == ["left"] * 4
    assert [corner.turn_deg for corner in circuit.corners] == pytest.approx([90.0] * 4, abs=3.0)


def test_degrees_taken_for_metres_are_hinted_at() -> None:
    with pytest.raises(InputError) as caught:
        build(outline_of(DEMO / 111_000.0))
    assert "lat,lon" in (caught.value.fault.remedy or "")


def test_a_receivers_track_gives_the_same_corners() -> None:
    # 1 Hz at circuit pace, errors of 1.5 m that drift over some ten seconds: what a good receiver gives.
    rng = np.random.default_rng(7)
    every = DEMO[::4]
    white = rng.normal(0.0, 1.0, every.shape)
    drift = np.empty_like(white)
    drift[0] = white[0]
    for row in range(1, len(white)):
        drift[row] = 0.9 * drift[row - 1] + np.sqrt(1.0 - 0.9**2) * white[row]
    latitude = 52.0 + (every[:, 1] + 1.5 * drift[:, 1]) / 111_132.0
    longitude = -1.0 + (every[:, 0] + 1.5 * drift[:, 0]) / (111_320.0 * np.cos(np.radians(52.0)))
    circuit = build(outline_of(np.column_stack([latitude, longitude]), "degrees"))
    assert circuit.latitude_deg == pytest.approx(52.0, abs=0.01)
    assert circuit.longitude_deg == pytest.approx(-1.0, abs=0.01)
    assert [c.side for c in circuit.corners] == [c.side for c in build(outline_of(DEMO)).corners]


@pytest.mark.parametrize(
    "heights",
    [
        ((1.0, 0.0), (1.0, 5.0)),
        ((0.0, 0.0), (10.0, 900.0)),
        ((5.0, 0.0), (3000.0, 40.0)),  # 15 m apart over the start line
    ],
)
def test_heights_that_make_a_wall_are_refused(heights: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(InputError, match="too close together") as caught:
        demo(elevation=heights)
    assert caught.value.fault.field == "elevation"


def test_heights_said_twice_alike_or_once_do_no_harm() -> None:
    for heights in (((5.0, 30.0),), ((5.0, 30.0), (5.0, 30.0)), ((5.0, 30.0), (1500.0, 70.0))):
        assert np.isfinite(demo(elevation=heights).elevation_m).all()
