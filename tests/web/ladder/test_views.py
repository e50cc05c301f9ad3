"""The ladder's pages: what they show, to whom, and what they say where there is no number."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from django.test import Client
from django.urls import reverse

from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.records.models import Day, Person
from leanladder.web import handing, plans, tries
from leanladder.web.ladder.figures import units_of
from leanladder.web.ladder.pictures import Reader
from leanladder.web.ladder.views import not_tried

OK, REFUSED, MISSING = 200, 403, 404


def at(day: Day, run: str, place: int = 1) -> str:
    return reverse("ladder", args=[day.pk, run, place])


def text(answer: Any) -> str:
    return str(answer.content.decode())


def test_a_run_lists_who_goes_out_on_what(page: Client, day: Day, run: str) -> None:
    answer = page.get(reverse("ladder_run", args=[day.pk, run]))
    worked = plans.worked(day.pk)
    assert worked is not None
    for place, entry in enumerate(plans.run_entries(worked, run), 1):
        assert at(day, run, place) in text(answer)
        assert entry.riders[0] in text(answer)


def test_every_lap_and_turn_is_a_link_with_its_limit_in_words(page: Client, day: Day, run: str) -> None:
    answer = page.get(at(day, run))
    ladder = answer.context["entry"].ladder
    assert answer.status_code == OK
    assert text(answer).count("data-cell=") == sum(len(lap.rungs) for lap in ladder.laps)
    first = ladder.laps[0].rungs[0]
    assert f"Lap 1, turn {first.number}, {first.side}: limit {int(first.cap_bike_deg)}°" in text(answer)


def test_without_a_choice_the_first_laps_least_margin_is_shown(page: Client, day: Day, run: str) -> None:
    answer = page.get(at(day, run))
    assert answer.context["rung"].number == answer.context["entry"].ladder.laps[0].least_margin


def test_an_address_names_the_point(page: Client, day: Day, run: str) -> None:
    answer = page.get(at(day, run), {"lap": "2", "turn": "3"})
    assert (answer.context["lap"].lap, answer.context["rung"].number) == (2, 3)
    assert 'aria-current="true"' in text(answer)
    assert page.get(at(day, run), {"lap": "nonsense", "turn": "900"}).status_code == OK


def test_no_style_and_no_script_stands_in_the_page(page: Client, day: Day, run: str) -> None:
    said = text(page.get(at(day, run)))
    assert not re.search(r"\sstyle=", said)
    assert not re.search(r"<script(?![^>]*src=)", said)
    ids = re.findall(r'\sid="([^"]+)"', said)
    assert len(ids) == len(set(ids))


def test_a_coach_sees_their_own_groups_alone(coach: Client, stranger: Client, day: Day, run: str) -> None:
    assert coach.get(at(day, run)).status_code == OK
    for address in (
        at(day, run),
        reverse("ladder_run", args=[day.pk, run]),
        reverse("ladder_sources", args=[day.pk, run, 1]),
    ):
        assert stranger.get(address).status_code == REFUSED
    assert stranger.post(reverse("try_final", args=[day.pk, run, 1])).status_code == REFUSED


def test_odds_of_a_fall_are_for_the_head_instructor_alone(page: Client, day: Day, run: str) -> None:
    said = text(page.get(at(day, run)))
    assert "A fall here" in said
    assert "One rider on these laps" in said


def test_a_coach_reads_the_band_but_no_odds_of_a_fall(coach: Client, day: Day, run: str) -> None:
    said = text(coach.get(at(day, run)))
    assert "cases computed" in said
    assert "A fall here" not in said
    assert "One rider on these laps" not in said


def test_what_the_day_has_not_is_not_there(page: Client, day: Day, run: str) -> None:
    assert page.get(at(day, "nonsense")).status_code == MISSING
    assert page.get(at(day, run, 99)).status_code == MISSING


def test_without_a_number_the_page_says_why_and_what_to_do(
    page: Client, day: Day, run: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked = plans.worked(day.pk)
    assert worked is not None
    refusal = OutsideModelError(
        "near_dew_point", "The road is near the dew point.", Fault(remedy="--seen-dry")
    )
    entries = tuple(
        type(each)(
            **{name: getattr(each, name) for name in each.__slots__} | {"ladder": None, "refusal": refusal}
        )
        for each in worked.entries
    )
    monkeypatch.setattr(plans, "worked", lambda _pk: worked._replace(entries=entries))
    said = text(page.get(at(day, run)))
    assert "The road is near the dew point. It may be damp." in said
    assert "Wait until the road is warmer or the air drier." in said
    assert "--seen-dry" not in said


def test_until_it_is_worked_out_the_page_says_so(
    page: Client, day: Day, run: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plans, "worked", lambda _pk: None)
    assert 'hx-trigger="every 1s"' in text(page.get(at(day, run)))


def test_sources_are_named_each_once(page: Client, day: Day, run: str) -> None:
    sources = page.get(reverse("ladder_sources", args=[day.pk, run, 1])).context["sources"]
    assert len(sources) == len(set(sources)) > 10


def test_other_units_show_other_figures(page: Client, day: Day, run: str) -> None:
    Person.objects.update(units="imperial")
    said = text(page.get(at(day, run)))
    assert "°F</span>" in said
    assert "psi" in said


def test_without_a_worker_a_try_says_so_and_the_ladder_stands(page: Client, day: Day, run: str) -> None:
    answer = page.get(at(day, run), {"track": "30"})
    assert not answer.context["tried"]
    assert "works out no tries" in text(answer)
    assert tries.ask({"kind": "draft"}) == {"state": "away"}


def test_the_word_is_that_of_the_cards_and_void_once_they_are(page: Client, day: Day, run: str) -> None:
    assert "Word on paper" in text(page.get(at(day, run)))
    given = handing.give_out(day.pk, run, None)
    answer = page.get(at(day, run))
    assert answer.context["out"].word == given.word
    assert "Day word" in text(answer)
    handing.void_all(day.pk, None)
    answer = page.get(at(day, run))
    assert answer.context["out"].void_since
    assert not answer.context["out"].word
    assert "VOID" in text(answer)


def test_a_try_on_too_cold_a_road_says_that_the_coldest_place_counts(day: Day, run: str) -> None:
    worked = plans.worked(day.pk)
    assert worked is not None
    own = plans.run_entries(worked, run)[0].ladder
    assert own is not None
    shaded = replace(own.session.circuit, shaded=np.ones_like(own.session.circuit.shaded, dtype=bool))
    own = replace(own, session=replace(own.session, circuit=shaded))
    said = not_tried({"state": "refused", "code": "road_too_cold"}, own, Reader("en", units_of("metric")))
    assert said[-1] == "The coldest place counts: the road in the shade."


def test_rain_makes_paper_void_where_nothing_was_given_out(page: Client, day: Day, run: str) -> None:
    handing.void_all(day.pk, None)
    answer = page.get(at(day, run))
    assert answer.context["out"].void_since
    assert "Word on paper" not in text(answer)


def test_a_run_that_nobody_rides_says_so(
    page: Client, day: Day, run: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert page.get(reverse("ladder_run", args=[day.pk, "no run"])).status_code == MISSING
    monkeypatch.setattr(plans, "run_entries", lambda *_: ())
    answer = page.get(reverse("ladder_run", args=[day.pk, run]))
    assert answer.status_code == OK
    assert "Nobody goes out" in text(answer)
    assert page.get(at(day, run)).status_code == MISSING
