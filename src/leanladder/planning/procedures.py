"""What is done where there is no number: words, never a figure.

All of it is common practice of riding schools: no published source.
"""

from __future__ import annotations

from typing import Literal

from leanladder.domain.paper import ListPart, Procedure
from leanladder.domain.sentence import Sentence

Kind = Literal["wet", "drying", "open_road"]
_Parts = tuple[tuple[str, tuple[str, ...]], ...]

_DECIDES = ("wet.head_decides", "wet.nobody_has_to", "wet.cards_void", "wet.doubt_stays")
_STOP = ("wet.hand_up", "wet.slide", "wet.worse", "wet.one_end")
# Common practice: who decides, what is looked at first, how a group goes out, when it comes in.
_WET: _Parts = (
    ("procedure.decides", _DECIDES),
    (
        "procedure.before",
        (
            "wet.look",
            "wet.water",
            "wet.paint",
            "wet.show",
            "wet.maker",
            "wet.slicks",
            "wet.warmers",
            "wet.small",
        ),
    ),
    (
        "procedure.out",
        (
            "wet.coach_front",
            "wet.upright",
            "wet.gentle",
            "wet.distance",
            "wet.off_paint",
            "wet.around_water",
            "wet.no_heat",
            "wet.talk",
        ),
    ),
    ("procedure.stop", _STOP),
)
# Common practice: what dries last, and how a group keeps out of it.
_DRYING: _Parts = (
    ("procedure.decides", ("drying.not_dry", *_DECIDES)),
    (
        "procedure.before",
        (
            "drying.look_again",
            "drying.dark",
            "drying.last",
            "drying.paint_last",
            "drying.beside",
            "drying.cold",
            "wet.maker",
            "wet.slicks",
        ),
    ),
    (
        "procedure.out",
        (
            "wet.coach_front",
            "wet.upright",
            "drying.on_line",
            "drying.next_turn",
            "drying.across",
            "drying.brake_dry",
            "wet.off_paint",
            "wet.no_heat",
        ),
    ),
    ("procedure.stop", ("drying.wetter", *_STOP[:2], _STOP[3])),
)
# Common practice: what riders are told before a tour in the mountains in spring.
_OPEN_ROAD: _Parts = (
    (
        "procedure.traffic",
        ("open_road.rules", "open_road.sight", "open_road.own_side", "open_road.own_ride"),
    ),
    (
        "procedure.cold",
        (
            "open_road.start",
            "open_road.first_bends",
            "open_road.lunch",
            "open_road.middle",
            "open_road.no_heat",
            "open_road.maker",
        ),
    ),
    (
        "procedure.bends",
        (
            "open_road.shade",
            "open_road.meltwater",
            "open_road.grit",
            "open_road.slippery",
            "open_road.bridges",
            "open_road.one_bend",
        ),
    ),
    ("procedure.park", ("open_road.weather", "open_road.tired", "open_road.doubt")),
)
_PARTS: dict[Kind, _Parts] = {"wet": _WET, "drying": _DRYING, "open_road": _OPEN_ROAD}
# Common practice: nobody goes back to numbers by the look of one turn, or on yesterday's cards.
_BACK = (
    "back.two_people",
    "back.line",
    "back.exits",
    "back.measured",
    "back.computed",
    "back.new_cards",
    "back.old_void",
    "back.first_run",
)
# The few that must be on a page that also says why there is no number.
_STEPS: dict[Kind, tuple[str, ...]] = {
    "wet": (
        "wet.head_decides",
        "wet.look",
        "wet.coach_front",
        "wet.upright",
        "wet.gentle",
        "wet.off_paint",
        "wet.around_water",
        "wet.slide",
    ),
    "drying": (
        "wet.head_decides",
        "drying.look_again",
        "wet.coach_front",
        "wet.upright",
        "drying.on_line",
        "drying.across",
        "drying.last",
        "drying.wetter",
    ),
    "open_road": (
        "open_road.rules",
        "open_road.first_bends",
        "open_road.shade",
        "open_road.meltwater",
        "open_road.grit",
        "open_road.no_heat",
    ),
}
# The same for one rider's pocket: nothing that is for coaches to do.
_RIDER_STEPS: dict[Kind, tuple[str, ...]] = {
    "wet": (
        "wet.nobody_has_to",
        "wet.coach_front",
        "wet.upright",
        "wet.gentle",
        "wet.off_paint",
        "wet.hand_up",
    ),
    "drying": (
        "wet.nobody_has_to",
        "wet.coach_front",
        "wet.upright",
        "drying.on_line",
        "drying.across",
        "wet.hand_up",
    ),
    "open_road": _STEPS["open_road"],
}


def procedure(kind: Kind, language: str) -> Procedure:
    """Return the page of words for a wet or drying track, or for the open road, in a language."""
    parts = tuple(ListPart(head, _sentences(codes)) for head, codes in _PARTS[kind])
    return Procedure(kind, language, (*parts, ListPart("procedure.back", back(kind))))


def steps(kind: Kind) -> tuple[Sentence, ...]:
    """Return what a group does, in few sentences, on a coach's page that says why there is no number."""
    return _sentences(_STEPS[kind])


def rider_steps(kind: Kind) -> tuple[Sentence, ...]:
    """Return what a rider does, in six sentences at most, on a card without a number."""
    return _sentences(_RIDER_STEPS[kind])


def back(kind: Kind) -> tuple[Sentence, ...]:
    """Return all that must be so before there are numbers again; off a closed course there are none."""
    return _sentences(("back.closed",) if kind == "open_road" else _BACK)


def _sentences(codes: tuple[str, ...]) -> tuple[Sentence, ...]:
    return tuple(Sentence(code) for code in codes)
