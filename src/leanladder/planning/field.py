"""A session's field: who does not ride together, who goes out when, and what to warn of (decision 0017)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import combinations, groupby, pairwise
from types import MappingProxyType
from typing import NamedTuple

from leanladder import catalogue
from leanladder.domain.day import DayLadder
from leanladder.domain.field import FieldPlan, Pair, Part
from leanladder.domain.sentence import Sentence
from leanladder.planning.closing import (
    Out,
    clock_s,
    closings,
    differences,
    gained_share,
    is_cold_beside_warmers,
    most_closing_kmh,
    reach_lap,
    round_lap,
)


class _Rolls(NamedTuple):
    """A part with the run it goes out in, and how long after that run's first part [s]."""

    part: Sequence[Out]
    run: int
    after_s: int

    @property
    def riders(self) -> tuple[str, ...]:
        """Its riders by name."""
        return tuple(name for out in self.part for name in out.entry.riders)

    @property
    def machines(self) -> tuple[str, ...]:
        """Its machines by name."""
        return tuple(name for out in self.part for name in out.machines)


_Parts = list[list[Out]]


@cache
def field_figures() -> Mapping[str, float]:
    """Return the figures of data/planning.toml's [field], as plain numbers by name."""
    read = catalogue.parameters("planning.field")
    return MappingProxyType({name: figure.value for name, figure in read.items()})


def field_plan(entries: Sequence[DayLadder]) -> FieldPlan:
    """Return how the field of one session goes out, whatever the order of its entries (at least one).

    Combinations that close up on each other by little ride in one part; a field of more parts is mixed.
    Those who take less time go out first, so that nobody closes in from behind; the gap between parts is
    such that nobody is reached on the laps without passing. Entries that are refused do not go out.
    """
    outs = _in_order(entries)
    runs = _runs(_parts(outs))
    rolls = [
        _Rolls(part, run, gap)
        for run, (parts, gaps) in enumerate(runs, 1)
        for part, gap in zip(parts, gaps, strict=True)
    ]
    pairs = tuple(_pair(one, other, rolls) for one, other in combinations(outs, 2))
    mixed = len(rolls) > 1
    stays = sorted(name for entry in entries if entry.ladder is None for name in entry.machines)
    return FieldPlan(
        session=entries[0].session,
        closings=closings(outs, _count("first_laps")) if len(outs) > 1 else (),
        mixed=mixed,
        warnings=tuple(_warnings(outs, rolls, pairs)) if mixed else (),
        order=tuple(_order(rolls, stays)) if mixed else (),
        rules=tuple(_rules(outs)) if mixed else (),
        parts=tuple(Part(each.riders, each.machines, each.run, each.after_s) for each in rolls),
        pairs=pairs,
        separate=any(each.run > 1 for each in rolls),
    )


def _count(name: str) -> int:
    return int(field_figures()[name])


def _in_order(entries: Sequence[DayLadder]) -> list[Out]:
    """Those who go out, by the time that the laps without passing take them."""
    outs = [Out(entry, entry.ladder) for entry in entries if entry.ladder is not None]
    laps = min((_count("no_passing_laps"), *(len(out.ladder.laps) for out in outs)))
    return sorted(outs, key=lambda out: (clock_s(out.ladder)[laps], out.machines, out.entry.riders))


def _parts(outs: Sequence[Out]) -> _Parts:
    """Neighbours in the order who ride together: each with every other of its part."""
    parts: _Parts = []
    for out in outs:
        if parts and not any(_apart(out, other) for other in parts[-1]):
            parts[-1].append(out)
        else:
            parts.append([out])
    return parts


def _runs(parts: _Parts) -> list[tuple[_Parts, list[int]]]:
    """Parts that may share a run, with their gaps [s]; a part that no gap keeps apart begins another run."""
    runs: list[tuple[_Parts, list[int]]] = []
    for part in parts:
        if runs:
            together = [*runs[-1][0], part]
            after_s = _gaps_s(together)
            if _keeps_apart(together, after_s):
                runs[-1] = (together, after_s)
                continue
        runs.append(([part], [0]))
    return runs


def _apart(one: Out, other: Out) -> bool:
    """Whether two combinations do not ride together."""
    figures, laps = field_figures(), _count("first_laps")
    return (
        most_closing_kmh(one, other, laps) >= figures["closing_kmh"]
        or gained_share(one, other, laps) >= figures["gained_share"]
        or is_cold_beside_warmers(one, other, figures["warm_gap_k"])
    )


def _gaps_s(parts: Sequence[Sequence[Out]]) -> list[int]:
    """How long after the first each part rolls [s], rounded up: none is reached from behind."""
    after_s: list[int] = []
    step_s = field_figures()["gap_step_s"]
    for number, part in enumerate(parts):
        needs = [rolls + _gap_s(ahead, part) for rolls, ahead in zip(after_s, parts[:number], strict=True)]
        after_s.append(int(step_s * math.ceil(max(needs, default=0.0) / step_s)))
    return after_s


def _gap_s(ahead: Sequence[Out], behind: Sequence[Out]) -> float:
    """The gap [s] that one part needs to another ahead of it, from the last of that to the first of this."""
    laps = _count("no_passing_laps") + 1
    closes = [
        a - b
        for one in ahead
        for other in behind
        for a, b in zip(clock_s(one.ladder)[:laps], clock_s(other.ladder)[:laps], strict=False)
    ]
    return max(closes) + _long_s(ahead) + field_figures()["spare_s"]


def _long_s(part: Sequence[Out]) -> float:
    """How long a part takes to roll past, from its first machine to its last [s]."""
    return (sum(len(out.machines) for out in part) - 1) * field_figures()["between_s"]


def _keeps_apart(parts: Sequence[Sequence[Out]], after_s: Sequence[int]) -> bool:
    """Whether the gaps are sensible and none of those ahead comes round on the laps without passing."""
    if after_s[-1] > field_figures()["most_gap_s"]:
        return False
    return not any(
        _comes_round(one, other, gap - rolls + _long_s(behind))
        for (ahead, rolls), (behind, gap) in combinations(zip(parts, after_s, strict=True), 2)
        for one in ahead
        for other in behind
    )


def _comes_round(ahead: Out, behind: Out, tail_s: float) -> bool:
    """Whether the one ahead, a lap on, is at the tail of those behind before their laps without passing end.

    tail_s [s]: when the last of them rolls after the one ahead.
    """
    laps = _count("no_passing_laps") + 1
    spare_s = field_figures()["spare_s"]
    both = zip(clock_s(ahead.ladder)[1:], clock_s(behind.ladder)[:laps], strict=False)
    return any(a < tail_s + b + spare_s for a, b in both)


def _pair(one: Out, other: Out, rolls: Sequence[_Rolls]) -> Pair:
    ahead, behind = clock_s(one.ladder), clock_s(other.ladder)
    laps = zip(pairwise(ahead), pairwise(behind), strict=False)
    first, second = (next(each for each in rolls if out in each.part) for out in (one, other))
    gap_s, meet = second.after_s - first.after_s, first.run == second.run
    return Pair(
        ahead=one.machines,
        behind=other.machines,
        differs=differences(one, other),
        closing_kmh=most_closing_kmh(one, other, _count("first_laps")),
        gained_s=tuple((b[1] - b[0]) - (a[1] - a[0]) for a, b in laps),
        together_lap=reach_lap(behind, ahead, 0.0),
        behind_lap=reach_lap(ahead, behind, gap_s) if meet and gap_s else None,
        round_lap=round_lap(ahead, behind, gap_s) if meet else None,
    )


def _warnings(outs: Sequence[Out], rolls: Sequence[_Rolls], pairs: Sequence[Pair]) -> Iterator[Sentence]:
    gap_k = field_figures()["warm_gap_k"]
    if any(is_cold_beside_warmers(one, other, gap_k) for one, other in combinations(outs, 2)):
        yield Sentence("field.cold_beside_warmers")
    most = max(closings(outs, _count("first_laps")), key=lambda closing: closing.closing_kmh, default=None)
    if most is not None:
        figures: dict[str, object] = {"number": most.number, "lap": most.lap}
        figures |= {"closing_kmh": math.ceil(most.closing_kmh)}
        figures |= {"faster": _said(most.faster), "slower": _said(most.slower)}
        yield Sentence("field.closing", figures)
    if any(each.run > 1 for each in rolls):
        yield Sentence("field.separate")
    yield from _meetings(rolls, pairs)
    yield from _rules(outs)


def _meetings(rolls: Sequence[_Rolls], pairs: Sequence[Pair]) -> Iterator[Sentence]:
    """Which parts meet although gaps keep them apart at first, and on which lap."""
    part_of = {name: number for number, each in enumerate(rolls) for name in each.machines}
    met: dict[tuple[int, int, str], int] = {}
    for pair in pairs:
        for code, lap in (("behind", pair.behind_lap), ("round", pair.round_lap)):
            key = (part_of[pair.ahead[0]], part_of[pair.behind[0]], code)
            if lap is not None and key[0] != key[1]:
                met[key] = min(lap, met.get(key, lap))
    for (ahead, behind, code), lap in sorted(met.items()):
        names = {"ahead": _said(rolls[ahead].machines), "behind": _said(rolls[behind].machines)}
        yield Sentence(f"field.meets_{code}", {**names, "lap": lap})


def free_from(levels: Iterable[str]) -> int:
    """Return the first lap on which passing is left to the coaches, for riders of these levels together."""
    early = int(catalogue.parameters("planning.margin")["early_laps"].value)
    followed = [catalogue.level(level).coach_laps for level in levels]
    return max(early, _count("no_passing_laps"), *followed) + 1


def _rules(outs: Sequence[Out]) -> Iterator[Sentence]:
    """What the riders of a mixed field are told."""
    yield Sentence("field.no_passing", {"lap": free_from(out.entry.level for out in outs)})
    yield Sentence("field.coach_in_front")


def _order(rolls: Sequence[_Rolls], stays: Sequence[str]) -> Iterator[Sentence]:
    separate = any(each.run > 1 for each in rolls)
    for run, together in groupby(rolls, key=lambda each: each.run):
        parts = tuple(together)
        if separate:
            machines = _said([name for each in parts for name in each.machines])
            yield Sentence("field.own_session", {"run": run, "machines": machines})
        if len(parts) > 1:
            yield from (_goes(each) for each in parts)
    if stays:
        yield Sentence("field.stays", {"machines": _said(stays)})


def _goes(each: _Rolls) -> Sentence:
    machines = _said(each.machines)
    if each.after_s:
        return Sentence("field.then", {"machines": machines, "after_s": each.after_s})
    return Sentence("field.first", {"machines": machines})


def _said(machines: Sequence[str]) -> str:
    return ", ".join(machines)
