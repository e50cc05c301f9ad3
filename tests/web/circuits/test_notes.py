"""Notes changed by a page read as the school wrote them, and every distance keeps its place on the road."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit, Floats
from leanladder.domain.errors import InputError
from leanladder.web.circuits import notes, reading
from leanladder.web.circuits.lines import read

EXAMPLE = files("leanladder").joinpath("data", "example")
LINE = EXAMPLE.joinpath("circuit.csv").read_bytes()
TEXT = EXAMPLE.joinpath("circuit-notes.toml").read_text(encoding="utf-8")


def built(text: str) -> Circuit:
    return read("circuit.csv", LINE, text)


def place(circuit: Circuit, at_m: float) -> Floats:
    """Where a distance along the lap lies [m]."""
    s = np.append(circuit.s_m, circuit.length_m)
    return np.array([np.interp(at_m, s, np.append(along, along[0])) for along in (circuit.x_m, circuit.y_m)])


def test_comments_stay() -> None:
    changed = notes.with_keys(TEXT, {"zone": "Europe/Paris", "closed_course": False})
    assert "# Where the start line lies along the file's line" in changed
    assert tomllib.loads(changed)["zone"] == "Europe/Paris"


def test_notes_begin_with_their_schema() -> None:
    assert notes.with_keys("", {"reverse": True}).startswith('schema = "circuit-notes/1"')


def test_a_key_of_nothing_is_taken_out() -> None:
    assert "pit_exit_m" not in tomllib.loads(notes.with_keys(TEXT, {"pit_exit_m": None}))


def test_the_other_way_round_every_name_stays_with_its_turn() -> None:
    was, now = built(TEXT), built(notes.turned_round(TEXT, built(TEXT).length_m))
    assert {each.name for each in was.corners} == {each.name for each in now.corners}
    for corner in was.corners:
        same = next(each for each in now.corners if each.name == corner.name)
        assert same.side != corner.side
        assert np.linalg.norm(place(was, corner.apex_m) - place(now, same.apex_m)) < 3.0


def test_the_other_way_round_the_pit_lane_is_left_where_it_was_joined() -> None:
    was, now = built(TEXT), built(notes.turned_round(TEXT, built(TEXT).length_m))
    assert was.pit_exit_m is not None
    assert now.pit_entry_m is not None
    assert np.linalg.norm(place(was, was.pit_exit_m) - place(now, now.pit_entry_m)) < 1.0


def test_twice_round_is_as_before() -> None:
    length_m = built(TEXT).length_m
    twice = tomllib.loads(notes.turned_round(notes.turned_round(TEXT, length_m), length_m))
    once = tomllib.loads(TEXT)
    assert twice["reverse"] is False
    assert twice["pit_exit_m"] == pytest.approx(once["pit_exit_m"], abs=0.2)
    assert [each["name"] for each in twice["names"]] == [each["name"] for each in once["names"]]


@settings(max_examples=5)
@given(start_m=st.floats(10.0, 2900.0))
def test_a_start_line_moved_takes_nothing_along(start_m: float) -> None:
    was = built(TEXT)
    now = built(notes.start_moved(TEXT, round(start_m, 1), was.length_m))
    for corner in was.corners:
        same = next(each for each in now.corners if each.name == corner.name)
        assert np.linalg.norm(place(was, corner.apex_m) - place(now, same.apex_m)) < 4.0


def test_turns_of_two_sides_are_not_joined() -> None:
    with pytest.raises(InputError, match="not one turn"):
        notes.joined(TEXT, built(TEXT), 4)


def test_a_join_and_its_taking_back() -> None:
    joined = notes.joined(TEXT, built(TEXT), 7)
    assert len(built(joined).corners) == len(built(TEXT).corners) - 1
    assert len(built(notes.without(joined, "merges", 0)).corners) == len(built(TEXT).corners)


def test_what_is_gone_is_not_taken_back() -> None:
    with pytest.raises(InputError, match="not there any more"):
        notes.without(TEXT, "merges", 0)


def test_a_fault_comes_back_out_of_a_process_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "_SMALL_BYTES", 10)
    with pytest.raises(InputError, match="all points are the same") as caught:
        read("points.csv", b"x_m,y_m\n" + b"1.0,1.0\n" * 140, "")
    assert caught.value.fault.file is None


def test_a_file_that_is_too_large_is_not_read() -> None:
    with pytest.raises(InputError, match="too large"):
        read("points.csv", b" " * (8 * 1024 * 1024 + 1), "")
