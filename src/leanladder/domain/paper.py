"""What stands on paper: cards, sheets and lists, before they are typeset and worded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date as calendar_date
from datetime import datetime, time
from typing import Literal

from leanladder.domain.circuit import Circuit, Side
from leanladder.domain.day import SetName
from leanladder.domain.ladder import Ladder, Limit
from leanladder.domain.sentence import Sentence
from leanladder.domain.weather import Origin

RiderWord = Literal["upright", "not_yet", "easy", "usual"]


@dataclass(frozen=True, slots=True)
class Heading:
    """What every sheet of a session says first.

    at, valid_from, valid_until: local times; set_name: which of the evening's sets, None for one made from
    what was measured; day_word: the word that card and board must share; given_out: when it was made.
    """

    school: str
    circuit: str
    date: calendar_date
    session: str
    group: str
    at: time
    valid_from: time
    valid_until: time
    day_word: str
    set_name: SetName | None = None
    head: str | None = None
    given_out: datetime | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """What a column stands for: laps first to last, or minutes from first to last [min]."""

    kind: Literal["laps", "minutes"]
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Fan:
    """What a rider reads for a turn: quarters of the usual lean [0..4], and the word beside them."""

    quarters: int
    word: RiderWord


@dataclass(frozen=True, slots=True)
class CardRow:
    """One turn on a rider's card; a fan is None where the lap begins behind the turn."""

    number: int
    side: Side
    least_margin: bool
    fans: tuple[Fan | None, ...]


@dataclass(frozen=True, slots=True)
class RiderCard:
    """One rider's card for one run: turns down, spans across, at most three things to remember.

    left_out: turns without a row; left_out_as: the turn with one that they may not exceed. respect: the
    turn with least margin and its side, with why in sentences. coach_pace: all of it at the coach's pace.
    """

    heading: Heading
    rider: str
    machine: str
    language: str
    large_print: bool
    spans: tuple[Span, ...]
    rows: tuple[CardRow, ...]
    left_out: tuple[int, ...]
    respect: tuple[int, Side] | None
    respect_why: tuple[Sentence, ...]
    remember: tuple[Sentence, ...]
    coach_pace: bool = False
    left_out_as: int | None = None


@dataclass(frozen=True, slots=True)
class NoCard:
    """What a rider is handed where there is no number: why, and what to do, in sentences."""

    heading: Heading
    rider: str
    machine: str
    language: str
    large_print: bool
    why: tuple[Sentence, ...]
    steps: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class CoachCell:
    """A turn in a span: cap_deg [deg, bike lean, whole] and speed_kmh [km/h], rounded down; why.

    rubber_c [degC]: the colder tyre's shoulder on arrival; hot: it is past its range.
    """

    cap_deg: int
    speed_kmh: int
    rubber_c: float
    limited_by: Limit
    least_margin: bool
    hot: bool = False


@dataclass(frozen=True, slots=True)
class CoachRow:
    """One turn on a coach's sheet; a cell is None where the lap begins behind the turn."""

    number: int
    name: str | None
    side: Side
    cells: tuple[CoachCell | None, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a sheet's head: a label by code, its value in words, origin and a note below it."""

    label: str
    value: str
    origin: Origin
    note: Sentence | None = None


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight long enough to close up on: the turns around it and its length_m [m]."""

    from_number: int
    to_number: int
    length_m: float


@dataclass(frozen=True, slots=True)
class PressureRow:
    """Cold pressures as the gauge should read them [bar], for machines alike.

    None where none is advised; minimum_* as the tyre's maker states, None where nobody typed it in;
    set_c [degC] of the tyre while setting; offset_bar [bar] allowed for; home_* before riding home.
    """

    machines: tuple[str, ...]
    front_bar: float | None
    rear_bar: float | None
    minimum_front_bar: float | None
    minimum_rear_bar: float | None
    set_c: float
    offset_bar: float | None = None
    home_front_bar: float | None = None
    home_rear_bar: float | None = None
    notes: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class CoachSheet:
    """A coach's page for one combination of a session.

    riders, machines by name; figures for its head; rows of turns by spans; least: the turn with least
    margin with why; checks before the wheels roll; stops: what to do after a stop; field_notes: who goes
    out when, where the session mixes.
    """

    heading: Heading
    coaches: tuple[str, ...]
    language: str
    level: str
    riders: tuple[str, ...]
    machines: tuple[str, ...]
    circuit: Circuit
    ladder: Ladder
    figures: tuple[Figure, ...]
    spans: tuple[Span, ...]
    rows: tuple[CoachRow, ...]
    least: tuple[int, Side] | None
    least_why: tuple[Sentence, ...]
    straights: tuple[Straight, ...]
    pressures: tuple[PressureRow, ...]
    checks: tuple[Sentence, ...]
    stops: tuple[Sentence, ...]
    warnings: tuple[Sentence, ...]
    field_notes: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class NoSheet:
    """A coach's page for a combination or session without a number: why, what to do, when to go back."""

    heading: Heading
    coaches: tuple[str, ...]
    language: str
    riders: tuple[str, ...]
    machines: tuple[str, ...]
    why: tuple[Sentence, ...]
    steps: tuple[Sentence, ...]
    back: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Briefing:
    """What is shown to a group before it goes out: no degrees, no speeds, no names of riders.

    fans: turn by turn on the first span, the most careful of the group; respect as on the cards;
    order: who goes out when, by machines; rules and remember in sentences.
    """

    heading: Heading
    coaches: tuple[str, ...]
    language: str
    circuit: Circuit
    span: Span
    rows: tuple[CardRow, ...]
    respect: tuple[int, Side] | None
    respect_why: tuple[Sentence, ...]
    order: tuple[Sentence, ...]
    rules: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class ListPart:
    """A part of a list: its head by wording code, and what there is to tick."""

    head: str
    lines: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class DayList:
    """A list for the head instructor: the evening before, or the morning, with pressures where any."""

    kind: Literal["evening", "morning"]
    school: str
    circuit: str
    date: calendar_date
    language: str
    parts: tuple[ListPart, ...]
    pressures: tuple[PressureRow, ...] = ()


@dataclass(frozen=True, slots=True)
class SetRow:
    """One session of the set choice: the least track and air [degC, whole] each set is for, None: no set."""

    session: str
    at: time
    needs: tuple[tuple[SetName, int | None, int | None], ...]


@dataclass(frozen=True, slots=True)
class SetChoice:
    """Which of the evening's sets counts at the circuit, session by session, and each set's day word."""

    school: str
    circuit: str
    date: calendar_date
    language: str
    rows: tuple[SetRow, ...]
    words: tuple[tuple[SetName, str], ...]


@dataclass(frozen=True, slots=True)
class Procedure:
    """A page of words without a number: on a wet or drying track, or away from a closed course."""

    kind: Literal["wet", "drying", "open_road"]
    language: str
    parts: tuple[ListPart, ...]


@dataclass(frozen=True, slots=True)
class RiderCode:
    """What one rider scans to open their card: rider and machine by name, code as SVG."""

    rider: str
    machine: str
    code: str


@dataclass(frozen=True, slots=True)
class CodeSheet:
    """A group's codes, to be cut apart; address: where the cards are, to be typed where no code is read."""

    school: str
    date: calendar_date
    group: str
    language: str
    address: str
    codes: tuple[RiderCode, ...]


# What stands on the pages of one file, all of one kind.
Pages = (
    DayList
    | SetChoice
    | Procedure
    | tuple[CoachSheet | NoSheet, ...]
    | tuple[Briefing, ...]
    | tuple[RiderCard | NoCard, ...]
)


@dataclass(frozen=True, slots=True)
class Document:
    """One file of a day's paper: its path in the folder of all of them, and what stands on its pages."""

    path: str
    pages: Pages
