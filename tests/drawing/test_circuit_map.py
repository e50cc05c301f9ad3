"""The circuit's map: to scale, north up, its planks apart from one another and off the track."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit, Corner, Floats
from leanladder.drawing import MapWords, Warmth, circuit_map
from leanladder.drawing.placing import Box, Ground, places

SIZE = (396.0, 380.0)


def ring(count: int, waves: int = 3, depth: float = 0.15, radius_m: float = 400.0) -> Circuit:
    """A ring with waves, ridden clockwise, its corners spread evenly."""
    turn = -np.linspace(0, 2 * np.pi, 1200, endpoint=False)
    radius = radius_m * (1 + depth * np.sin(waves * turn))
    x, y = 1.3 * radius * np.cos(turn), radius * np.sin(turn)
    steps = np.hypot(np.diff(x, append=x[0]), np.diff(y, append=y[0]))
    length, along = float(steps.sum()), np.concatenate(([0.0], np.cumsum(steps)[:-1]))
    s = np.arange(1200) * length / 1200
    zero = np.zeros(1200)
    share = length / count
    corners = tuple(
        Corner(
            number=index + 1,
            name=f"Turn {index + 1}",
            side="left" if index % 3 == 1 else "right",
            start_m=(index + 0.2) * share,
            apex_m=(index + 0.4) * share,
            end_m=(index + 0.6) * share,
            radius_m=60.0,
            turn_deg=90.0,
            same_side_gap_m=200.0,
        )
        for index in range(count)
    )
    return Circuit(
        name="Ring",
        length_m=length,
        net_turns=-1,
        s_m=s,
        x_m=np.interp(s, along, x),
        y_m=np.interp(s, along, y),
        curvature_per_m=zero,
        elevation_m=zero,
        bank_deg=zero,
        shaded=zero.astype(bool),
        corners=corners,
    )


def xy(d: str) -> Floats:
    return np.array([[float(a), float(b)] for a, b in re.findall(r"(-?[\d.]+) (-?[\d.]+)", d)])


def track_of(svg: str) -> Floats:
    found = re.search(r'<path d="([^"]+)Z" fill="none" stroke="#000" stroke-width="7"', svg)
    assert found
    return xy(found[1])


def test_north_is_up_and_both_ways_have_one_scale() -> None:
    circuit = ring(8)
    track = track_of(circuit_map(circuit, size=SIZE))
    px = np.ptp(track, axis=0)
    metres = np.array([np.ptp(circuit.x_m), np.ptp(circuit.y_m)])
    assert px[0] / metres[0] == pytest.approx(px[1] / metres[1], rel=5e-3)
    top = np.argmin(track[:, 1]) / len(track)
    assert top == pytest.approx(np.argmax(circuit.y_m) / len(circuit.y_m), abs=0.01)


@pytest.mark.parametrize("radius_m", [40.0, 400.0, 1500.0])
def test_the_scale_is_a_round_length_as_long_as_it_says(radius_m: float) -> None:
    circuit = ring(6, radius_m=radius_m)
    svg = circuit_map(circuit, size=SIZE)
    said = re.search(r">(\d+) m</text>", svg)
    bar = re.search(r'<path d="([^"]+)" fill="none" stroke="#000" stroke-width="1.6"', svg)
    assert said
    assert bar
    assert str(said[1]).strip("0") in {"1", "2", "5"}
    scale = np.ptp(track_of(svg)[:, 0]) / np.ptp(circuit.x_m)
    assert np.ptp(xy(bar[1])[:, 0]) == pytest.approx(float(said[1]) * scale, rel=0.01)


def test_the_arrow_points_the_way_one_rides() -> None:
    svg = circuit_map(ring(5), size=SIZE)
    arrow = next(xy(d) for d in re.findall(r'<path d="([^"]+)Z" fill="#000"/>', svg) if len(xy(d)) == 3)
    track = track_of(svg)
    ahead = track[4] - track[0]
    assert (arrow[0] - arrow[1:].mean(axis=0)) @ ahead > 0


def test_warmer_turns_bear_more_ink_and_unknown_ones_none() -> None:
    circuit = ring(4)

    def ink(warmth: dict[int, Warmth]) -> float:
        bars = re.findall(
            r'<path d="M[-\d. ]+L[-\d. ]+" fill="none" stroke="#000" stroke-width="([\d.]+)"',
            circuit_map(circuit, warmth, size=SIZE),
        )
        return sum(map(float, bars))

    none = ink({})
    covers = [ink({1: Warmth(float(warm))}) - none for warm in range(5, 50, 5)]
    assert covers[0] > 0
    assert all(less < more for less, more in pairwise(covers))


@settings(max_examples=12)
@given(count=st.integers(3, 20), waves=st.integers(2, 6), depth=st.floats(0.0, 0.25))
def test_every_turn_has_its_plank_and_planks_stand_apart(count: int, waves: int, depth: float) -> None:
    circuit = ring(count, waves, depth)
    svg = circuit_map(circuit, size=SIZE, least=2, words=MapWords("start"))
    numbers = [int(figure) for figure in re.findall(r'font-weight="700"[^>]*>(\d+)</text>', svg)]
    assert sorted(numbers) == [corner.number for corner in circuit.corners]
    width, height = (36.0, 25.0) if count > 14 else (42.0, 29.0)
    found = re.findall(r'<path d="M([\d.]+) ([\d.]+)H([\d.]+)A[^"]*Z" fill="#fff"/>', svg)
    assert len(found) == count
    boxes = []
    for square, top, round_ in found:
        inward = height / 2
        left = float(round_) - inward if float(round_) < float(square) else float(square)
        boxes.append(Box(left + width / 2, float(top) + height / 2, width, height))
    for one, other in combinations(boxes, 2):
        assert not one.overlaps(other)
    for box in boxes:
        assert width / 2 <= box.x <= SIZE[0] - width / 2
        assert height / 2 <= box.y <= SIZE[1] - height / 2
        assert not box.holds(track_of(svg), 3.0).any()


def test_a_clamp_for_the_least_margin_and_no_other() -> None:
    circuit = ring(6)
    assert circuit_map(circuit, size=SIZE).count('stroke-linejoin="miter"') == 0
    assert circuit_map(circuit, size=SIZE, least=3).count('stroke-linejoin="miter"') == 1


def test_a_plank_keeps_off_what_is_taken() -> None:
    taken = Box(50, 30, 60, 60)
    (box,) = places([(50.0, 80.0)], (40.0, 28.0), Ground(300, 300, np.array([[50.0, 80.0]]), (taken,)))
    assert not box.overlaps(taken)


def test_caps_stand_on_planks_and_the_chosen_one_is_reversed() -> None:
    circuit = ring(6)
    warmth = {
        corner.number: Warmth(20.0, cap_deg=15 + corner.number, chosen=corner.number == 3)
        for corner in circuit.corners
    }
    svg = circuit_map(circuit, warmth, size=SIZE)
    assert sorted(re.findall(r">(\d+)°</text>", svg)) == ["16", "17", "18", "19", "20", "21"]
    assert re.findall(r'fill="#fff">(\d+)°?</text>', svg) == ["3", "18"]


@pytest.mark.parametrize(("count", "waves", "depth"), [(20, 3, 0.15), (18, 5, 0.25), (14, 4, 0.0)])
def test_planks_with_caps_stand_apart(count: int, waves: int, depth: float) -> None:
    circuit = ring(count, waves, depth)
    warmth = {corner.number: Warmth(20.0, cap_deg=20) for corner in circuit.corners}
    svg = circuit_map(circuit, warmth, size=(470.0, 400.0), words=MapWords("start"))
    found = re.findall(r'<path d="M([\d.]+) ([\d.]+)H([\d.]+)A([\d.]+) [^"]*Z" fill="#fff"/>', svg)
    assert len(found) == count
    boxes = []
    for square, top, round_, radius in found:
        reach = float(radius) if float(round_) > float(square) else -float(radius)
        ends = float(square), float(round_) + reach
        boxes.append(
            Box(sum(ends) / 2, float(top) + float(radius), abs(ends[1] - ends[0]), 2 * float(radius))
        )
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))
