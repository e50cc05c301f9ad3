"""What was handed out beside what would be now, rider by rider: refused, lower, higher."""

from __future__ import annotations

from leanladder.domain.day import DayLadder

SHOWN_DEG = 1.0  # a limit that moved by less is told as unchanged
SAME_DEG = 0.01  # two limits no further apart are one: what counts as no higher

Entries = tuple[DayLadder, ...]
Turn = tuple[int, int]


def refused(entry: DayLadder, present: Entries) -> bool:
    """Return whether there was a number for a combination and is none now for some of its riders."""
    others = _of_same_riders(entry, present)
    return entry.ladder is not None and (not others or any(other.ladder is None for other in others))


def moved(was: Entries, is_now: Entries) -> tuple[int, int]:
    """Return how many turns of laps lie lower now for somebody, and how many higher, by SHOWN_DEG or more."""
    lower: set[tuple[int, int, int]] = set()
    higher: set[tuple[int, int, int]] = set()
    for at, entry in enumerate(was):
        for other in _of_same_riders(entry, is_now):
            moves = _moves_deg(entry, other)
            lower |= {(at, *turn) for turn, move_deg in moves.items() if move_deg <= -SHOWN_DEG}
            higher |= {(at, *turn) for turn, move_deg in moves.items() if move_deg >= SHOWN_DEG}
    return len(lower), len(higher)


def rises(was: Entries, is_now: Entries, *, restart: bool = False) -> bool:
    """Return whether any limit of now lies above what its riders were given, or is one where they had none.

    By lap and turn, however little: small steps add up. restart: laps begin anew on tyres that have cooled,
    so each is held against the most that any lap allowed at its turn.
    """
    return any(
        _rises(entry, other, restart=restart) for entry in was for other in _of_same_riders(entry, is_now)
    )


def _rises(entry: DayLadder, other: DayLadder, *, restart: bool) -> bool:
    if other.ladder is None:
        return False
    before, present = _caps_deg(entry), _caps_deg(other)
    if not before:
        return True
    if restart:
        most: dict[int, float] = {}
        for (_, turn), cap_deg in before.items():
            most[turn] = max(cap_deg, most.get(turn, 0.0))
        return any(cap_deg > most.get(turn, cap_deg) + SAME_DEG for (_, turn), cap_deg in present.items())
    return any(cap_deg > before.get(at, cap_deg) + SAME_DEG for at, cap_deg in present.items())


def _of_same_riders(entry: DayLadder, present: Entries) -> Entries:
    """The combinations of now that its riders are in: more than one, where one of them has another level."""
    return tuple(each for each in present if set(each.riders) & set(entry.riders))


def _moves_deg(entry: DayLadder, other: DayLadder) -> dict[Turn, float]:
    """By how much each limit lies higher [deg], by lap and turn, of those that both have."""
    was, present = _caps_deg(entry), _caps_deg(other)
    return {turn: present[turn] - cap_deg for turn, cap_deg in was.items() if turn in present}


def _caps_deg(entry: DayLadder) -> dict[Turn, float]:
    if entry.ladder is None:
        return {}
    return {(lap.lap, rung.number): rung.cap_bike_deg for lap in entry.ladder.laps for rung in lap.rungs}
