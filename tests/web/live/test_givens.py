"""All that was given out, each as it was."""

from __future__ import annotations

from django.test import Client

from leanladder.records import live as happening
from leanladder.records.models import Day, Person
from leanladder.web import handing


def test_the_list_says_word_when_by_whom_and_why_void(planned: Day, head: Person, heads: Client) -> None:
    first = handing.give_out(planned.pk, "larks 1", head)
    second = handing.give_out(planned.pk, "larks 1", head, "one more rider")
    handing.void_all(planned.pk, head)
    page = heads.get(f"/days/{planned.pk}/given/").content.decode()
    assert page.index(second.word) < page.index(first.word)
    for said in ("Oda Fenn", "one more rider", "Given out anew.", "Rain or a damp track."):
        assert said in page


def test_it_opens_as_given_and_says_what_changed(planned: Day, head: Person, heads: Client) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    where = f"/days/{planned.pk}/given/{given.pk}/"
    page = heads.get(where).content.decode()
    assert "Nothing has changed since." in page
    assert all(rider in page for rider, _ in given.riders)
    cells = page.count("<svg")
    happening.measure(planned.pk, head, run_name="larks 1", track_c=20.0)
    after = heads.get(where).content.decode()
    assert "Something was measured since." in after
    assert after.count("<svg") == cells > 0


def test_drawings_of_several_combinations_keep_their_names_apart(
    planned: Day, head: Person, heads: Client
) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    page = heads.get(f"/days/{planned.pk}/given/{given.pk}/").content.decode()
    ids = [part.partition('"')[0] for part in page.split(' id="')[1:]]
    assert len(ids) == len(set(ids))


def test_an_empty_list_says_what_next(planned: Day, heads: Client) -> None:
    assert "Nothing was given out yet." in heads.get(f"/days/{planned.pk}/given/").content.decode()


def test_a_coach_opens_their_own_runs_alone(planned: Day, head: Person, coachs: Client) -> None:
    own = handing.give_out(planned.pk, "larks 1", head)
    other = handing.give_out(planned.pk, "plovers 1", head)
    page = coachs.get(f"/days/{planned.pk}/given/").content.decode()
    assert own.word in page
    assert other.word not in page
    assert coachs.get(f"/days/{planned.pk}/given/{own.pk}/").status_code == 200
    assert coachs.get(f"/days/{planned.pk}/given/{other.pk}/").status_code == 403
    assert coachs.get(f"/days/{planned.pk + 1}/given/{own.pk}/").status_code == 404
