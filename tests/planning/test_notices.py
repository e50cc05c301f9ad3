"""Warnings: said when they apply, and only then. Limits are taken from the tables, not repeated here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.ladder import Lap
from leanladder.domain.session import Session, Start
from leanladder.domain.weather import Road
from leanladder.planning.ladder import plan
from leanladder.planning.notices import notices
from leanladder.planning.setting import Setting
from leanladder.planning.tables import Tables

Ask = Callable[..., Session]
Place = Callable[..., Setting]
Mirror = Callable[[Circuit], Circuit]


@pytest.fixture(scope="module")
def laps(ask: Ask) -> tuple[Lap, ...]:
    return plan(ask(laps=4)).laps


def said(place: Setting, laps: tuple[Lap, ...]) -> dict[str, list[Mapping[str, object]]]:
    found: dict[str, list[Mapping[str, object]]] = {}
    for remark in notices(place, laps):
        found.setdefault(remark.code, []).append(remark.figures)
    return found


def with_limits(tables: Tables, **limits: float) -> Tables:
    return replace(tables, warn=dict(tables.warn) | limits)


def test_the_seldom_used_side_is_named_with_its_first_turn(
    place: Place, laps: tuple[Lap, ...], demo_circuit: Circuit, tables: Tables
) -> None:
    here = replace(place(laps=4), tables=with_limits(tables, idle_share=0.25))
    (figures,) = said(here, laps)["seldom_used_side"]
    only_left = next(corner for corner in demo_circuit.corners if corner.side == "left")
    assert figures["number"] == only_left.number
    assert figures["side"] == "left"
    assert (figures["count"], figures["total"]) == (1, len(demo_circuit.corners))
    assert figures["gap_m"] == pytest.approx(only_left.same_side_gap_m, abs=5.0)


def test_no_seldom_used_side_where_shoulders_are_alike(
    place: Place, laps: tuple[Lap, ...], tables: Tables
) -> None:
    here = replace(place(laps=4), tables=with_limits(tables, idle_share=0.0, idle_gap_deg=60.0))
    assert "seldom_used_side" not in said(here, laps)


def test_a_side_that_costs_lean_is_named_though_it_is_not_rare(
    place: Place, laps: tuple[Lap, ...], tables: Tables
) -> None:
    costs = [
        sum(rung.cap_bike_deg for rung in laps[-1].rungs if rung.side == side)
        / sum(rung.side == side for rung in laps[-1].rungs)
        for side in ("right", "left")
    ]
    gap_deg = costs[0] - costs[1]
    assert gap_deg > 0.5
    for least, named in ((gap_deg - 0.1, True), (gap_deg + 0.1, False)):
        here = replace(place(laps=4), tables=with_limits(tables, idle_share=0.0, idle_gap_deg=least))
        assert ("seldom_used_side" in said(here, laps)) is named


def test_a_side_that_is_in_its_range_is_not_named(place: Place, laps: tuple[Lap, ...]) -> None:
    warm = tuple(
        replace(lap, rungs=tuple(replace(rung, shoulder_in=True) for rung in lap.rungs)) for lap in laps
    )
    assert "seldom_used_side" in said(place(laps=4), laps)
    assert "seldom_used_side" not in said(place(laps=4), warm)


def test_limits_that_fall_after_warmers_are_said_first(ask: Ask) -> None:
    heated = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
    ladder = plan(ask(level="new", laps=6, start=heated))
    assert ladder.warnings[0].code == "limits_fall"
    assert "limits_fall" not in {notice.code for notice in plan(ask(level="new", laps=6)).warnings}


def test_a_stop_in_a_sun_nobody_told_of_is_said(ask: Ask) -> None:
    for sun_w_m2, warned in ((0.0, True), (500.0, False)):
        asked = ask(laps=1, start=Start("stopped", off_min=10.0, in_sun=True))
        asked = replace(asked, road=replace(asked.road, sun_w_m2=sun_w_m2))
        assert ("sun_unknown" in {notice.code for notice in plan(asked).warnings}) is warned


def test_the_turn_with_least_margin_is_warned_of_only_past_the_usual_lean(
    place: Place, laps: tuple[Lap, ...]
) -> None:
    here = place(laps=4)
    level = here.session.level

    def usual(lean_deg: float) -> Setting:
        habit = replace(level, usual_lean_deg=replace(level.usual_lean_deg, value=lean_deg))
        return replace(here, session=replace(here.session, level=habit))

    assert "least_margin" not in said(usual(5.0), laps)
    warned = said(usual(64.0), laps)["least_margin"]
    assert {figures["number"] for figures in warned} == {lap.least_margin for lap in laps}
    for figures in warned:
        on = [lap.lap for lap in laps if lap.least_margin == figures["number"]]
        assert (figures["from_lap"], figures["to_lap"]) == (min(on), max(on))


def tyres_range(here: Setting, low_c: float, high_c: float) -> Setting:
    def fitted(end: str) -> Any:
        own = getattr(here.session, end)
        tyre = own.tyre
        moved = replace(
            tyre,
            working_low_c=replace(tyre.working_low_c, value=low_c),
            working_high_c=replace(tyre.working_high_c, value=high_c),
        )
        return replace(own, tyre=moved)

    ends: dict[str, Any] = {end: fitted(end) for end in ("front", "rear")}
    return replace(here, session=replace(here.session, **ends))


def test_a_tyre_that_never_reaches_its_range_is_unfit(place: Place, laps: tuple[Lap, ...]) -> None:
    here = place(laps=4)
    assert "tyre_unfit_cold" not in said(tyres_range(here, 9.0, 120.0), laps)
    unfit = said(tyres_range(here, 115.0, 125.0), laps)["tyre_unfit_cold"]
    assert [figures["end"] for figures in unfit] == ["front", "rear"]
    assert all(figures["low_c"] == 115 for figures in unfit)


def test_a_tyre_past_its_range_is_hot(place: Place, laps: tuple[Lap, ...], tables: Tables) -> None:
    here = replace(place(laps=4), tables=with_limits(tables, hot_over_k=0.0, hot_road_c=99.0))
    assert not {"hot_end", "hot_track"} & set(said(tyres_range(here, 9.0, 120.0), laps))
    hot = said(tyres_range(here, 5.0, 10.0), laps)["hot_end"]
    assert [figures["end"] for figures in hot] == ["front", "rear"]
    assert all(figures["from_lap"] == 1 for figures in hot)


def test_a_hot_road_is_said(place: Place, laps: tuple[Lap, ...], tables: Tables) -> None:
    here = replace(place(laps=4), tables=with_limits(tables, hot_road_c=50.0))
    for open_c, warned in ((49.9, False), (50.0, True)):
        road = Road(open_c, 40.0, "measured", 1.0, 800.0)
        at = replace(here, session=replace(here.session, road=road))
        assert ("hot_track" in said(at, laps)) is warned


def test_no_laps_no_warnings_of_turns(place: Place) -> None:
    assert not {"seldom_used_side", "least_margin", "hot_end", "tyre_unfit_cold"} & set(said(place(), ()))


def test_every_warning_has_words(ask: Ask, mirrored: Mirror) -> None:
    for session in (ask(level="new", laps=3), ask(level="new", laps=3, circuit=mirrored(ask().circuit))):
        warnings = plan(session).warnings
        assert warnings
        assert all(notice.text and "{" not in notice.text for notice in warnings)
