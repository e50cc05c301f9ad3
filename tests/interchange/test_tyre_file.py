"""tyre/1 as users write it."""

from __future__ import annotations

from pathlib import Path

import pytest

from leanladder.catalogue import tyre_family
from leanladder.domain.errors import InputError

HEAD = 'schema = "tyre/1"\nname = "school-slick"\nbase = "sport-road"\n'


def read(folder: Path, body: str, head: str = HEAD) -> object:
    path = folder / "mine.toml"
    path.write_text(head + body, encoding="utf-8")
    return tyre_family(str(path))


def test_a_file_with_a_base_changes_only_what_it_names(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(HEAD + "[rear]\nwidth_m = 0.19\n[rear.compound]\npeak_grip = 1.3\n", encoding="utf-8")
    mine, base = tyre_family(str(path)), tyre_family("sport-road")
    assert mine.name == "school-slick"
    assert mine.front == base.front
    assert mine.rear.width_m.value == 0.19
    assert mine.rear.width_m.source == "user"
    assert mine.rear.width_m.spread == base.rear.width_m.spread
    assert mine.rear.compound.peak_grip.value == 1.3
    assert mine.rear.compound.glass_c == base.rear.compound.glass_c


def test_an_inline_table_brings_its_own_spread_and_source(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    table = 'value = 0.006, unit = "m", spread = 0.0001, low = 0.005, high = 0.007, source = "gauge"'
    path.write_text(HEAD + f"[front]\ntread_m = {{ {table} }}\n", encoding="utf-8")
    tread = tyre_family(str(path)).front.tread_m
    assert (tread.value, tread.spread, tread.low, tread.high) == (0.006, 0.0001, 0.005, 0.007)
    assert tread.source == "gauge"


def test_measured_grip_and_the_makers_minimum(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    body = "[front]\nminimum_cold_bar = 2.1\ngrip_points = [[5, 0.9], [30, 1.1], [80, 1.25]]\n"
    path.write_text(HEAD + body, encoding="utf-8")
    mine = tyre_family(str(path))
    assert mine.front.minimum_cold_bar == 2.1
    assert mine.rear.minimum_cold_bar is None
    assert [(p.rubber_c, p.grip) for p in mine.front.compound.grip_points] == [
        (5, 0.9),
        (30, 1.1),
        (80, 1.25),
    ]
    assert mine.rear.compound.grip_points == ()


@pytest.mark.parametrize(
    ("body", "field", "said"),
    [
        ("[front]\nwidth_m = 180\n", "front.width_m", "looks like mm"),
        ("[front]\nrolling_radius_m = 12\n", "front.rolling_radius_m", "looks like in"),
        ("[front]\nminimum_cold_bar = 33\n", "front.minimum_cold_bar", "looks like psi"),
        ("[front]\nworking_high_c = 350\n", "front.working_high_c", "looks like K"),
        ("[rear.compound]\nkeying_cold = 80\n", "rear.compound.keying_cold", "looks like %"),
        ("[front]\ndensity_kg_m3 = 1.15\n", "front.density_kg_m3", "looks like g/cm3"),
        ("[front]\nwidth_m = -1\n", "front.width_m", "Check the figure"),
        ('[front]\nwidth_m = { value = 150, unit = "mm" }\n', "front.width_m", "Give it in m."),
        ("[front]\nwidht_m = 0.15\n", "front.widht_m", "Did you mean width_m?"),
        ('[front]\nwidth_m = "wide"\n', "front.width_m", "a table"),
        ("[front]\nwidth_m = true\n", "front.width_m", ""),
        ("[front]\nwidth_m = nan\n", "front.width_m.value", ""),
        ('[front]\nwidth_m = { unit = "m" }\n', "front.width_m.value", "missing"),
        ("[front]\ngrip_points = [[5, 0.9], [30, 1.1]]\n", "front.grip_points", "3 points or more"),
        ("[front]\ngrip_points = [[5, 0.9], [5, 1.0], [9, 1.1]]\n", "front.grip_points", "Sort the points"),
        ("[front]\ngrip_points = [[5, 90], [30, 100], [60, 110]]\n", "front.grip_points", "looks like %"),
        ("[front]\ngrip_points = [[400, 1], [410, 1], [420, 1]]\n", "front.grip_points", "looks like K"),
        ("[front]\nworking_low_c = 90\n", "front.working_high_c", "ends before it begins"),
    ],
)
def test_a_bad_value_names_its_place_and_remedy(tmp_path: Path, body: str, field: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read(tmp_path, body)
    assert caught.value.fault.field == field
    assert said in str(caught.value)
    assert caught.value.fault.file == str(tmp_path / "mine.toml")


@pytest.mark.parametrize(
    ("head", "said"),
    [
        ('schema = "tyre/2"\nname = "x"\n', "another kind or version"),
        ('schema = "machine/1"\nname = "x"\n', "another kind or version"),
        ('name = "x"\n', "does not say what it is"),
        ('schema = "tyre/1"\nname = "x"\nbase = "sport-raod"\n', "Did you mean sport-road?"),
        ('schema = "tyre/1"\nname = "x"\n', "name a base"),
        ('schema = "tyre/1"\nbase = "sport-road"\n', "name is missing"),
    ],
)
def test_a_bad_head_is_refused(tmp_path: Path, head: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read(tmp_path, "", head)
    assert said in str(caught.value)


@pytest.mark.parametrize("content", [None, b"", b"\x00\x01\x02", b"\xff\xfe\x00"])
def test_an_unreadable_file_is_refused(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "mine.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputError):
        tyre_family(str(path))


def test_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").mkdir()
    with pytest.raises(InputError, match="folder"):
        tyre_family(str(tmp_path / "mine.toml"))


def test_a_tread_as_thin_as_the_outer_layers_is_refused(tmp_path: Path) -> None:
    """The outer 2 mm are nodes of their own: what is left under them must have a depth."""
    for tread_m in (0.001, 0.002, 0.0024):
        with pytest.raises(InputError, match="outside the range"):
            read(tmp_path, f"[rear]\ntread_m = {tread_m}\n")
    assert read(tmp_path, "[rear]\ntread_m = 0.0025\n")


def test_rubber_that_no_heat_kernel_can_follow_is_refused(tmp_path: Path) -> None:
    body = "[front]\nconductivity_w_mk = 0.5\ndensity_kg_m3 = 900\nheat_capacity_j_kgk = 1000\n"
    with pytest.raises(InputError, match="too fast") as caught:
        read(tmp_path, body)
    assert caught.value.fault.field == "front.conductivity_w_mk"
    assert caught.value.fault.file is not None


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("[front]\ngrip_points = [[10], [40], [50]]\n", "another length"),
        ("[front]\ngrip_points = [[10, 1, 1], [40, 1, 1], [50, 1, 1]]\n", "another length"),
        (f'describes = "{"x" * 301}"\n', "300 characters at most"),
    ],
)
def test_lists_and_texts_of_a_wrong_length_are_told_in_plain_words(
    tmp_path: Path, body: str, said: str
) -> None:
    with pytest.raises(InputError) as caught:
        read(tmp_path, body)
    assert said in str(caught.value)


def test_an_empty_name_is_told_in_plain_words(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="must not be empty"):
        read(tmp_path, "", 'schema = "tyre/1"\nname = ""\nbase = "sport-road"\n')
