"""Pages of circuits: nothing wrong is kept, and what is kept is the file."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from leanladder.records import circuits
from leanladder.records.models import Circuit

EXAMPLE = files("leanladder").joinpath("data", "example")
LINE = EXAMPLE.joinpath("circuit.csv").read_bytes()
TEXT = EXAMPLE.joinpath("circuit-notes.toml").read_text(encoding="utf-8")


@pytest.fixture
def circuit(rolled_back: None) -> Circuit:
    return circuits.add_circuit("Quillmoor", "circuit.csv", LINE, TEXT, None)


def noted(circuit: Circuit) -> dict[str, object]:
    return tomllib.loads(Circuit.objects.get(pk=circuit.pk).notes)


def upload(content: bytes, name: str = "circuit.csv") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content)


def test_without_any_the_list_says_what_next(head: Client) -> None:
    assert "No circuit yet" in head.get("/circuits/").content.decode()


def test_a_file_alone_makes_a_circuit(head: Client) -> None:
    answer = head.post("/circuits/new/", {"line": upload(LINE)})
    kept = Circuit.objects.get()
    assert answer.status_code == 302
    assert kept.name == "circuit"
    assert "closed_course" not in kept.notes
    page = head.get(f"/circuits/{kept.pk}/").content.decode()
    assert "<svg" in page
    assert "no number is given here yet" in page


def test_with_the_statement_and_a_name(head: Client) -> None:
    data = {"line": upload(LINE), "name": "Quillmoor", "closed_course": "on", "zone": "Europe/London"}
    head.post("/circuits/new/", data)
    kept = Circuit.objects.get()
    assert noted(kept) == {
        "schema": "circuit-notes/1", "name": "Quillmoor", "zone": "Europe/London", "closed_course": True,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"not,a\nline,at all\n", "wrong"),
        (b"\x89PNG\0\0", "binary"),
        (b"x_m,y_m\n0,0\n1,1\n2,0\n", "short"),
    ],
)
def test_what_is_no_circuit_is_told_and_nothing_is_kept(head: Client, content: bytes, says: str) -> None:
    answer = head.post("/circuits/new/", {"line": upload(content), "name": "Mine"})
    assert answer.status_code == 400
    page = answer.content.decode()
    assert says in page
    assert 'value="Mine"' in page
    assert not Circuit.objects.exists()


def test_a_zone_that_does_not_exist_keeps_nothing(head: Client) -> None:
    answer = head.post("/circuits/new/", {"line": upload(LINE), "zone": "Europe/Londn"})
    assert answer.status_code == 400
    assert "Europe/London" in answer.content.decode()
    assert not Circuit.objects.exists()


def test_a_second_circuit_of_a_name_gets_a_number(head: Client) -> None:
    for _ in range(2):
        head.post("/circuits/new/", {"line": upload(LINE)})
    assert {each.name for each in circuits.circuits()} == {"circuit", "circuit 2"}


def test_the_statement_is_kept_and_taken_back(head: Client, circuit: Circuit) -> None:
    head.post(f"/circuits/{circuit.pk}/closed/", {})
    assert noted(circuit)["closed_course"] is False
    head.post(f"/circuits/{circuit.pk}/closed/", {"closed_course": "on"})
    assert noted(circuit)["closed_course"] is True


def test_names_are_kept_by_turn(head: Client, circuit: Circuit) -> None:
    head.post(f"/circuits/{circuit.pk}/names/", {"name_1": "Kiln", "name_5": " Spinney "})
    rows = noted(circuit)["names"]
    assert isinstance(rows, list)
    assert [each["name"] for each in rows] == ["Kiln", "Spinney"]


def test_join_split_and_take_back(head: Client, circuit: Circuit) -> None:
    at = f"/circuits/{circuit.pk}"
    assert head.post(f"{at}/join/", {"turn": "7"}).status_code == 302
    assert len(noted(circuit)["merges"]) == 1  # type: ignore[arg-type]
    assert head.post(f"{at}/take-back/", {"key": "merges", "row": "0"}).status_code == 302
    assert "merges" not in noted(circuit)


def test_a_split_that_parts_nothing_is_refused(head: Client, circuit: Circuit) -> None:
    answer = head.post(f"/circuits/{circuit.pk}/split/", {"at_m": "1200"})
    assert answer.status_code == 400
    assert "The turns stay as they were" in answer.content.decode()
    assert "splits_m" not in noted(circuit)


def test_stretches_with_commas_and_an_empty_row(head: Client, circuit: Circuit) -> None:
    data = {"from_m": ["100,5", ""], "to_m": ["200", ""], "more": ["1,5", ""]}
    assert head.post(f"/circuits/{circuit.pk}/stretches/banks/", data).status_code == 302
    assert noted(circuit)["banks"] == [{"from_m": 100.5, "to_m": 200.0, "bank_deg": 1.5}]


def test_a_stretch_off_the_lap_is_refused_and_stays_typed(head: Client, circuit: Circuit) -> None:
    data = {"from_m": ["100"], "to_m": ["9999"], "more": [""]}
    answer = head.post(f"/circuits/{circuit.pk}/stretches/shaded/", data)
    assert answer.status_code == 400
    assert 'value="9999"' in answer.content.decode()
    assert noted(circuit)["shaded"] != [{"from_m": 100.0, "to_m": 9999.0}]


def test_facts_are_kept_and_a_new_start_line_moves_the_rest(head: Client, circuit: Circuit) -> None:
    data = {"name": "Moor", "pit_exit_m": "140", "pit_entry_m": "2830", "start_at_m": "100", "zone": ""}
    assert head.post(f"/circuits/{circuit.pk}/facts/", data).status_code == 302
    now = noted(circuit)
    assert (now["start_at_m"], now["pit_exit_m"]) == (100.0, 40.0)
    assert "hard_upright_allowed" not in now
    assert Circuit.objects.get().name == "Moor"


def test_the_file_is_the_page(head: Client, circuit: Circuit) -> None:
    text = 'schema = "circuit-notes/1"\n# ours\nreverse = true\n'
    head.post(f"/circuits/{circuit.pk}/as-file/", {"text": text.replace("\n", "\r\n")})
    answer = head.get(f"/circuits/{circuit.pk}/notes/")
    assert answer.content.decode() == text
    assert "attachment" in answer["Content-Disposition"]


def test_a_wrong_file_is_refused_and_stays_typed(head: Client, circuit: Circuit) -> None:
    answer = head.post(
        f"/circuits/{circuit.pk}/as-file/", {"text": 'schema = "circuit-notes/1"\nrevers = true\n'}
    )
    assert answer.status_code == 400
    page = answer.content.decode()
    assert "Did you mean reverse?" in page
    assert "revers = true" in page
    assert noted(circuit)["reverse"] is False


def test_the_history_says_what_was(head: Client, circuit: Circuit) -> None:
    head.post(f"/circuits/{circuit.pk}/closed/", {})
    page = head.get(f"/circuits/{circuit.pk}/").content.decode()
    assert "Oda" in page
    assert "This circuit is closed to other traffic while we ride: " in page


def test_a_coach_sees_a_circuit_and_changes_nothing(coach: Client, circuit: Circuit) -> None:
    page = coach.get(f"/circuits/{circuit.pk}/")
    assert page.status_code == 200
    assert "<form" not in page.content.decode().split("<main", 1)[1].split("</main", 1)[0]
    for change in ("closed", "other-way", "names", "join", "split", "facts", "as-file", "remove"):
        assert coach.post(f"/circuits/{circuit.pk}/{change}/", {}).status_code == 403
    assert coach.get("/circuits/new/").status_code == 403


def test_removed(head: Client, circuit: Circuit) -> None:
    assert head.post(f"/circuits/{circuit.pk}/remove/").status_code == 302
    assert not Circuit.objects.exists()


def test_a_page_with_script_in_its_name_shows_it_as_text(head: Client) -> None:
    head.post("/circuits/new/", {"line": upload(LINE), "name": "<script>x</script>"})
    page = head.get(f"/circuits/{Circuit.objects.get().pk}/").content.decode()
    assert "<script>x" not in page
