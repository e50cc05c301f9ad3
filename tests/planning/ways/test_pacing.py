"""One pace for all ways, and what is said where there is none."""

from __future__ import annotations

import pytest
from tests.planning.conftest import Ask

from leanladder.domain.errors import OutsideModelError
from leanladder.planning.tables import Tables
from leanladder.planning.ways import motions, pacing
from leanladder.planning.ways.base import Base, base


@pytest.fixture(scope="module")
def made(ask: Ask, tables: Tables) -> Base:
    return base(ask("regular", laps=1), tables)


def test_the_slowest_ways_own_laps_set_the_pace(made: Base) -> None:
    found = pacing.paced(made)
    time_s = motions.seconds(found.laps[found.by])
    assert found.speed_mps == pytest.approx(pacing.distance_m(made) / time_s)
    for laps in found.laps.values():
        assert motions.seconds(laps) == pytest.approx(time_s, rel=0.002)


def test_a_way_that_no_speed_slows_is_refused_in_plain_words(
    made: Base, monkeypatch: pytest.MonkeyPatch
) -> None:
    def heedless(place: Base, _: float) -> pacing.Laps:
        return motions.steady(place, 25.0)

    monkeypatch.setattr(pacing, "RIDDEN", dict(pacing.RIDDEN) | {"upright": heedless})
    with pytest.raises(OutsideModelError) as caught:
        pacing.paced(made)
    assert caught.value.exit_code == 3
    assert "leanladder plan" in str(caught.value.fault.remedy)
