"""Those who share a session: how fast they close up on each other, and who goes out when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leanladder.domain.day import DaySession
from leanladder.domain.sentence import Sentence

Difference = Literal["start", "tyres", "level", "machine", "pressures"]


@dataclass(frozen=True, slots=True)
class Closing:
    """How fast a session closes up at turn number of a lap: closing_kmh [km/h] between planned apex speeds.

    faster and slower: machines by name, those with the most and the least speed there.
    """

    lap: int
    number: int
    closing_kmh: float
    faster: tuple[str, ...]
    slower: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two combinations of a session, by their machines; ahead goes out first, or both together.

    differs: in what. closing_kmh [km/h]: the most between them on the first laps. gained_s [s]: lap by
    lap, by how much ahead takes less time, negative where it takes more. Laps on which one reaches the
    other, None where not in the laps planned: together_lap, where both roll at once, the slower one's
    wheel ahead; behind_lap, behind reaches ahead as they go out; round_lap, ahead comes round to behind.
    """

    ahead: tuple[str, ...]
    behind: tuple[str, ...]
    differs: tuple[Difference, ...]
    closing_kmh: float
    gained_s: tuple[float, ...]
    together_lap: int | None
    behind_lap: int | None
    round_lap: int | None


@dataclass(frozen=True, slots=True)
class Part:
    """Those of a session who go out together, after_s [s] after the first part of their run.

    run counts from 1: more than one where no gap keeps all the parts apart, each then a session of its own.
    """

    riders: tuple[str, ...]
    machines: tuple[str, ...]
    run: int
    after_s: int


@dataclass(frozen=True, slots=True)
class FieldPlan:
    """How a session's field goes out.

    mixed: it falls into parts that do not ride together. warnings are a coach's; order, who goes out when
    by machines, and rules, without a speed, may stand before riders. separate: no gap keeps all the parts
    apart, they need more runs than one.
    """

    session: DaySession
    closings: tuple[Closing, ...]
    mixed: bool
    warnings: tuple[Sentence, ...]
    order: tuple[Sentence, ...]
    rules: tuple[Sentence, ...] = ()
    parts: tuple[Part, ...] = ()
    pairs: tuple[Pair, ...] = ()
    separate: bool = False
