from __future__ import annotations

import contextlib
import tomllib
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field, model_validator

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.reading import ParameterIn, Written, read_toml, toml_of


class Side(Written):
    width_m: float = Field(gt=0.0, le=0.3)
    kind: Literal["slick", "grooved"] = "slick"


class Shed(Written):
    """A file of every shape that the project's own files have."""

    name: str
    places: int = Field(default=1, ge=1, le=40)
    air_c: float = Field(default=10.0, ge=-30.0, le=50.0)
    swept: bool = False
    mass: ParameterIn | None = None
    side: Side | None = None
    shelves: tuple[Side, ...] = ()
    points: tuple[tuple[float, float], ...] = ()

    @model_validator(mode="after")
    def _not_called_nothing(self) -> Shed:
        if self.name == "nothing":
            raise ValueError("a shed has a name of its own")
        return self


HEAD = 'schema = "shed/1"\nname = "north"\n'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "shed.toml"


def refused(file: Path, text: str | bytes) -> InputError:
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(InputError) as caught:
        read_toml(file, Shed, "shed/1")
    assert caught.value.fault.file == str(file)
    return caught.value


def test_a_good_file_becomes_a_model(file: Path) -> None:
    file.write_text(
        HEAD
        + "mass = { value = 210, unit = 'kg', spread = 5.0, source = 'scales' }\n"
        + "points = [[0, 0.8], [20.5, 1]]\n"
        + "[side]\nwidth_m = 0.2\n[[shelves]]\nwidth_m = 0.1\n[[shelves]]\nwidth_m = 0.15\nkind = 'grooved'\n"
    )
    shed = read_toml(file, Shed, "shed/1")
    assert shed.mass == ParameterIn(value=210.0, unit="kg", spread=5.0, source="scales")
    assert shed.points == ((0.0, 0.8), (20.5, 1.0))
    assert [shelf.kind for shelf in shed.shelves] == ["slick", "grooved"]


def test_a_plain_number_is_the_users_own_figure(file: Path) -> None:
    file.write_text(HEAD + "mass = 210\n")
    assert read_toml(file, Shed, "shed/1").mass == ParameterIn(value=210.0, spread=0.0, source="user")


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(file: Path) -> None:
    file.write_bytes(b"\xef\xbb\xbf" + HEAD.replace("\n", "\r\n").encode())
    assert read_toml(file, Shed, "shed/1").name == "north"


def test_an_unknown_key_names_the_nearest_and_its_line(file: Path) -> None:
    fault = refused(file, HEAD + "# a remark\nplacse = 2\n").fault
    assert (fault.line, fault.field, fault.remedy) == (4, "placse", "Did you mean places?")
    assert "air_c" in str(fault.allowed)


def test_an_unknown_key_within_a_list_names_the_lists_own_keys(file: Path) -> None:
    text = HEAD + "[[shelves]]\nwidth_m = 0.1\n[[shelves]]\nwidth_m = 0.1\nkidn = 'slick'\n"
    fault = refused(file, text).fault
    assert (fault.line, fault.field, fault.remedy) == (7, "shelves.1.kidn", "Did you mean kind?")
    assert fault.allowed == "width_m, kind"


@pytest.mark.parametrize(
    ("line", "field", "allowed", "remedy"),
    [
        ("air_c = 77", "air_c", "from -30 degC to 50 degC", "Is it in degF? Give it in degC."),
        ("air_c = 1e9", "air_c", "from -30 degC to 50 degC", None),
        ("places = 41", "places", "from 1 to 40", None),
        ("side = { width_m = 180 }", "side.width_m", "from 0 m to 0.3 m", "Is it in mm? Give it in m."),
    ],
)
def test_a_value_out_of_range_is_told_with_the_range_and_the_likely_unit(
    file: Path, line: str, field: str, allowed: str, remedy: str | None
) -> None:
    fault = refused(file, HEAD + line + "\n").fault
    assert fault == Fault(str(file), 3, field, fault.value, allowed, remedy)
    assert fault.value is not None


@pytest.mark.parametrize(
    ("line", "field", "allowed"),
    [
        ('air_c = "12"', "air_c", "a number"),
        ("air_c = true", "air_c", "a number"),
        ("air_c = nan", "air_c", "a finite number"),
        ("air_c = inf", "air_c", "a finite number"),
        ("places = 1.5", "places", "a whole number"),
        ("swept = 1", "swept", "true or false"),
        ("points = 3", "points", "a list in square brackets"),
        ("points = [[1, nan]]", "points.0.1", "a finite number"),
        ("side = 3", "side", "a table"),
        ("mass = 'heavy'", "mass", "a table"),
        ("mass = nan", "mass.value", "a finite number"),
    ],
)
def test_a_value_of_another_kind_is_told(file: Path, line: str, field: str, allowed: str) -> None:
    fault = refused(file, HEAD + line + "\n").fault
    assert (fault.line, fault.field, fault.allowed) == (3, field, allowed)


def test_an_unknown_name_is_told_with_the_nearest(file: Path) -> None:
    fault = refused(file, HEAD + "side = { width_m = 0.1, kind = 'slik' }\n").fault
    assert (fault.allowed, fault.remedy) == ("slick, grooved", "Did you mean slick?")


def test_a_missing_key_is_told_at_its_table(file: Path) -> None:
    fault = refused(file, HEAD + "\n[side]\nkind = 'slick'\n").fault
    assert (fault.line, fault.field, fault.remedy) == (4, "side.width_m", "Add a line `width_m = ...`.")


def test_the_models_own_check_is_told_in_its_words(file: Path) -> None:
    error = refused(file, 'schema = "shed/1"\nname = "nothing"\n')
    assert error.message == "a shed has a name of its own."


@pytest.mark.parametrize("line", ["mass = { value = 3, low = 4 }", "mass = { value = 3, high = 2 }"])
def test_a_figure_outside_its_own_range_is_refused(file: Path, line: str) -> None:
    assert "own low and high" in refused(file, HEAD + line + "\n").message


@pytest.mark.parametrize(
    ("first", "value"), [("", None), ('schema = "shed/2"', "shed/2"), ('schema = "barn/1"', "barn/1")]
)
def test_a_file_of_another_kind_or_version_is_refused(file: Path, first: str, value: str | None) -> None:
    fault = refused(file, first + '\nname = "north"\n').fault
    assert (fault.field, fault.value, fault.allowed) == ("schema", value, '"shed/1"')
    assert fault.remedy == 'Begin the file with `schema = "shed/1"`.'


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "the file is empty."),
        (b" \n\n", "the file is empty."),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "this is not a text file."),
        (b"\x00\x01\x02", "this is not a text file."),
        (b"name = '" + b"x" * 1_000_001 + b"'", "it is too large."),
    ],
)
def test_what_is_no_text_is_refused(file: Path, content: bytes, message: str) -> None:
    assert refused(file, content).message == message


def test_broken_toml_is_told_with_its_line(file: Path) -> None:
    error = refused(file, HEAD + "places == 3\n")
    assert error.message.startswith("this is not TOML")
    assert error.fault.line == 3


def test_a_number_longer_than_any_is_refused(file: Path) -> None:
    assert "not TOML" in refused(file, HEAD + "places = " + "9" * 5000).message


def test_toml_nested_beyond_reason_is_refused(file: Path) -> None:
    assert "not TOML" in refused(file, HEAD + "points = " + "[" * 100_000).message


def test_a_missing_file_names_the_nearest_in_its_folder(file: Path) -> None:
    file.write_text(HEAD)
    with pytest.raises(InputError) as caught:
        read_toml(file.with_name("shde.toml"), Shed, "shed/1")
    assert caught.value.fault.remedy == f"Did you mean {file}?"


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="this is a folder"):
        read_toml(tmp_path, Shed, "shed/1")


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no folder"):
        read_toml(tmp_path / "gone" / "shed.toml", Shed, "shed/1")


@given(st.text(max_size=200))
def test_no_text_whatever_brings_another_error(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    file = tmp_path_factory.mktemp("any") / "shed.toml"
    file.write_bytes((HEAD + text).encode("utf-8", "surrogatepass"))
    with contextlib.suppress(InputError):
        read_toml(file, Shed, "shed/1")


@pytest.mark.parametrize("key", ["a", '"a b"', "'a.b'", " a "])
@pytest.mark.parametrize("form", ["{} = 1", "[{}]", "x = {{{} = 1}}", "[[{}]]"])
def test_keys_deep_within_keys_are_refused(key: str, form: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError, match="too deeply"):
        toml_of(form.format(".".join([key] * 40)))


@pytest.mark.parametrize(
    "text",
    ["a.b.c = 1", 'a = "' + "so. " * 40 + '"', "a = [" + "0.1, " * 40 + "]", "a = '" + "b." * 40 + "'"],
)
def test_what_only_looks_so_is_read(text: str) -> None:
    assert toml_of(text) == tomllib.loads(text)
