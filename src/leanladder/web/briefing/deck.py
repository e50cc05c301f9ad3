"""A run's pages for the wall: which there are, and what each says."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import DayLadder
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper.spans import span_kind
from leanladder.planning.paper.stops import stop_sentences
from leanladder.web.briefing import figures, pictures
from leanladder.web.briefing.figures import Sides
from leanladder.web.briefing.keeping import kept
from leanladder.web.briefing.pictures import Paper
from leanladder.web.briefing.reader import Reader
from leanladder.web.briefing.ridden import Fallen, LapHeat, Stops, lap_heat, stops


class Page(NamedTuple):
    """A page by the last part of its address, what it tells of, the tyre family it is about, and its tab."""

    slug: str
    kind: str
    family: str
    tab: Sentence


@dataclass(frozen=True, slots=True)
class Left:
    """What a stop leaves: where, in words, the run's laps filled or not, and for coaches how limits fall."""

    head: str
    words: str
    laps: tuple[bool, ...]
    falls: str = ""


class Drawn(NamedTuple):
    """A drawing for the wall and one for a phone."""

    wide: str
    narrow: str


class Rule(NamedTuple):
    """What coaches do, and for which machines, by their names; empty for all."""

    machines: str
    says: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Slide:
    """A page's message, what else it says, its drawings with a line below, and a table of stops if any."""

    message: Sentence
    more: tuple[Sentence, ...] = ()
    drawings: tuple[Drawn, ...] = ()
    below: str = ""
    stops: tuple[tuple[str, tuple[Left, ...]], ...] = ()
    stops_heads: tuple[str, ...] = ()
    coaches: tuple[Rule, ...] = ()


class Shown(NamedTuple):
    """What a page is drawn from: a run's entries on a circuit, who looks, and the name of run and plan."""

    entries: Sequence[DayLadder]
    circuit: Circuit
    reader: Reader
    key: str


def deck(entries: Sequence[DayLadder]) -> tuple[Page, ...]:
    """Return a run's pages in order; the rules alone where none of its entries has a ladder."""
    rules = Page("rules", "rules", "", _room("tab_rules"))
    if not figures.out(entries):
        return (rules,)
    grips = (
        Page(f"grip-{number}", "grip", family, _room("tab_grip", family=family))
        for number, family in enumerate(figures.families(entries), 1)
    )
    kinds = ("heat", "sides", "stops", "hot")
    return (*grips, *(Page(kind, kind, "", _room(f"tab_{kind}")) for kind in kinds), rules)


def slide(page: Page, shown: Shown) -> Slide:
    """Return what a page says; pages of rules are made from the briefing sheet instead."""
    return SLIDES[page.kind](page, shown)


def _room(code: str, **told: object) -> Sentence:
    return Sentence(f"room.{code}", told)


def _grip(page: Page, shown: Shown) -> Slide:
    told = figures.grip(shown.entries, page.family)
    several = len(figures.families(shown.entries)) > 1
    return Slide(
        _grip_message(told),
        more=(
            *((_room("grip_tyre", family=told.family, end=told.end),) if several else ()),
            _room("grip_card"),
        ),
        drawings=(_drawn(lambda paper: pictures.grip_curve(told, "grip_picture", shown.reader, paper)),),
        below=shown.reader.say("grip_coldest"),
    )


def _drawn(draw: Callable[[Paper], str]) -> Drawn:
    return Drawn(draw(pictures.WALL), draw(pictures.PHONE))


def _grip_message(told: figures.Grip) -> Sentence:
    if told.falls:
        return _room("grip_falls")
    if told.in_range_lap is None:
        return _room("grip_never")
    return _room("grip_always") if told.in_range_lap == 1 else _room("grip_from", lap=told.in_range_lap)


def _heat(_page: Page, shown: Shown) -> Slide:
    told = kept(shown.key, "heat", lambda: lap_heat(shown.entries))
    return Slide(
        heat_message(told),
        more=(_weaving(told), _room(f"heat_out_{told.most_out}")),
        drawings=(_drawn(lambda paper: pictures.heat_bars(told, shown.reader, paper)),),
        below=shown.reader.say("heat_picture", lap=told.lap),
    )


def heat_message(told: LapHeat) -> Sentence:
    """Return the one sentence about a lap's heat: that it leaves, or its greatest way in."""
    return _room("heat_cooling") if told.stored_j < 0.0 else _room(f"heat_{told.most_in}")


def _weaving(told: LapHeat) -> Sentence:
    """Rolling goes on with or without a weave: where it gives most heat, a weave adds little."""
    return _room("heat_weaving" if told.most_in == "rolling" else "heat_no_weaving")


def _sides(_page: Page, shown: Shown) -> Slide:
    told = figures.sides(shown.entries, shown.circuit)
    reader = shown.reader
    drawn = (
        _drawn(lambda paper: pictures.side_rows(told, shown.circuit, reader, paper)),
        _drawn(lambda paper: pictures.side_warmth(told, reader, paper)),
    )
    return Slide(side_message(told), more=_gap(told), drawings=drawn, below=reader.say("sides_picture"))


def side_message(told: Sides) -> Sentence:
    """Return the one sentence about the sides."""
    if told.few is None:
        return _room("sides_alike")
    count, total = min(told.turns), sum(told.turns)
    if told.first is None:
        return _room(f"sides_none_{told.few}")
    if not told.colder:
        return _room(f"sides_few_{told.few}", count=count, total=total)
    if count == 1:
        return _room(f"sides_colder_one_{told.few}", number=told.first.number)
    return _room(f"sides_colder_{told.few}", count=count, total=total)


def _gap(told: Sides) -> tuple[Sentence, ...]:
    if told.first is None:
        return ()
    gap_m = 10 * math.floor(told.first.same_side_gap_m / 10.0)
    return (_room(f"sides_gap_{told.few}", number=told.first.number, gap_m=gap_m),)


def _stops(_page: Page, shown: Shown) -> Slide:
    told, reader = kept(shown.key, "stops", lambda: stops(shown.entries)), shown.reader
    columns = [told.shade, told.sun] if told.sun else [told.shade]
    heads = ("stops_shade", "stops_sun")[: len(columns)]
    return Slide(
        stop_message(told),
        more=tuple(_of_stops(told)),
        below=reader.say("stops_table"),
        stops=tuple(
            (
                reader.say("stops_min", minutes=row[0].minutes),
                tuple(_left(each, told, reader) for each in row),
            )
            for row in zip(*columns, strict=True)
        ),
        stops_heads=tuple(reader.say(head) for head in heads),
        coaches=stop_rules(shown.entries) if reader.figures else (),
    )


def _of_stops(told: Stops) -> Iterator[Sentence]:
    yield Sentence("brief.stop")
    if told.cooling == "some":
        yield _room("stops_some_cool")
    if not told.sun:
        yield _room("stops_no_sun")


def stop_message(told: Stops) -> Sentence:
    """Return the one sentence about stops: what the longest in the shade costs."""
    longest = told.shade[-1]
    if told.cooling == "all":
        return _room("stops_cooling")
    if longest.as_lap == 0:
        return _room("stops_all", minutes=longest.minutes)
    laps = told.lap - longest.as_lap
    if laps < 1:
        return _room("stops_little", minutes=longest.minutes)
    return _room("stops_one" if laps == 1 else "stops_laps", minutes=longest.minutes, laps=laps)


def _left(told: Fallen, stops: Stops, reader: Reader) -> Left:
    of = 0 if stops.cooling == "all" else stops.lap
    words = reader.say("stops_left", lap=told.as_lap, of=of) if told.as_lap else reader.say("stops_less")
    words = words if of else reader.say("stops_colder")
    falls = ""
    if reader.figures:
        most_deg = math.ceil(told.most_deg)
        falls = reader.say("stops_falls", most_deg=most_deg) if most_deg > 0 else reader.say("stops_same")
    return Left(
        reader.say("stops_sun" if told.in_sun else "stops_shade"),
        words,
        tuple(lap <= told.as_lap for lap in range(1, of + 1)),
        falls,
    )


def stop_rules(entries: Sequence[DayLadder]) -> tuple[Rule, ...]:
    """Return what the sheets of a run say after a stop: for which machines, unless it is so for all."""
    found = figures.out(entries)
    kind = span_kind(ladder for _, ladder in found)
    said = [(entry.machines, stop_sentences(ladder, kind)) for entry, ladder in found]
    if all(rules == said[0][1] for _, rules in said):
        return (Rule("", said[0][1]),)
    return tuple(Rule(", ".join(machines), rules) for machines, rules in said)


def _hot(_page: Page, shown: Shown) -> Slide:
    told, reader = figures.hot(shown.entries), shown.reader
    end, lap = told.grip.end, told.from_lap
    message = _room("hot_none") if lap is None else _room(f"hot_{end}", lap=lap)
    more = (_room("hot_past"), *((Sentence("sheet_warning.hot_track"),) if told.hot_track else ()))
    drawn = _drawn(lambda paper: pictures.grip_curve(told.grip, "hot_picture", reader, paper))
    return Slide(message, more=more, drawings=(drawn,), below=reader.say("hot_warmest"))


SLIDES: Mapping[str, Callable[[Page, Shown], Slide]] = {
    "grip": _grip,
    "heat": _heat,
    "sides": _sides,
    "stops": _stops,
    "hot": _hot,
}
