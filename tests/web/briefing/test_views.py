"""The pages: for a room without figures and names, for coaches of the group alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from leanladder.records import days, people
from leanladder.records.models import Person
from leanladder.web.briefing import views
from leanladder.web.out import Out
from leanladder.web.plans import Progress, Worked

OK, REDIRECT, MISSING = 200, 302, 404
SLUGS = ("grip-1", "grip-2", "heat", "sides", "stops", "hot", "rules")
Add = Callable[..., Person]


@pytest.fixture(autouse=True)
def _records(rolled_back: None) -> None:
    """Let every test here use the records."""


@pytest.fixture
def add() -> Add:
    """Give a maker of people."""

    def made(name: str, role: str = "head", coach_name: str = "", **own: Any) -> Person:
        person = people.add_person(name, "a long enough word", role, coach_name, by=None)
        for field, value in own.items():
            setattr(person, field, value)
        person.save()
        return person

    return made


@pytest.fixture
def address() -> str:
    """Give where the example day's briefing is."""
    return f"/days/{days.demo_day(None).pk}/briefing/"


@pytest.fixture
def run(address: str) -> Callable[[str], str]:
    """Give where a run's pages are, by its name."""

    def found(name: str) -> str:
        day_pk = int(address.split("/")[2])
        return f"{address}{next(each.pk for each in days.runs(day_pk) if each.name == name)}/"

    return found


@pytest.fixture
def planned(monkeypatch: pytest.MonkeyPatch, worked: Worked) -> None:
    """Let the day be planned already."""
    monkeypatch.setattr(views, "worked", lambda _pk: worked)


@pytest.fixture
def client(add: Add) -> Client:
    """Give a head instructor's browser."""
    browser = Client(SERVER_NAME="localhost")
    browser.force_login(add("oda"))
    return browser


def shown(text: str) -> str:
    """What of a page a room reads: its main part, without tags."""
    main = text[text.index("<main") : text.index("</main>")]
    return re.sub(r"<[^>]+>", " ", main)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_room_reads_no_degrees_no_speeds_and_no_names(
    client: Client, run: Callable[[str], str], planned: None, slug: str
) -> None:
    page = client.get(f"{run('larks 1')}{slug}/")
    assert page.status_code == OK
    told = shown(page.content.decode())
    assert not re.search(r"°|km/h|mph|\bkJ\b|%", told)
    assert not re.search(r"Wren|Sedge|Linnet", told)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_page_has_one_heading_and_nothing_that_the_content_policy_forbids(
    client: Client, run: Callable[[str], str], planned: None, slug: str
) -> None:
    text = client.get(f"{run('plovers 1')}{slug}/").content.decode()
    assert text.count("<h1") == 1
    assert not re.search(r"\sstyle=|\son\w+=|<style", text)
    assert not re.search(r"<script(?![^>]*\ssrc=)", text)
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(("units", "unit", "other"), [("metric", "°C", "°F"), ("imperial", "°F", "°C")])
def test_figures_are_shown_where_a_coach_asks_in_their_units(
    add: Add, run: Callable[[str], str], planned: None, units: str, unit: str, other: str
) -> None:
    browser = Client(SERVER_NAME="localhost")
    browser.force_login(add("jay", units=units))
    for slug in ("grip-1", "sides", "hot"):
        told = shown(browser.get(f"{run('larks 1')}{slug}/?figures=1").content.decode())
        assert unit in told
        assert other not in told
    assert "kJ" in shown(browser.get(f"{run('larks 1')}heat/?figures=1").content.decode())
    assert "°" in shown(browser.get(f"{run('larks 1')}stops/?figures=1").content.decode())


def test_the_word_on_the_wall_is_that_of_the_cards_and_void_once_they_are(
    client: Client, run: Callable[[str], str], planned: None, monkeypatch: pytest.MonkeyPatch, worked: Worked
) -> None:
    at = f"{run('larks 1')}rules/"
    assert "Word on paper" in shown(client.get(at).content.decode())
    monkeypatch.setattr(views, "out", lambda *_: Out(at="09:31", word="curlew"))
    told = shown(client.get(at).content.decode())
    assert "curlew" in told
    assert worked.word not in told
    monkeypatch.setattr(views, "out", lambda *_: Out(void_since="09:40"))
    told = shown(client.get(at).content.decode())
    assert "Void since 09:40" in told
    assert worked.word not in told


def test_pages_lead_to_their_neighbours_and_keep_figures(
    client: Client, run: Callable[[str], str], planned: None
) -> None:
    at = run("larks 1")
    text = client.get(f"{at}heat/?figures=1").content.decode()
    assert f'rel="prev" href="{at}grip-2/?figures=1"' in text
    assert f'rel="next" href="{at}sides/?figures=1"' in text
    first = client.get(f"{at}grip-1/").content.decode()
    assert 'rel="prev"' not in first
    assert 'rel="next"' not in client.get(f"{at}rules/").content.decode()


def test_the_address_of_a_run_and_of_a_page_it_has_not_lead_to_its_first(
    client: Client, run: Callable[[str], str], planned: None
) -> None:
    at = run("larks 1")
    assert client.get(at).headers["Location"] == f"{at}grip-1/"
    assert client.get(f"{at}grip-9/").headers["Location"] == at


def test_a_coach_sees_their_own_groups_runs_alone(
    add: Add, address: str, run: Callable[[str], str], planned: None
) -> None:
    day = days.written_day(int(address.split("/")[2]))
    own = {group["name"]: group["coaches"] for group in day["groups"]}
    browser = Client(SERVER_NAME="localhost")
    browser.force_login(add("jo", "coach", own["larks"][0]))
    listed = browser.get(address).content.decode()
    assert "larks 1" in listed
    for name, coaches in own.items():
        seen = OK if own["larks"][0] in coaches else MISSING
        assert browser.get(f"{run(f'{name} 1')}rules/").status_code == seen


def test_a_coach_of_no_group_is_told_so_and_sees_no_page(
    add: Add, address: str, run: Callable[[str], str], planned: None
) -> None:
    browser = Client(SERVER_NAME="localhost")
    browser.force_login(add("al", "coach", "Nobody Here"))
    assert "No session here is yours" in browser.get(address).content.decode()
    assert browser.get(f"{run('larks 1')}rules/").status_code == MISSING


def test_nobody_sees_a_page_without_signing_in(
    address: str, run: Callable[[str], str], planned: None
) -> None:
    for path in (address, f"{run('larks 1')}heat/"):
        answer = Client(SERVER_NAME="localhost").get(path)
        assert answer.status_code == REDIRECT
        assert answer.headers["Location"].startswith("/login/")


def test_a_boosted_link_loads_the_whole_page(
    client: Client, run: Callable[[str], str], planned: None
) -> None:
    path = f"{run('larks 1')}heat/"
    answer = client.get(path, headers={"HX-Request": "true", "HX-Boosted": "true"})
    assert answer.headers["HX-Redirect"] == path


def test_a_day_that_is_not_planned_yet_says_so(
    client: Client, run: Callable[[str], str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(views, "worked", lambda _pk: None)
    monkeypatch.setattr(views, "progress", lambda _pk: Progress("running", 1, 4))
    text = client.get(f"{run('larks 1')}heat/").content.decode()
    assert "being worked out" in text


def test_a_page_that_waited_is_loaded_whole_once_it_is_there(
    client: Client, run: Callable[[str], str], monkeypatch: pytest.MonkeyPatch, worked: Worked
) -> None:
    path, asks = f"{run('larks 1')}heat/", {"HX-Request": "true"}
    monkeypatch.setattr(views, "worked", lambda _pk: None)
    monkeypatch.setattr(views, "progress", lambda _pk: Progress("running", 1, 4))
    assert "being worked out" in client.get(path, headers=asks).content.decode()
    monkeypatch.setattr(views, "worked", lambda _pk: worked)
    assert client.get(path, headers=asks).headers["HX-Redirect"] == path


@pytest.mark.parametrize("language", ["de", "fr"])
def test_every_page_is_worded_in_each_language(
    add: Add, run: Callable[[str], str], planned: None, language: str
) -> None:
    browser = Client(SERVER_NAME="localhost")
    browser.force_login(add("uwe", language=language))
    for slug in SLUGS:
        page = browser.get(f"{run('plovers 1')}{slug}/?figures=1")
        assert page.status_code == OK
        assert "* " in shown(page.content.decode())
