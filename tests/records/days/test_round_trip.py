"""A day goes on record and comes out as the same day."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from leanladder.domain.day import Day
from leanladder.domain.errors import InputError
from leanladder.interchange.day import read_day
from leanladder.records import circuits, days, history, models, stable

DAYS = ["example", "example-kart", "example-mini", "example-cruiser"]


def ending(name: str) -> str:
    return ".toml" if name.endswith(".toml") else name


def plain(day: Day) -> Day:
    """A day without its paths: they differ from folder to folder."""
    machines = tuple(
        replace(each, machine=ending(each.machine), front=ending(each.front), rear=ending(each.rear))
        for each in day.machines
    )
    return replace(day, circuit=Path(), notes=None, machines=machines, file=None)


@pytest.mark.parametrize("name", DAYS)
def test_an_example_day_is_the_same_after_a_stay_on_record(name: str, examples: Path, tmp_path: Path) -> None:
    kept = days.import_day(examples / name / "day.toml", None)
    path = days.write_day(kept.pk, tmp_path / "out")
    was, now = read_day(examples / name / "day.toml"), read_day(path)
    assert plain(now) == plain(was)
    assert now.circuit.read_bytes() == was.circuit.read_bytes()
    assert (now.notes is None) == (was.notes is None)
    for old, new in zip(was.machines, now.machines, strict=True):
        for key in ("machine", "front", "rear"):
            before, after = getattr(old, key), getattr(new, key)
            if before.endswith(".toml"):
                assert Path(after).read_text() == Path(before).read_text()
            else:
                assert after == before


def test_the_same_day_is_on_record_once(demo: models.Day, examples: Path) -> None:
    assert days.demo_day(None).pk == demo.pk
    assert days.import_day(examples / "example" / "day.toml", None).pk == demo.pk
    assert len(days.days()) == 1


def test_the_digest_follows_every_change_and_nothing_else(demo: models.Day) -> None:
    pk = demo.pk
    seen = [days.day_file(pk).digest]
    assert days.day_file(pk).digest == seen[0]
    days.save_run(
        pk, {"name": "larks 1", "group": "larks", "at": "09:35", "minutes": 15}, None, was="larks 1"
    )
    seen.append(days.day_file(pk).digest)
    written = stable.rider("Wren").written
    stable.save_rider("Wren", {**written, "large_print": True}, None)
    seen.append(days.day_file(pk).digest)
    circuit = days.day(pk).circuit
    circuits.change_notes(circuit.pk, circuit.notes + "\n# seen\n", None)
    seen.append(days.day_file(pk).digest)
    own = stable.own_files("tyre")[0]
    stable.save_own_file("tyre", own.text + "\n# seen\n", None)
    seen.append(days.day_file(pk).digest)
    assert len(set(seen)) == len(seen)


def test_a_zip_comes_back_as_the_same_day(demo: models.Day, tmp_path: Path) -> None:
    pk = demo.pk
    packed = days.export_day(pk)
    assert days.export_day(pk) == packed
    path = tmp_path / "day.zip"
    path.write_bytes(packed)
    digest = days.day_file(pk).digest
    days.remove_day(pk, None)
    again = days.import_day(path, None)
    assert again.pk != pk
    assert days.day_file(again.pk).digest == digest


def test_what_differs_on_record_is_refused_or_replaced(demo: models.Day, examples: Path) -> None:
    written = stable.machine("1").written
    stable.save_machine("1", {**written, "gauge_offset_bar": 0.1}, False, None)
    path = examples / "example" / "day.toml"
    with pytest.raises(InputError, match="machine '1' is on record otherwise") as refused:
        days.import_day(path, None)
    assert refused.value.fault.value == "gauge_offset_bar"
    assert stable.machine("1").written["gauge_offset_bar"] == 0.1
    days.import_day(path, None, replace=True)
    assert stable.machine("1").written["gauge_offset_bar"] == 0.05
    latest = history.changes_of("machine", stable.machine("1").pk)[0]
    was, now = latest.was or {}, latest.now or {}
    assert was["written"]["gauge_offset_bar"] == 0.1
    assert now["written"]["gauge_offset_bar"] == 0.05


def test_a_refused_day_leaves_nothing(examples: Path, tmp_path: Path) -> None:
    for path in (examples / "example").iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    day = tmp_path / "day.toml"
    day.write_text(day.read_text().replace('machine = "22"', 'machine = "99"'))
    with pytest.raises(InputError, match="no machine called '99'") as refused:
        days.import_day(day, None)
    assert refused.value.fault.file == "day.toml"
    (tmp_path / "tyre.toml").unlink()
    day.write_bytes((examples / "example" / "day.toml").read_bytes())
    with pytest.raises(InputError, match="no such file") as refused:
        days.import_day(day, None)
    assert refused.value.fault.file == "tyre.toml"
    assert not days.days()
    assert not circuits.circuits()
    assert not stable.machines()
    assert not history.latest_changes(1)


@pytest.mark.parametrize("key", ["circuit", "notes", "tyre"])
def test_files_outside_the_folder_are_never_read(key: str, examples: Path, tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    for path in (examples / "example").iterdir():
        (inside / path.name).write_bytes(path.read_bytes())
    names = {"circuit": "circuit.csv", "notes": "circuit-notes.toml", "tyre": "tyre.toml"}
    (inside / names[key]).rename(tmp_path / names[key])
    day = inside / "day.toml"
    day.write_text(day.read_text().replace(f'{key} = "{names[key]}"', f'{key} = "../{names[key]}"'))
    with pytest.raises(InputError, match="outside the day's folder"):
        days.import_day(day, None)
    (inside / names[key]).symlink_to(tmp_path / names[key])
    day.write_bytes((examples / "example" / "day.toml").read_bytes())
    with pytest.raises(InputError, match="outside the day's folder"):
        days.import_day(day, None)


def zip_of(**members: bytes) -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members.items():
            packed.writestr(name, content)
    return kept.getvalue()


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"no zip", "damaged"),
        (zip_of(**{"../day.toml": b"x", "day.toml": b"x"}), "leads out"),
        (zip_of(**{"/day.toml": b"x"}), "leads out"),
        (zip_of(**{"a\\day.toml": b"x"}), "leads out"),
        (zip_of(**{"day.toml": b"\n" * 50_000_000}), "too much"),
        (zip_of(**{f"{number}.toml": b"" for number in range(300)}), "too many"),
        (zip_of(**{"other.txt": b"x"}), "no such file"),
        (zip_of(**{"day.toml": b"x" * 5000})[:100], "damaged"),
    ],
    # What is packed holds the time: names of tests must not.
    ids=["no zip", "up", "root", "backslash", "bomb", "crowd", "no day", "cut off"],
)
def test_a_malicious_or_damaged_zip_is_refused(content: bytes, why: str, tmp_path: Path) -> None:
    path = tmp_path / "day.zip"
    path.write_bytes(content)
    with pytest.raises(InputError, match=why):
        days.import_day(path, None)


def test_a_folder_around_everything_is_left_out(demo: models.Day, tmp_path: Path) -> None:
    pk = demo.pk
    found = days.day_file(pk)
    files = {"day.toml": found.day_toml.encode(), **found.files}
    path = tmp_path / "day.zip"
    path.write_bytes(zip_of(**{f"my day/{name}": content for name, content in files.items()}))
    assert days.import_day(path, None).pk == pk
