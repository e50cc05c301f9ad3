"""Cold pressures as the gauges of a day should read them; none is advised without the maker's minimum."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leanladder.domain.day import Day, DayLadder, DayMachine, PressurePair
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import PressureRow
from leanladder.domain.sentence import Sentence
from leanladder.engine import gas
from leanladder.planning.pressure import cold_for_hot

End = Literal["front", "rear"]
ENDS: tuple[End, ...] = ("front", "rear")
STEP_PER_BAR = 100  # a gauge is read to a hundredth of a bar
HAIR_BAR = 1e-6  # what a float may be off; a step's hair is not a step


@dataclass(frozen=True, slots=True)
class _Cold:
    """One end's cold pressure, true and not as a gauge reads [bar]: advised_bar None where none is.

    stands_bar: what stands in it now by what was stated, None where nothing was; raised, that this is
    below the maker's minimum; held, that the wanted hot pressure would need less than the minimum.
    """

    advised_bar: float | None
    stands_bar: float | None = None
    raised: bool = False
    held: bool = False


def pressure_rows(day: Day, entries: Sequence[DayLadder]) -> tuple[PressureRow, ...]:
    """Return the cold pressures of the machines that go out, those alike in one row, in the day's order.

    They are for the air of each machine's first session among the entries. Where a hot pressure is
    wanted, the cold one for it by that session's last lap; else the stated one by the same gas in this
    morning's air. Never under the maker's minimum, and none where that is not stated. Raises InputError
    for a hot pressure that cannot be meant.
    """
    rows: list[PressureRow] = []
    for machine in day.machines:
        entry = next((each for each in entries if each.ladder and machine.name in each.machines), None)
        if entry is None or entry.ladder is None:
            continue
        row = _row(machine, entry, entry.ladder)
        place = next((at for at, other in enumerate(rows) if replace(other, machines=()) == row), None)
        if place is None:
            rows.append(replace(row, machines=(machine.name,)))
        else:
            rows[place] = replace(rows[place], machines=(*rows[place].machines, machine.name))
    return tuple(rows)


def _row(machine: DayMachine, entry: DayLadder, ladder: Ladder) -> PressureRow:
    """One machine's row, still without its name."""
    offset_bar = machine.gauge_offset_bar or 0.0
    least = {end: _minimum_bar(machine, ladder, end) for end in ENDS}
    cold = {end: _cold(machine, ladder, end, least[end]) for end in ENDS}
    home = {end: _home_bar(machine.home, end, least[end]) for end in ENDS}
    return PressureRow(
        machines=(),
        front_bar=_read_bar(cold["front"].advised_bar, offset_bar),
        rear_bar=_read_bar(cold["rear"].advised_bar, offset_bar),
        minimum_front_bar=least["front"],
        minimum_rear_bar=least["rear"],
        set_c=ladder.session.weather.air_c,
        offset_bar=machine.gauge_offset_bar,
        home_front_bar=_read_bar(home["front"], offset_bar),
        home_rear_bar=_read_bar(home["rear"], offset_bar),
        notes=tuple(_notes(machine, entry, ladder, cold)),
    )


def _minimum_bar(machine: DayMachine, ladder: Ladder, end: End) -> float | None:
    """The maker's least cold pressure: as typed in for the machine, else as in the tyre's file."""
    if machine.minimum is not None:
        return _of(machine.minimum, end)
    fitted = ladder.session.front if end == "front" else ladder.session.rear
    return fitted.tyre.minimum_cold_bar


def _of(pair: PressurePair, end: End) -> float:
    return pair.front_bar if end == "front" else pair.rear_bar


def _cold(machine: DayMachine, ladder: Ladder, end: End, least_bar: float | None) -> _Cold:
    if machine.hot is not None and least_bar is not None:
        return _for_hot(machine.hot, ladder, end, least_bar)
    if machine.cold is None:
        return _Cold(None)
    session, stated = ladder.session, machine.cold
    atmosphere = gas.atmosphere_bar(session.weather.altitude_m)
    set_bar = (stated.front_bar if end == "front" else stated.rear_bar) - (machine.gauge_offset_bar or 0.0)

    def now(set_bar: float) -> float:
        return gas.gauge_bar(set_bar, stated.set_c, session.weather.air_c, atmosphere)

    if least_bar is None:
        return _Cold(None, now(set_bar))
    advised = max(now(max(set_bar, least_bar)), least_bar)
    return _Cold(advised, now(set_bar), raised=advised > now(set_bar) + HAIR_BAR)


def _for_hot(hot: PressurePair, ladder: Ladder, end: End, least_bar: float) -> _Cold:
    """The cold pressure in this morning's air for a hot one at the end of the ladder's last lap."""
    session, last = ladder.session, ladder.laps[-1]
    fitted = session.front if end == "front" else session.rear
    reached = last.front_end if end == "front" else last.rear_end
    tyre = replace(fitted.tyre, minimum_cold_bar=least_bar)
    weather = session.weather
    advised = cold_for_hot(tyre, _of(hot, end), reached.gas_c, weather.air_c, weather.altitude_m)
    return _Cold(advised, held=advised == least_bar)


def _home_bar(home: PressurePair | None, end: End, least_bar: float | None) -> float | None:
    return None if home is None else max(_of(home, end), least_bar or 0.0)


def _read_bar(true_bar: float | None, offset_bar: float) -> float | None:
    """What the gauge should read, rounded up to what it can be read to [bar]."""
    if true_bar is None:
        return None
    return math.ceil((true_bar + offset_bar - HAIR_BAR) * STEP_PER_BAR) / STEP_PER_BAR


def _notes(
    machine: DayMachine, entry: DayLadder, ladder: Ladder, cold: dict[End, _Cold]
) -> Iterator[Sentence]:
    ends = cold.values()
    if any(each.raised for each in ends):
        yield Sentence("lists.raise_first")
    if machine.hot is None and machine.cold is None:
        yield Sentence("lists.not_stated")
    if any(_minimum_bar(machine, ladder, end) is None for end in ENDS):
        yield Sentence("lists.no_minimum")
        yield from _stands(machine, ladder, cold)
    elif machine.hot is not None:
        yield Sentence("lists.for_hot", {f"{end}_bar": f"{_of(machine.hot, end):.2f}" for end in ENDS})
    if any(each.held for each in ends):
        yield Sentence("lists.held")
    if machine.cold is not None and machine.gauge_offset_bar is None:
        yield Sentence("lists.gauge_unknown")
    if entry.after is not None:
        yield Sentence("lists.still_warm", {"session": entry.after})
    elif ladder.session.start.kind == "warmers":
        yield Sentence("lists.before_warmers")


def _stands(machine: DayMachine, ladder: Ladder, cold: dict[End, _Cold]) -> Iterator[Sentence]:
    """What the gauge shows now by what was stated: a check of the gauge's, no advice."""
    offset_bar = machine.gauge_offset_bar or 0.0
    stands = {end: each.stands_bar for end, each in cold.items()}
    told = {f"{end}_bar": f"{bar + offset_bar:.2f}" for end, bar in stands.items() if bar is not None}
    if len(told) == len(ENDS):
        yield Sentence("lists.stands", told | {"air_c": f"{ladder.session.weather.air_c:.0f}"})
