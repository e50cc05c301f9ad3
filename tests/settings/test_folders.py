from __future__ import annotations

import os
from pathlib import Path

import platformdirs
import pytest

from leanladder.settings import SettingsError, cache_folder, data_folder, log_file


def mode(path: Path) -> int:
    return path.stat().st_mode & 0o777


def test_the_data_folder_is_made_for_its_owner_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path / "deep" / "home"))
    assert data_folder() == tmp_path / "deep" / "home"
    assert mode(data_folder()) == 0o700
    assert mode(cache_folder()) == 0o700


def test_an_empty_folder_that_others_could_read_is_closed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tmp_path.chmod(0o755)
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path))
    assert mode(data_folder()) == 0o700


def test_a_folder_of_other_things_keeps_its_mode(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "letters").mkdir()
    tmp_path.chmod(0o755)
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path))
    assert mode(data_folder()) == 0o755


def test_without_the_variable_it_is_the_platforms(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("LEANLADDER_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "share"))
    assert data_folder() == platformdirs.user_data_path("leanladder", appauthor=False)
    assert tmp_path in data_folder().parents


@pytest.mark.parametrize("home", [True, False])
def test_compiled_code_is_kept_where_config_says(
    home: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from leanladder.engine import compiled  # the engine knows nothing of settings, so only a test can compare

    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    if not home:
        monkeypatch.delenv("LEANLADDER_HOME")
    assert cache_folder() in compiled.cache_folder().parents


def test_a_file_in_its_place_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "taken").write_text("")
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path / "taken"))
    with pytest.raises(SettingsError, match="cannot be made"):
        data_folder()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_place_that_may_not_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tmp_path.chmod(0o500)
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path / "home"))
    with pytest.raises(SettingsError, match="cannot be made"):
        data_folder()


def test_processes_side_by_side_have_own_logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path))
    assert log_file().name == "leanladder.log"
    assert log_file("worker").name == "leanladder-worker.log"
    assert log_file("worker").parent == log_file().parent
