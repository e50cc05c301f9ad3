"""What a try does not change: the ladder of the run as it was given out."""

from __future__ import annotations

from leanladder.domain.ladder import Ladder
from leanladder.records import given
from leanladder.web import handing
from leanladder.web.ladder.found import Found
from leanladder.web.ladder.pictures import Reader
from leanladder.web.ladder.table import limit_of

At = tuple[int, int | None]


def moved(found: Found, own: Ladder, shown: Ladder, at: At, reader: Reader) -> list[str]:
    """Return what a try makes of the limit at the point chosen, and what does not change by it."""
    was, now = (None if at[1] is None else limit_of(each, at[0], at[1]) for each in (own, shown))
    if was is None or now is None:
        return [reader.say("ladder.tried_only"), stays(found, at, reader)]
    code = "ladder.try_same" if was == now else "ladder.try_moved"
    return [reader.say(code, now_deg=now, was_deg=was), stays(found, at, reader)]


def stays(found: Found, at: At, reader: Reader) -> str:
    """Return that what is given out stays as it is, with its limit at a point where it has one."""
    current = given.current(found.worked.pk, found.run)
    if current is None:
        return reader.say("ladder.try_none_given")
    entries = handing.handed(current.pk).entries
    theirs = next((each.ladder for each in entries if each.riders == found.entry.riders), None)
    limit_deg = None if theirs is None or at[1] is None else limit_of(theirs, at[0], at[1])
    if limit_deg is None:
        return reader.say("ladder.try_nothing")
    return reader.say("ladder.try_stays", was_deg=limit_deg)
