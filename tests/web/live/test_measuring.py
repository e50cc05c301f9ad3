"""Measured now: one tap keeps it, for what rolls next."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client

from leanladder.domain.errors import InputError
from leanladder.records import live as happening
from leanladder.records.history import utc_now
from leanladder.records.models import Day, Person, Run
from leanladder.web.live.clock import zone_of
from leanladder.web.live.figures import CLOUDS, WINDS_MPS, nearest, units_of


def test_one_tap_keeps_a_reading_and_who_took_it(planned: Day, heads: Client) -> None:
    where = f"/days/{planned.pk}/live/measure/"
    for typed in ({"track_c": "11"}, {"cloud": "overcast"}, {"wind": "windy"}, {"seen_dry": "1"}):
        assert heads.post(where, typed).status_code == 302
    known = happening.measured(planned.pk)
    assert (known.track_c, known.cloud, known.wind_mps, known.seen_dry) == (
        11.0,
        1.0,
        WINDS_MPS["windy"],
        True,
    )
    assert {each.by_name for each in happening.all_measured(planned.pk)} == {"Oda Fenn"}


def test_a_run_that_is_late_takes_it_by_name_too(planned: Day, heads: Client) -> None:
    at = utc_now().astimezone(zone_of(planned)) - timedelta(minutes=3)
    Day.objects.filter(pk=planned.pk).update(date=at.date())
    Run.objects.filter(day=planned, name="larks 1").update(at=f"{at:%H:%M}")
    heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "11"})
    assert {each.run_name for each in happening.all_measured(planned.pk)} >= {"", "larks 1"}


def test_a_reading_for_one_run_is_kept_for_it_alone(planned: Day, heads: Client, coachs: Client) -> None:
    where = f"/days/{planned.pk}/live/measure/"
    heads.post(where, {"track_c": "11", "for_run": "larks 1"})
    assert [each.run_name for each in happening.all_measured(planned.pk)] == ["larks 1"]
    coachs.post(where, {"track_c": "20", "for_run": "plovers 1"})
    assert len(happening.all_measured(planned.pk)) == 1


@pytest.mark.parametrize("typed", [{"track_c": "warm"}, {"track_c": "300"}, {}])
def test_what_is_no_reading_is_refused(planned: Day, heads: Client, typed: dict[str, str]) -> None:
    assert heads.post(f"/days/{planned.pk}/live/measure/", typed).status_code == 400
    assert happening.all_measured(planned.pk) == []


def test_readers_of_fahrenheit_type_it(planned: Day, head: Person, heads: Client) -> None:
    head.units = "imperial"
    head.save()
    heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "50"})
    assert happening.measured(planned.pk).track_c == 10.0
    page = heads.get(f"/days/{planned.pk}/live/").content.decode()
    assert "50 °F" in page


def test_the_page_underlines_where_a_figure_came_from(planned: Day, heads: Client) -> None:
    page = heads.get(f"/days/{planned.pk}/live/").content.decode()
    assert 'class="computed"' in page
    heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "11", "for_run": "larks 1"})
    page = heads.get(f"/days/{planned.pk}/live/").content.decode()
    assert '<span class="measured">11 °C</span>' in page


def test_figures_find_their_word_again() -> None:
    for words in (CLOUDS, WINDS_MPS):
        assert all(nearest(figure, words) == word for word, figure in words.items())
    assert nearest(None, CLOUDS) == ""


def test_a_comma_and_a_minus_sign_are_read() -> None:
    assert units_of("metric").typed_c("9,5", "track_c") == 9.5
    assert units_of("metric").typed_c("\N{MINUS SIGN}2", "air_c") == -2.0
    with pytest.raises(InputError):
        units_of("metric").typed_c("9..5", "track_c")
