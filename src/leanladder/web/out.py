"""How a run stands towards who looks: given out by which word, void, or as on paper."""

from __future__ import annotations

from typing import NamedTuple
from zoneinfo import ZoneInfo

from leanladder.records import given
from leanladder.web.plans import Worked


class Out(NamedTuple):
    """How a run stands: given out when and by which word, void since when, the word on paper; else empty."""

    at: str = ""
    word: str = ""
    void_since: str = ""
    paper: str = ""


def out(worked: Worked, run_name: str) -> Out:
    """Return how a run stands, by the circuit's clock.

    A word that went void on any card is none on paper, and rain makes paper void as well.
    """
    zone = ZoneInfo(worked.circuit.zone or "UTC")
    some = given.given_of(worked.pk)
    last = given.last_of(some, run_name)
    if last is not None and last.void_at is not None:
        return Out(void_since=f"{last.void_at.astimezone(zone):%H:%M}")
    if last is not None:
        return Out(f"{last.at.astimezone(zone):%H:%M}", last.word)
    rained = given.rained(worked.pk)
    if rained is not None:  # what is on paper is void with it
        return Out(void_since=f"{rained.at.astimezone(zone):%H:%M}")
    void = {each.word for each in some if each.void_at is not None}
    return Out(paper="" if worked.word in void else worked.word)
