"""App and worker killed while days are edited and ladders handed out: nothing acknowledged is lost.

A small one of what `make evidence` does a hundred times (docs/evidence/power.md).
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from scripts import power
from scripts.serving import editing, lookup
from scripts.serving.editing import Write

KILLS = 10


@pytest.mark.skipif(sys.platform != "linux", reason="processes are looked up as Linux tells them")
def test_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    told = power.killed(tmp_path, KILLS)
    assert told.faults == []
    assert len(told.since_s) == KILLS
    assert 3 * told.near >= KILLS
    assert told.done


def test_no_figure_is_one_that_a_form_shows() -> None:
    for kind, digits in (("machine", 2), ("rider", 1)):
        figures = [editing.figure(kind, number) for number in range(3_000)]
        assert len(set(figures)) == len(figures)
        assert all(each == round(each, digits + 2) != round(each, digits) for each in figures)


def test_what_may_stand_is_the_last_acknowledged_or_what_was_tried_since() -> None:
    tried = [Write(number, "machine_edit", "machine 1", number / 10) for number in (1, 2, 3)]
    done = [each._replace(done=True) for each in tried]
    assert lookup.expected([tried[0], done[0], tried[1], done[1], tried[2]]) == [done[1], tried[2]]
    assert lookup.expected([tried[0]]) == [tried[0]]
    assert lookup.expected([tried[0], done[0]]) == [done[0]]
