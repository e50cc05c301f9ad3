"""Riders' links: whose, how they reach phones, taken back and made anew."""

from __future__ import annotations

import pytest
from django.test import Client, RequestFactory

from leanladder.records import links
from leanladder.records.models import Day
from leanladder.web.live import cards


def test_every_rider_has_a_code_and_a_link_that_counts(planned: Day, heads: Client) -> None:
    page = heads.get(f"/days/{planned.pk}/live/cards/").content.decode()
    kept = links.links(planned.pk)
    assert page.count('class="qr"') == len(kept) > 0
    assert all(links.token(each) in page for each in kept)
    heads.get(f"/days/{planned.pk}/live/cards/")
    assert links.links(planned.pk) == kept


def test_a_link_is_taken_back_and_made_anew(planned: Day, heads: Client) -> None:
    heads.get(f"/days/{planned.pk}/live/cards/")
    old = links.links(planned.pk)[0]
    token = links.token(old)
    assert heads.post(f"/days/{planned.pk}/live/cards/anew/{old.pk}/").status_code == 302
    assert links.link_of(token) is None
    new = links.link_for(planned.pk, old.rider_name)
    assert new.pk != old.pk
    assert links.link_of(links.token(new)) == new


def test_a_coach_has_their_own_riders_links_alone(planned: Day, heads: Client, coachs: Client) -> None:
    heads.get(f"/days/{planned.pk}/live/cards/")
    page = coachs.get(f"/days/{planned.pk}/live/cards/").content.decode()
    shown = [each for each in links.links(planned.pk) if links.token(each) in page]
    hidden = [each for each in links.links(planned.pk) if links.token(each) not in page]
    assert shown
    assert hidden
    assert coachs.post(f"/days/{planned.pk}/live/cards/anew/{hidden[0].pk}/").status_code == 404
    assert coachs.post(f"/days/{planned.pk}/live/cards/anew/{shown[0].pk}/").status_code == 302


def test_a_sheet_is_of_one_group(planned: Day, heads: Client, coachs: Client) -> None:
    larks, plovers = planned.groups.order_by("position")
    page = heads.get(f"/days/{planned.pk}/live/cards/{larks.pk}/").content.decode()
    assert page.count('class="qr"') == larks.places.count()
    assert coachs.get(f"/days/{planned.pk}/live/cards/{plovers.pk}/").status_code == 404


@pytest.mark.parametrize(
    ("host", "reached"),
    [
        ("localhost:8000", "192.0.2.7:8000"),
        ("127.0.0.1", "192.0.2.7"),
        ("paddock.test:8", "paddock.test:8"),
    ],
)
def test_a_code_never_leads_to_the_phone_itself(
    monkeypatch: pytest.MonkeyPatch, settings_of: None, host: str, reached: str
) -> None:
    monkeypatch.setattr(cards, "own_address", lambda: "192.0.2.7")
    assert cards.host_of(RequestFactory(HTTP_HOST=host).get("/")) == reached


@pytest.fixture
def settings_of(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the app answer to the names that these tests use."""
    from django.conf import settings

    monkeypatch.setattr(settings, "ALLOWED_HOSTS", ["*"])


def test_a_code_has_no_style_of_its_own() -> None:
    svg = cards.code_svg("http://192.0.2.7/c/1-abc")
    assert "style" not in svg
    assert svg.startswith("<svg")
