"""A day set up step by step."""

from __future__ import annotations

import pytest

from leanladder.domain.errors import InputError
from leanladder.records import circuits, days, given, history, stable
from leanladder.records.models import Circuit, Day, Person

HEAD = {
    "date": "2026-05-02",
    "school": "Quillmoor",
    "weather": [{"at": "09:00", "air_c": 9}, {"at": "11:00", "air_c": 12, "cloud": None}],
    "coaches": [{"name": "Maren"}],
}


@pytest.fixture
def circuit() -> Circuit:
    return circuits.add_circuit("Quillmoor", "My Line.CSV", b"x_m,y_m\n0,0\n", "", None)


def test_a_day_from_nothing(circuit: Circuit, head: Person) -> None:
    day = days.save_day(HEAD, circuit.pk, head)
    with pytest.raises(InputError, match="groups is missing"):
        days.day_file(day.pk)
    stable.save_machine("7", {"machine": "naked", "tyre": "sport-road"}, False, head)
    stable.save_rider("Wren", {"level": "new", "machine": "7"}, head)
    days.save_group(day.pk, "larks", ["Maren"], head)
    days.place(day.pk, "larks", "Wren", head, level="regular")
    days.save_run(day.pk, {"name": "1", "group": "larks", "at": "9:30", "laps": 4, "minutes": None}, head)
    found = days.day_file(day.pk)
    assert 'circuit = "my-line.csv"' in found.day_toml
    assert 'level = "regular"' in found.day_toml
    assert "cloud" not in found.day_toml
    told = history.changes_of("day", day.pk)
    assert [each.who for each in told] == [head] * 4
    assert told[-1].was is None
    assert told[0].now is not None
    assert told[0].now["sessions"] == [{"name": "1", "group": "larks", "at": "9:30", "laps": 4}]


@pytest.mark.parametrize(
    ("change", "field", "why"),
    [
        ({"weather": [{"at": "09:00", "air_c": 480}]}, "air_c", "out of range"),
        ({"weather": [{"at": "10:00", "air_c": 8}, {"at": "09:00", "air_c": 8}]}, "weather", "do not rise"),
        ({"coaches": [{"name": "A"}, {"name": "A"}]}, "coaches", "stands twice"),
        ({"date": "2026-13-01"}, "date", "no date"),
        ({"school": ""}, "school", "missing"),
        ({"school": "a\0b"}, "day", "none"),
        ({"latitude_deg": 52.0}, "day", "half of the place"),
        ({"groups": []}, None, None),
        ({"machines": [{"name": "x"}]}, "machines", "unknown"),
    ],
)
def test_a_head_that_a_file_would_not_have(
    circuit: Circuit, change: dict[str, object], field: str | None, why: str | None
) -> None:
    if why is None:
        days.save_day({**HEAD, **change}, circuit.pk, None)
        return
    with pytest.raises(InputError, match=why) as refused:
        days.save_day({**HEAD, **change}, circuit.pk, None)
    assert str(field) in str(refused.value.fault.field)
    assert refused.value.fault.file is None
    assert not days.days()


def test_a_head_changes_but_keeps_its_coaches(demo: Day) -> None:
    written = {
        key: value for key, value in days.written_day(demo.pk).items() if key in days.editing.HEAD_KEYS
    }
    changed = {**written, "surface": "polished", "altitude_m": None}
    days.save_day(changed, demo.circuit_id, None, day_pk=demo.pk)
    assert days.day(demo.pk).surface == "polished"
    assert days.day(demo.pk).altitude_m is None
    with pytest.raises(InputError, match="no coach called 'Maren'"):
        days.save_day({**changed, "coaches": [{"name": "Tobit"}]}, demo.circuit_id, None, day_pk=demo.pk)
    assert len(days.day(demo.pk).coaches) == 3


def test_a_machine_carries_one_rider_of_a_group(demo: Day) -> None:
    with pytest.raises(InputError, match="carries 'Wren'"):
        days.place(demo.pk, "larks", "Sedge", None, machine="1")
    with pytest.raises(InputError, match="carries 'Linnet'"):
        days.place(demo.pk, "larks", "Merle", None)
    days.place(demo.pk, "plovers", "Wren", None)
    first = days.places(demo.pk)[0]
    assert (first.rider.name, first.group.name) == ("Wren", "plovers")
    days.day_file(demo.pk)


def test_a_machine_is_brought_and_taken_away(demo: Day) -> None:
    stable.save_machine("spare", {"machine": "naked", "tyre": "sport-road"}, True, None)
    days.bring(demo.pk, "spare", None)
    days.bring(demo.pk, "spare", None)
    assert days.day_file(demo.pk).day_toml.count('name = "spare"') == 1
    days.take_away(demo.pk, "spare", None)
    assert "spare" not in days.day_file(demo.pk).day_toml
    with pytest.raises(InputError, match="a rider has this machine"):
        days.take_away(demo.pk, "1", None)


def test_groups_and_runs_are_renamed_ordered_and_removed(demo: Day) -> None:
    days.save_group(demo.pk, "finches", ["Isolde"], None, was="larks")
    days.order_groups(demo.pk, ["plovers"], None)
    assert [each.name for each in days.groups(demo.pk)] == ["plovers", "finches"]
    with pytest.raises(InputError, match="of this name is there"):
        days.save_group(demo.pk, "finches", [], None)
    with pytest.raises(InputError, match="no group called 'larks'"):
        days.remove_group(demo.pk, "larks", None)
    days.remove_group(demo.pk, "finches", None)
    assert [each.name for each in days.runs(demo.pk)] == ["plovers 1", "plovers 2"]
    days.remove_run(demo.pk, "plovers 2", None)
    days.unplace(demo.pk, "Merle", None)
    days.day_file(demo.pk)


def test_runs_come_by_time(demo: Day) -> None:
    days.save_run(demo.pk, {"name": "early", "group": "larks", "at": "8:05", "laps": 2}, None)
    assert days.runs(demo.pk)[0].name == "early"


def test_a_day_goes_unless_something_was_given_out(demo: Day) -> None:
    given.give_out(demo.pk, "larks 1", "{}", word="heron", valid_minutes=20, by=None)
    with pytest.raises(InputError, match="was given out"):
        days.remove_day(demo.pk, None)
    assert days.days()


def test_no_day_is_an_input_error() -> None:
    for call in (days.day, days.day_file, days.written_day):
        with pytest.raises(InputError, match="no such day"):
            call(12345)
