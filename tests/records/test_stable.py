"""Machines, riders and own files on record."""

from __future__ import annotations

import json
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder.domain.errors import InputError
from leanladder.interchange.day_file import MachineIn, RiderIn
from leanladder.records import days, history, links, stable
from leanladder.records.checking import dumped, file_name, stem
from leanladder.records.days.folder import toml_text
from leanladder.records.models import Day, Person

PLAIN = {"machine": "naked", "tyre": "sport-road"}


def figure(low: float, high: float) -> st.SearchStrategy[float | None]:
    return st.none() | st.floats(low, high) | st.integers(int(low) + 1, int(high))


names = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1, max_size=60)
pairs = st.none() | st.fixed_dictionaries({"front_bar": st.floats(1.0, 4.0), "rear_bar": st.floats(1.0, 4.0)})
starts = st.none() | st.sampled_from(
    [
        {"kind": "cold"},
        {"kind": "warmers", "warmers_c": 80, "on_min": 60.5, "off_min": 0},
        {"kind": "stopped", "off_min": 15, "in_sun": None},
        {"kind": "stopped", "off_min": 15, "in_sun": True},
    ]
)
states = st.none() | st.fixed_dictionaries(
    {"scrubbed": st.booleans()},
    optional={
        "crown": st.sampled_from(["round", "squared", "worn"]),
        "date_code": st.none() | st.just("1025"),
        "heat_cycles": st.none() | st.integers(0, 200),
        "plugged": st.booleans(),
    },
)
machines = st.fixed_dictionaries(
    {"machine": st.just("naked"), "tyre": st.just("sport-road")},
    optional={
        "gauge_offset_bar": st.none() | st.floats(-0.5, 0.5),
        "front_state": states,
        "rear_state": states,
        "start": starts,
        "minimum": pairs,
        "hot": pairs,
        "home": pairs,
    },
)
riders = st.fixed_dictionaries(
    {"level": names, "machine": st.just("7")},
    optional={
        "usual_lean_deg": figure(5.0, 65.0),
        "hang_off": st.booleans(),
        "language": st.sampled_from(["en", "de"]),
        "large_print": st.booleans(),
    },
)


def read_again(tables: dict[str, list[dict[str, Any]]]) -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = tomllib.loads(toml_text(tables))
    return found


@settings(max_examples=60)
@given(name=names, written=machines)
def test_a_machine_comes_back_as_it_was_written(name: str, written: dict[str, Any]) -> None:
    kept = stable.save_machine(name, written, True, None)
    again = stable.machine(kept.name)
    entry = stable.machine_entry(again.name, again.written)
    assert entry == stable.machine_entry(name, written)
    assert None not in again.written.values()
    from_file = read_again({"machines": [{"name": again.name, **again.written}]})["machines"][0]
    assert dumped(MachineIn.model_validate_json(json.dumps(from_file))) == dumped(entry)


@settings(max_examples=60)
@given(name=names, written=riders)
def test_a_rider_comes_back_as_they_were_written(name: str, written: dict[str, Any]) -> None:
    stable.save_machine("7", PLAIN, False, None)
    stable.save_rider(name, written, None)
    again = stable.rider(name)
    entry = stable.rider_entry(again.name, again.written)
    assert entry == stable.rider_entry(name, written)
    from_file = read_again({"riders": [{"name": name, "group": "any", **again.written}]})["riders"][0]
    assert dumped(RiderIn.model_validate_json(json.dumps(from_file))) == dumped(entry)


def test_what_a_file_would_refuse_is_refused() -> None:
    with pytest.raises(InputError, match="no tyre is named") as refused:
        stable.save_machine("7", {"machine": "naked"}, False, None)
    assert refused.value.fault.field == "machine 7"
    with pytest.raises(InputError, match="out of range") as refused:
        stable.save_machine("7", {**PLAIN, "gauge_offset_bar": 3}, False, None)
    assert refused.value.fault.field == "machine 7, gauge_offset_bar"
    with pytest.raises(InputError, match="unknown") as refused:
        stable.save_machine("7", {**PLAIN, "gauge_ofset_bar": 0.1}, False, None)
    assert refused.value.fault.remedy == "Did you mean gauge_offset_bar?"
    with pytest.raises(InputError, match="no machine called '8'"):
        stable.save_rider("Wren", {"level": "new", "machine": "8"}, None)
    with pytest.raises(InputError):
        stable.save_machine("\ud800", PLAIN, False, None)
    with pytest.raises(InputError, match="no own file called"):
        stable.save_machine("7", {**PLAIN, "tyre": "tyres/none.toml"}, False, None)
    assert not stable.machines()


def test_history_tells_who_when_why_and_what(head: Person) -> None:
    kept = stable.save_machine("7", PLAIN, False, head, reason="bought")
    stable.save_machine("7", PLAIN, False, head)  # nothing changed: nothing to tell
    stable.save_machine("7", {**PLAIN, "gauge_offset_bar": 0.1}, False, head)
    stable.remove_machine("7", head, reason="sold")
    gone, changed, made = history.changes_of("machine", kept.pk)
    assert (made.was, made.reason, made.who_name) == (None, "bought", "Oda Fenn")
    assert made.at.tzinfo is not None
    assert changed.was == made.now
    assert gone.was == changed.now
    assert (gone.now, gone.reason) == (None, "sold")


def test_a_machine_that_someone_rides_stays(demo: Day) -> None:
    with pytest.raises(InputError, match="rides this machine") as refused:
        stable.remove_machine("3", None)
    assert "Linnet" in str(refused.value.fault.remedy)


def test_a_rider_goes_from_days_too(demo: Day) -> None:
    before = len(history.changes_of("day", demo.pk))
    stable.remove_rider("Merle", None, reason="asked to be forgotten")
    assert "Merle" not in days.day_file(demo.pk).day_toml
    assert len(history.changes_of("day", demo.pk)) == before + 1


@pytest.mark.parametrize("how", ["renamed", "removed"])
def test_whoever_has_a_riders_name_next_is_not_on_their_phone(demo: Day, how: str) -> None:
    token = links.token(links.link_for(demo.pk, "Wren"))
    if how == "renamed":
        stable.rename_rider("Wren", "Jenny", None)
    else:
        stable.remove_rider("Wren", None)
    assert links.link_of(token) is None


def test_a_new_name_reaches_riders(demo: Day) -> None:
    stable.rename_machine("1", "one", None)
    assert stable.rider("Wren").written["machine"] == "one"
    assert 'machine = "one"' in days.day_file(demo.pk).day_toml
    with pytest.raises(InputError, match="of this name is on record"):
        stable.rename_machine("one", "2", None)
    stable.rename_rider("Wren", "Jenny", None)
    assert 'name = "Jenny"' in days.day_file(demo.pk).day_toml


def test_own_files_are_checked_and_kept_while_used(demo: Day) -> None:
    own = stable.own_files("tyre")[0]
    with pytest.raises(InputError, match="a machine uses this file"):
        stable.remove_own_file("tyre", own.name, None)
    with pytest.raises(InputError, match="of another kind"):
        stable.save_own_file("machine", own.text, None)
    with pytest.raises(InputError, match="another tyre file"):
        stable.save_own_file("tyre", own.text + "# other\n", None, replace=False)
    made = stable.save_own_file("tyre", 'schema = "tyre/1"\nname = "Ü / ../x"\nbase = "race"\n', None)
    assert made.path == "tyres/ü-x.toml"
    stable.remove_own_file("tyre", made.name, None)


@given(st.text())
def test_names_of_files_are_safe(text: str) -> None:
    name = stem(text)
    assert 1 <= len(name) <= 40
    assert not set(name) & set("/\\.:\0 ")
    assert len(f"machines/{name}.toml") <= 60
    assert "/" not in file_name(text)
    assert not file_name(text).startswith(".")
