"""`leanladder circuit`: its table, its JSON, and how it fails."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text

EXAMPLE = Path(__file__).resolve().parents[2] / "src" / "leanladder" / "data" / "example"
DEMO = (str(EXAMPLE / "circuit.csv"), "--notes", str(EXAMPLE / "circuit-notes.toml"))

Printed = pytest.CaptureFixture[str]


def test_the_table_tells_sides_apart_by_shape(capsys: Printed) -> None:
    assert main(["circuit", *DEMO]) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    lines = printed.out.splitlines()
    assert lines[0] == "Quillmoor: 3010 m, 1 left, 10 right, clockwise."
    rows = [line for line in lines if line.startswith(("(", "|"))]
    assert [row[0] for row in rows] == ["|"] * 4 + ["("] + ["|"] * 6
    assert all(row.startswith("|") == (row[4] == ")") for row in rows)
    assert "Spinney" in rows[4]


def test_the_json_is_one_object_by_its_schema(capsys: Printed) -> None:
    assert main(["circuit", *DEMO, "--json"]) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    answer = json.loads(printed.out)
    jsonschema.Draft202012Validator(json.loads(schema_text("circuit"))).validate(answer)
    assert answer["schema"] == "leanladder.circuit/1"
    circuit = answer["circuit"]
    assert circuit["length_m"] == pytest.approx(3010.0, abs=1.5)
    assert circuit["net_turns"] == -1
    assert [corner["number"] for corner in circuit["corners"]] == list(range(1, 12))
    assert answer["inputs"]["notes"] == "circuit-notes.toml"


def test_reverse_turns_it_round(capsys: Printed) -> None:
    assert main(["circuit", DEMO[0], "--reverse", "--json"]) == 0
    circuit = json.loads(capsys.readouterr().out)["circuit"]
    assert circuit["net_turns"] == 1
    assert [corner["side"] for corner in circuit["corners"]].count("right") == 1
    assert circuit["corners"][0]["name"] is None


def test_remarks_stand_below_the_table_and_among_the_warnings(capsys: Printed, tmp_path: Path) -> None:
    notes = tmp_path / "notes.toml"
    notes.write_text('schema = "circuit-notes/1"\nstart_at_m = 1412\n', encoding="utf-8")
    assert main(["circuit", DEMO[0], "--notes", str(notes)]) == 0
    assert "- The start line lies within turn" in capsys.readouterr().out
    assert main(["circuit", DEMO[0], "--notes", str(notes), "--json"]) == 0
    warnings = json.loads(capsys.readouterr().out)["warnings"]
    assert [warning["code"] for warning in warnings] == ["circuit_remark"]


BAD = {
    "missing.csv": None,
    "empty.csv": b"",
    "binary.gpx": b"\x00\x01\x02\x03" * 100,
    "two.csv": b"x_m,y_m\n0,0\n300,0\n",
    "equal.csv": b"x_m,y_m\n" + b"5,5\n" * 20,
    "nan.csv": b"x_m,y_m\n0,0\nnan,0\n9,9\n",
    "words.csv": b"x_m,y_m\n0,0\nhere,0\n9,9\n",
    "swapped.csv": b"lat,lon\n-120,50\n-120,50.01\n-120.01,50\n",
    "doctype.gpx": b'<?xml version="1.0"?><!DOCTYPE gpx><gpx/>',
    "small.csv": b"x_m,y_m\n0,0\n10,0\n10,10\n0,10\n",
    "large.csv": b"x_m,y_m\n0,0\n10000,0\n10000,10000\n0,10000\n",
    "open.csv": b"x_m,y_m\n0,0\n100,0\n200,0\n200,100\n200,200\n100,200\n0,180\n",
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_ends_with_two_and_one_error_object(capsys: Printed, tmp_path: Path, name: str) -> None:
    content = BAD[name]
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    assert main(["circuit", str(path), "--json"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    error = json.loads(printed.err)
    assert error["schema"] == "leanladder.error/1"
    assert error["file"] == str(path)
    assert error["message"]
    assert main(["circuit", str(path)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "Traceback" not in printed.err
    assert len(printed.err.strip().splitlines()) == 1


@pytest.mark.parametrize("command", ["circuit", "plan"])
def test_a_route_is_refused_with_words_and_a_leaflet(capsys: Printed, tmp_path: Path, command: str) -> None:
    path = tmp_path / "route.gpx"
    points = "".join(f'<trkpt lat="{46.5 + 2e-4 * n:.5f}" lon="{8.4 + 1e-4 * n:.5f}"/>' for n in range(300))
    head = '<gpx version="1.1" creator="us" xmlns="http://www.topografix.com/GPX/1/1">'
    path.write_text(f"{head}<trk><trkseg>{points}</trkseg></trk></gpx>", encoding="utf-8")
    session = ("--closed-course", "--tyre", "sport-road", "--air", "8", "--track", "9", "--start", "cold")
    rest = {
        "circuit": (str(path),),
        "plan": ("--circuit", str(path), *session, "--laps", "1", "--rider", "new"),
    }
    assert main([command, *rest[command], "--json"]) == 3
    printed = capsys.readouterr()
    assert printed.out == ""
    error = json.loads(printed.err)
    assert error["code"] == "open_route"
    assert "leanladder procedure open-road" in error["remedy"]


def test_a_folder_is_no_circuit(capsys: Printed, tmp_path: Path) -> None:
    assert main(["circuit", str(tmp_path), "--json"]) == 2
    assert "folder" in json.loads(capsys.readouterr().err)["message"]
