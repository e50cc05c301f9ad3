"""What `make bench` last wrote is whole, and what it counts with counts right. Nothing here is timed."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scripts.timing import cost, flops, results


@pytest.fixture(scope="module")
def written() -> dict[str, object]:
    if not results.RESULTS.is_file():
        pytest.skip("make bench has written nothing yet")
    found: dict[str, object] = json.loads(results.RESULTS.read_text(encoding="utf-8"))
    return found


def test_results_have_every_key_and_figure(written: dict[str, object]) -> None:
    assert set(results.KEYS) <= set(written)
    assert written["schema"] == results.SCHEMA
    figures = written["figures"]
    assert isinstance(figures, dict)
    assert set(figures) == set(results.AIMS)
    for name, aim in results.AIMS.items():
        assert figures[name]["aim"] == aim.value
        value = figures[name]["value"]
        assert figures[name]["met"] == (None if value is None else aim.met(value))


def test_results_name_no_folder_of_the_machine(written: dict[str, object]) -> None:
    text = json.dumps(written)
    assert str(results.ROOT) not in text
    assert str(Path.home()) + "/" not in text
    assert results.PICTURE.is_file()


def test_an_aim_may_be_a_least_or_a_most() -> None:
    assert results.Aim(2.0, "").met(1.9)
    assert not results.Aim(2.0, "").met(2.1)
    assert results.Aim(2.0, "", least=True).met(2.1)
    assert not results.Aim(2.0, "", least=True).met(1.9)


def test_operations_are_counted_number_by_number() -> None:
    values = flops.counting(np.array([2.0, 3.0, 4.0]))
    flops.Counter.done = 0
    found = -values[0] * values[1] + 1.0 - 5.0 / values[2] + values[1] ** 3
    assert float(found) == pytest.approx(-6.0 + 1.0 - 1.25 + 27.0)
    assert flops.Counter.done == 7  # a product, a sum, a quotient, a difference, two products, a sum


def test_operations_are_counted_array_by_array() -> None:
    values = flops.counting(np.ones(8))
    flops.Counter.done = 0
    found = 2.0 * values + values[0]
    assert found.tolist() == [3.0] * 8
    assert flops.Counter.done == 16


def test_how_far_from_proportional() -> None:
    assert cost.slope_off([(1, 0.5), (2, 1.0), (4, 2.0)]) == pytest.approx(0.0)
    assert cost.slope_off([(1, 1.0), (2, 3.0)]) == pytest.approx(0.3)
    assert cost.slope_off([]) is None
