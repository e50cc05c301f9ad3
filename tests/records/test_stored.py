"""What a plan holds comes back exactly as it was."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, timezone
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Outline, Stretch
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.sentence import Sentence
from leanladder.importers import read_outline
from leanladder.interchange.day import read_day
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.day import plan_day
from leanladder.planning.field import field_plan
from leanladder.planning.paper.briefing import briefings
from leanladder.planning.paper.coach import coach_sheets
from leanladder.planning.paper.riders import rider_cards
from leanladder.planning.why import answer
from leanladder.records.stored import from_json, kinds, to_json


def same(one: object, other: object) -> bool:  # noqa: PLR0911  # a return a kind
    """Whether two values are of the same kind and hold the same, arrays and refusals too."""
    if isinstance(one, np.ndarray):
        return isinstance(other, np.ndarray) and one.dtype == other.dtype and np.array_equal(one, other)
    if isinstance(one, Mapping):
        return isinstance(other, Mapping) and same(tuple(one.items()), tuple(other.items()))
    if type(one) is not type(other):
        return isinstance(one, np.generic) and one.item() == other
    if is_dataclass(one):
        return all(same(getattr(one, each.name), getattr(other, each.name)) for each in fields(one))
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, OutsideModelError) and isinstance(other, OutsideModelError):
        return (one.code, one.message, one.fault) == (other.code, other.message, other.fault)
    if isinstance(one, float) and isinstance(other, float) and math.isnan(one):
        return math.isnan(other)
    return one == other


def comes_back(value: object, also: tuple[type, ...] = ()) -> str:
    text = to_json(value, also)
    assert same(from_json(text, also), value)
    return text


class Whole(NamedTuple):
    """A day planned, with all that is made of it."""

    day: Day
    circuit: object
    entries: tuple[DayLadder, ...]
    more: tuple[object, ...]


@pytest.fixture(scope="module")
def whole(examples: Path) -> Whole:
    """The example day planned, its second run refused; with its papers and one why."""
    folder = examples / "example"
    day = read_day(folder / "day.toml")
    hours = (day.weather[0], replace(day.weather[1], road="wet"))
    short = replace(day.sessions[0], minutes=None, laps=2)
    day = replace(day, sessions=(short, day.sessions[1]), weather=hours)
    assert day.notes is not None
    circuit = circuits.build(read_outline(day.circuit), read_notes(day.notes))
    entries = plan_day(day, circuit)
    more: list[object] = []
    for name in ("larks 1", "plovers 1"):
        some = tuple(each for each in entries if each.session.name == name)
        more.append(rider_cards(day, circuit, some, word="heron"))
        more.append(coach_sheets(day, circuit, some, word="heron"))
        more.append(briefings(day, circuit, some, word="heron"))
        more.append(field_plan(some))
    ladder = entries[0].ladder
    assert ladder is not None
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(answer, "changes", lambda _asked: ())
        more.append(answer.why(replace(ladder.session, laps=1), 1, 5))
    return Whole(day, circuit, entries, tuple(more))


def test_a_planned_day_comes_back(whole: Whole) -> None:
    assert any(each.refusal for each in whole.entries)
    assert any(each.ladder for each in whole.entries)
    comes_back(whole, also=(Whole,))


def test_what_is_shared_stays_shared_and_is_written_once(whole: Whole) -> None:
    text = to_json(whole, also=(Whole,))
    assert text.count('"@":"Circuit"') == 1
    again = from_json(text, also=(Whole,))
    assert isinstance(again, Whole)
    told = [each.ladder.session.circuit for each in again.entries if each.ladder]
    assert all(each is again.circuit for each in told)


def test_every_kind_comes_back() -> None:
    for kind in kinds().values():
        # Dataclasses hold what they are given: every field gets something of its own.
        names = [each.name for each in fields(kind)]
        comes_back(kind(**{name: f"{name} {number}" for number, name in enumerate(names)}))


values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(st.characters(exclude_categories=["Cs"]))
    | st.dates()
    | st.times()
    | st.datetimes(timezones=st.just(UTC) | st.just(timezone(timedelta(hours=-3, minutes=-30))))
    | st.datetimes(),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.lists(inner, max_size=4).map(tuple)
        | st.dictionaries(st.text("ab@#", max_size=3) | st.integers(), inner, max_size=4)
        | st.builds(Sentence, st.text("abc"), st.dictionaries(st.text("ab@#", max_size=3), inner, max_size=4))
    ),
    max_leaves=12,
)


@given(values)
def test_whatever_a_dataclass_may_hold_comes_back(value: object) -> None:
    json.loads(comes_back(value), parse_constant=pytest.fail)


def test_arrays_numbers_and_paths_come_back() -> None:
    for array in (
        np.linspace(0.0, 1.0, 7),
        np.eye(3),
        np.array([True, False]),
        np.arange(4),
        np.zeros((0, 2)),
    ):
        comes_back(array)
    turned = np.arange(6.0).reshape(2, 3).T
    comes_back(Outline("x", "metres", turned, elevation_m=np.array([-0.0, np.inf])))
    assert from_json(to_json((np.float64(0.1), np.int64(3), np.bool_(True)))) == (0.1, 3, True)
    assert from_json(to_json(Path("a/b"))) == Path("a/b")
    assert from_json(to_json(MappingProxyType({"a": 1}))) == {"a": 1}
    found = from_json(to_json(np.zeros(3)))
    assert isinstance(found, np.ndarray)
    found[0] = 1.0  # its own, not a view of what was read


def test_a_refusal_comes_back() -> None:
    comes_back(OutsideModelError("wet", "the road is wet.", Fault(remedy="Wait.")))


def test_only_kinds_on_the_list_are_written_or_made() -> None:
    class Stretch(NamedTuple):  # one of another's, called as one of ours
        from_m: float

    for strange in (
        object(),
        Stretch(1.0),
        {1, 2},
        b"x",
        lambda: 0,
        InputError("x"),
        np.zeros(2, dtype="U3"),
    ):
        with pytest.raises(TypeError):
            to_json(strange)
    with pytest.raises(ValueError, match="two kinds"):
        to_json(1, also=(Stretch,))
    for kind in ("object", "Path", "os.system", "InputError"):
        with pytest.raises(InputError, match="cannot be read"):
            from_json(json.dumps({"schema": "leanladder.stored/1", "shared": [], "value": {"@": kind}}))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "null",
        "{}",
        '{"schema":"leanladder.stored/2","shared":[],"value":1}',
        '{"schema":"x"}',
        "[" * 9999,
    ],
)
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        from_json(text)


def test_a_damaged_text_is_refused() -> None:
    text = to_json((Stretch(1.0, 2.0), date(2026, 5, 2), time(9, 30), datetime(2026, 5, 2, tzinfo=UTC)))
    for change in (
        ("from_m", "strange_m"),
        ('{"#":0}', '{"#":7}'),
        ("2026-05-02", "2026-55-02"),
        ("date", "dat"),
    ):
        with pytest.raises(InputError, match="cannot be read"):
            from_json(text.replace(*change))


def test_a_field_that_came_later_takes_what_the_dataclass_gives_it() -> None:
    written: dict[str, Any] = json.loads(to_json(Fault(file="a", remedy="b")))
    del written["shared"][0]["remedy"]
    assert from_json(json.dumps(written)) == Fault(file="a")
