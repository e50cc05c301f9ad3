"""machine/1 as users write it."""

from __future__ import annotations

from pathlib import Path

import pytest

from leanladder.catalogue import motorcycle
from leanladder.domain.errors import InputError

HEAD = 'schema = "machine/1"\nname = "school-bike"\nbase = "middleweight-sport"\n'


def test_a_file_with_a_base_changes_only_what_it_names(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        HEAD + "mass_kg = 290\nclearance_left_deg = 41\n[rear]\ncold_bar = 2.0\n", encoding="utf-8"
    )
    mine, base = motorcycle(str(path)), motorcycle("middleweight-sport")
    assert (mine.mass_kg.value, mine.clearance_left_deg.value, mine.rear.cold_bar.value) == (290, 41, 2.0)
    assert mine.clearance_right_deg == base.clearance_right_deg
    assert mine.front == base.front
    assert mine.describes == base.describes


@pytest.mark.parametrize(
    ("body", "field", "said"),
    [
        ("mass_kg = 0.28\n", "mass_kg", "looks like t"),
        ("mass_kg = 617\n", "mass_kg", "looks like lb"),
        ("wheelbase_m = 1400\n", "wheelbase_m", "looks like mm"),
        ("front_share = 50\n", "front_share", "looks like %"),
        ("power_w = 78\n", "power_w", "looks like kW"),
        ("clearance_left_deg = 0.9\n", "clearance_left_deg", "looks like rad"),
        ("top_speed_mps = 250\n", "top_speed_mps", "looks like km/h"),
        ("[rear]\ncavity_m3 = 20\n", "rear.cavity_m3", "looks like l"),
        ("[rear]\ncold_bar = 30\n", "rear.cold_bar", "looks like psi"),
        ("masss_kg = 280\n", "masss_kg", "Did you mean mass_kg?"),
    ],
)
def test_a_bad_value_names_its_place_and_unit(tmp_path: Path, body: str, field: str, said: str) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(HEAD + body, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        motorcycle(str(path))
    assert caught.value.fault.field == field
    assert caught.value.fault.line is not None
    assert said in str(caught.value)


def test_a_cavity_too_small_for_the_heat_kernel_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(HEAD + "[front]\ncavity_m3 = 0.0025\n", encoding="utf-8")
    with pytest.raises(InputError, match="outside the range"):
        motorcycle(str(path))
