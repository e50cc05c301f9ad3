"""The list of the morning, in its order: the road, the set, pressures, the word, who goes out when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, groupby

from leanladder import wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.paper import DayList, ListPart
from leanladder.domain.sentence import Sentence
from leanladder.planning.field import field_plan
from leanladder.planning.lists.pressures import pressure_rows
from leanladder.planning.lists.told import each_once, tongue


def morning_list(day: Day, circuit: Circuit, entries: Sequence[DayLadder], language: str) -> DayList:
    """Return the list of the morning, with the pressures of the machines that go out by the entries.

    Raises InputError for a wanted hot pressure that cannot be meant.
    """
    parts = (
        ListPart("lists.head_road", tuple(_road(circuit))),
        ListPart("lists.head_measure", tuple(_measure(circuit))),
        ListPart("lists.head_choose", tuple(_choose(entries))),
        ListPart("lists.head_pressures", _said("set_cold", "raise_home")),
        ListPart("lists.head_board", _said("board", "cards_match")),
        ListPart("lists.head_order", tuple(_order(entries, language))),
        ListPart("lists.head_void", _said("void_wet", "void_colder", "void_wait")),
    )
    return DayList(
        kind="morning",
        school=day.school,
        circuit=circuit.name,
        date=day.date,
        language=language,
        parts=tuple(part for part in parts if part.lines),
        pressures=pressure_rows(day, entries),
    )


def _said(*codes: str) -> tuple[Sentence, ...]:
    return tuple(Sentence(f"lists.{code}") for code in codes)


def _road(circuit: Circuit) -> Iterator[Sentence]:
    yield Sentence("lists.look_dry")
    yield Sentence("lists.look_shade" if circuit.shaded.any() else "lists.look_shade_unknown")
    yield Sentence("lists.look_wet")


def _measure(circuit: Circuit) -> Iterator[Sentence]:
    yield Sentence("lists.measure_track")
    if circuit.shaded.any():
        yield Sentence("lists.measure_shade")
    yield Sentence("lists.measure_air")
    yield Sentence("lists.measure_when")


def _choose(entries: Sequence[DayLadder]) -> Iterator[Sentence]:
    """How a set is chosen; where all were made from a measured track, only that it has not become colder."""
    roads = [entry.ladder.session.road for entry in entries if entry.ladder is not None]
    if roads and all(road.origin == "measured" for road in roads):
        yield Sentence("lists.choose_measured")
    else:
        yield Sentence("lists.choose_set")
        yield Sentence("lists.choose_one")
        yield Sentence("lists.choose_warmer")
    yield Sentence("lists.choose_none")


def _order(entries: Sequence[DayLadder], language: str) -> Iterator[Sentence]:
    """A line a session; what all mixed ones are told alike, once below: no two lines contradict."""
    runs = [tuple(together) for _, together in groupby(entries, key=lambda entry: entry.session.name)]
    fields = [field_plan(entries) for entries in runs]
    rules = [field.rules for field in fields if field.rules]
    alike = [rule for rule in each_once(chain.from_iterable(rules)) if all(rule in each for each in rules)]
    for of_session, field in zip(runs, fields, strict=True):
        run = of_session[0].session
        own = [rule for rule in field.rules if rule not in alike]
        order = (*(field.order or (Sentence(f"lists.session_{_as_one(of_session)}"),)), *own)
        told = " ".join(wording.unmarked(each.code, tongue(language), **each.figures) for each in order)
        figures = {"session": run.name, "at": f"{run.at:%H:%M}", "group": run.group, "order": told}
        yield Sentence("lists.session", figures)
    yield from alike
    if rules:
        yield Sentence("lists.order_by_set")


def _as_one(entries: Sequence[DayLadder]) -> str:
    return "no_number" if all(entry.ladder is None for entry in entries) else "together"
