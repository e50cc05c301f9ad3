"""From an address to a combination's ladder, for who may see it."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpRequest

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.web import mine, plans
from leanladder.web.frame import language_of
from leanladder.web.ladder.figures import units_of
from leanladder.web.ladder.pictures import Reader


class NotTheirsError(Exception):
    """Someone asks for a group that is not theirs."""


@dataclass(frozen=True, slots=True)
class Found:
    """A combination: the day it is of, its run's name, its place among the run's (from 1)."""

    worked: plans.Worked
    run: str
    place: int
    entry: DayLadder

    @property
    def question(self) -> dict[str, object]:
        """What tells the worker which one is meant."""
        return {"day": self.worked.pk, "digest": self.worked.digest, "run": self.run, "place": self.place - 1}


def of_run(request: HttpRequest, worked: plans.Worked, run: str) -> tuple[DayLadder, ...]:
    """Return a run's combinations, none where nobody rides; raises NotTheirsError, Http404 for no run."""
    if not any(each.name == run for each in worked.day.sessions):
        raise Http404
    if run not in {each.name for each in mine.runs_for(mine.person_of(request), worked.day)}:
        raise NotTheirsError
    return plans.run_entries(worked, run)


def combination(request: HttpRequest, worked: plans.Worked, run: str, place: int) -> Found:
    """Return a run's combination by its place from 1; raises as of_run does."""
    entries = of_run(request, worked, run)
    if not 1 <= place <= len(entries):
        raise Http404
    return Found(worked, run, place, entries[place - 1])


def point(ladder: Ladder, lap: str | None, turn: str | None) -> tuple[Lap, Rung | None]:
    """Return the lap and turn that an address names, else the first lap's with least margin."""
    chosen = next((each for each in ladder.laps if str(each.lap) == lap), ladder.laps[0])
    rungs = {str(rung.number): rung for rung in chosen.rungs}
    return chosen, rungs.get(turn or "") or rungs.get(str(chosen.least_margin))


def reader_of(request: HttpRequest) -> Reader:
    """Return who reads."""
    units = getattr(getattr(request, "user", None), "units", "metric")
    return Reader(language_of(request), units_of(units))
