"""Sources by kind."""

from __future__ import annotations

import pytest

from leanladder.web.ladder.origins import by_kind, kind_of


@pytest.mark.parametrize(
    ("source", "kind"),
    [
        ("Parton and Logan 1981, air at 1.5 m", "named"),
        ("judgement: two days like today", "judgement"),
        ("judgement, Gent and Walter 2006 (from memory)", "memory"),
        ("common practice: an hour on", "practice"),
        ("from memory: black rubber", "memory"),
        ("design: at most three things to remember", "rules"),
        ("rule: road at or below this", "rules"),
    ],
)
def test_a_source_says_what_it_is(source: str, kind: str) -> None:
    assert kind_of(source) == kind


def test_every_source_stands_in_one_group() -> None:
    some = ["rule: a", "judgement", "weighbridge"]
    groups = by_kind(some)
    assert [kind for kind, _ in groups] == ["named", "judgement", "rules"]
    assert sorted(each for _, those in groups for each in those) == sorted(some)
