from __future__ import annotations

from pathlib import Path

import pytest

from leanladder.domain.errors import InputError
from leanladder.interchange.files import write_file, write_folder


def test_a_file_is_written_and_replaced_whole(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    write_file(path, b"one")
    write_file(path, b"two")
    assert path.read_bytes() == b"two"
    assert [item.name for item in tmp_path.iterdir()] == ["a.txt"]


def test_a_failure_leaves_what_was_there_and_nothing_beside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.txt"
    path.write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(InputError, match="No space left"):
        write_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert [item.name for item in tmp_path.iterdir()] == ["a.txt"]


def test_a_folder_is_made_and_filled(tmp_path: Path) -> None:
    paths = write_folder(tmp_path / "deep" / "out", {"a": b"1", "b": b"2"})
    assert [path.read_bytes() for path in paths] == [b"1", b"2"]


def test_nothing_is_written_where_one_is_there_already(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"mine")
    with pytest.raises(InputError, match="there already"):
        write_folder(tmp_path, {"a": b"1", "b": b"2"})
    assert [item.name for item in tmp_path.iterdir()] == ["b"]
    assert (tmp_path / "b").read_bytes() == b"mine"


def test_a_failure_half_way_takes_the_first_away_again(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        write_folder(tmp_path, {"a": b"1", "set/a": b"2", "y" * 300: b"3"})
    assert list(tmp_path.iterdir()) == []


def test_a_name_leads_through_folders_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    write_folder(tmp_path, {"kept/a": b"1", "set/deep/b": b"2"})
    assert (tmp_path / "kept" / "a").read_bytes() == b"1"
    assert (tmp_path / "set" / "deep" / "b").read_bytes() == b"2"


def test_a_file_in_place_of_a_folder_takes_the_made_ones_away_again(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"mine")
    with pytest.raises(InputError):
        write_folder(tmp_path, {"set/a": b"1", "b/c": b"2"})
    assert [item.name for item in tmp_path.iterdir()] == ["b"]


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_bytes(b"")
    with pytest.raises(InputError):
        write_folder(tmp_path / "taken", {"a": b"1"})


def test_a_folder_with_a_name_too_long_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        write_folder(tmp_path / ("y" * 300), {"a.txt": b"a"})
