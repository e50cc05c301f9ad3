"""Ways of warming for coaches: the planner's verdicts, kept as the worker keeps results."""

from __future__ import annotations

import json
from collections.abc import Sequence
from types import SimpleNamespace

import pytest

from leanladder.domain.day import DayLadder
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.planning import ways as warming
from leanladder.web.briefing import weighing

STEADY = SimpleNamespace(
    name="steady", allowed=True, says=Sentence("ways.why_steady", {"share_pct": 84}), conditions=()
)
WEAVING = SimpleNamespace(
    name="weaving", allowed=False, says=Sentence("ways.no_weaving_doubted"), conditions=()
)


def session_of(entry: DayLadder) -> Session:
    assert entry.ladder is not None
    return entry.ladder.session


def test_what_the_worker_keeps_is_json_and_comes_back_as_sentences(
    larks: Sequence[DayLadder], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def compare(session: Session) -> SimpleNamespace:
        asked.append(session.laps)
        return SimpleNamespace(ways=(STEADY, WEAVING))

    monkeypatch.setattr(warming, "compare", compare)
    kept = json.loads(json.dumps(weighing.compared(session_of(larks[0]))))
    told = weighing.read(kept)
    assert asked == [warming.usual_laps()]
    assert told.told == (("steady", (STEADY.says,)),)
    assert told.never == (("weaving", (WEAVING.says,)),)


def test_ways_without_a_pace_in_common_tell_nothing(
    larks: Sequence[DayLadder], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_session: Session) -> None:
        raise OutsideModelError("ways.no_one_pace", "no pace")

    monkeypatch.setattr(warming, "compare", refuse)
    assert weighing.compared(session_of(larks[0])) == []


def test_they_are_asked_of_the_worker_once(rolled_back: None) -> None:
    assert weighing.weighed(1, 1, "larks 1", "a-digest") is None
    assert weighing.weighed(1, 1, "larks 1", "a-digest") is None
    from django_tasks_db.models import DBTaskResult

    assert DBTaskResult.objects.filter(args_kwargs__args__1="larks 1").count() == 1
