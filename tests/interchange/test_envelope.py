from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest

from leanladder import ENGINE, engine
from leanladder.domain.ladder import Notice
from leanladder.interchange.envelope import dump, envelope


def test_the_head_comes_first_and_is_whole() -> None:
    answer = envelope(
        "leanladder.x/1",
        parameters="abc",
        inputs={"air_c": 8.0},
        cautions=["dry only"],
        warnings=[Notice("cold", "It is cold.")],
        body={"rows": [1]},
    )
    assert answer == {
        "schema": "leanladder.x/1",
        "engine": ENGINE,
        "parameters": "abc",
        "inputs": {"air_c": 8.0},
        "cautions": ["dry only"],
        "warnings": [{"code": "cold", "text": "It is cold."}],
        "rows": [1],
    }
    assert next(iter(answer)) == "schema"


def test_the_engine_is_one() -> None:
    assert engine.ENGINE == ENGINE


def test_a_body_may_not_replace_the_head() -> None:
    with pytest.raises(ValueError, match="engine"):
        envelope("x/1", parameters=None, inputs={}, cautions=(), warnings=(), body={"engine": "2"})


@pytest.mark.parametrize("value", [float("nan"), float("inf"), np.float64("nan"), np.array([1.0, np.inf])])
def test_a_number_that_is_not_finite_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        dump({"x": value})


def test_times_carry_their_offset() -> None:
    at = datetime(2026, 4, 1, 9, 30, tzinfo=timezone(timedelta(hours=2)))
    assert json.loads(dump({"at": at, "utc": datetime(2026, 4, 1, tzinfo=UTC)})) == {
        "at": "2026-04-01T09:30:00+02:00",
        "utc": "2026-04-01T00:00:00+00:00",
    }
    with pytest.raises(ValueError, match="no zone"):
        dump({"at": at.replace(tzinfo=None)})


def test_numpy_numbers_and_arrays_are_plain() -> None:
    answer = {"a": np.float64(1.5), "b": np.arange(3), "c": np.bool_(True), "d": None}
    assert json.loads(dump(answer)) == {"a": 1.5, "b": [0, 1, 2], "c": True, "d": None}


def test_what_has_no_place_in_an_answer_is_refused() -> None:
    with pytest.raises(TypeError, match="object"):
        dump({"x": object()})
