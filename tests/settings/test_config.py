from __future__ import annotations

from pathlib import Path

import pytest

from leanladder.settings import KEYS, SettingsError, load


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "config.toml"


def test_flag_over_environment_over_file_over_default(file: Path) -> None:
    file.write_text('log_level = "error"\n')
    environment = {"LEANLADDER_LOG_LEVEL": "warning"}
    by_flag = load({"log_level": "debug"}, environment, file)["log_level"]
    by_environment = load({"log_level": None}, environment, file)["log_level"]
    by_file = load({}, {}, file)["log_level"]
    by_default = load({}, {}, file.with_name("absent.toml"))["log_level"]
    assert [
        (item.value, item.origin, item.place) for item in (by_flag, by_environment, by_file, by_default)
    ] == [
        ("debug", "flag", "--log-level"),
        ("warning", "environment", "LEANLADDER_LOG_LEVEL"),
        ("error", "file", str(file)),
        ("info", "default", ""),
    ]


def test_every_key_has_a_value(file: Path) -> None:
    found = load({}, {}, file)
    assert list(found) == [key.name for key in KEYS]
    assert all(item.value in item.key.allowed for item in found.values())


@pytest.mark.parametrize(
    ("flags", "environment", "text", "field", "remedy"),
    [
        ({"log_level": "debgu"}, {}, "", "--log-level", "Did you mean debug?"),
        ({}, {"LEANLADDER_LOG_LEVEL": "loud"}, "", "LEANLADDER_LOG_LEVEL", None),
        ({}, {}, 'log_level = "inof"', "log_level", "Did you mean info?"),
        ({}, {}, 'langauge = "en"', "langauge", "Did you mean language?"),
        ({}, {}, "[broken", None, "Mend it, or move it away to use the defaults."),
        ({}, {}, "log_level = 3", "log_level", None),
    ],
)
def test_what_cannot_be_used_is_told(
    file: Path, flags: dict[str, str | None], environment: dict[str, str], text: str, field: str, remedy: str
) -> None:
    file.write_text(text)
    with pytest.raises(SettingsError) as caught:
        load(flags, environment, file)
    assert (caught.value.field, caught.value.remedy) == (field, remedy)


def test_a_binary_settings_file_is_told(file: Path) -> None:
    file.write_bytes(b"\xff\x00\xfe")
    with pytest.raises(SettingsError) as caught:
        load({}, {}, file)
    assert caught.value.file == str(file)


@pytest.mark.parametrize("text", ["a = " + "9" * 5000, "a = " + "[" * 5000, "[x", "\udcff"])
def test_a_settings_file_that_is_no_toml_is_told_whatever_is_wrong_with_it(tmp_path: Path, text: str) -> None:
    file = tmp_path / "config.toml"
    file.write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(SettingsError, match="cannot be read"):
        load({}, {}, file)
