"""The card opened again on a phone, in Chromium, its own time running: what the browser keeps, and counts."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from tests.web.card.conftest import LAPTOP_NOW
from tests.web.card.phones import ASKS_MS, LOOK_MS, MIN_MS, PATIENCE, opened, passes, settle, state

ANSWERED = "performance.getEntriesByType('resource').some(e => e.name.includes('/still') && e.responseEnd)"


def loaded(phone: Any, laptop: Any) -> None:
    """Open the card and wait until the laptop has confirmed it."""
    phone.goto(laptop.address)
    until(phone, ANSWERED)
    settle(phone)


def until(phone: Any, holds: str) -> None:
    """Wait until an expression holds; the page's policy lets the browser itself wait for none."""
    for _ in range(PATIENCE):
        if phone.evaluate(holds):
            return
        phone.wait_for_timeout(LOOK_MS)
    pytest.fail(f"waited in vain for {holds}")


def ages(phone: Any, laptop: Any, minutes: float) -> None:
    """Let the phone's note of the card be so much older: as if that time had passed since."""
    phone.evaluate(
        """([where, ms]) => { const note = JSON.parse(localStorage.getItem(where));
        note.date -= ms; localStorage.setItem(where, JSON.stringify(note)); }""",
        [f"/c/{laptop.address.rpartition('/')[2]}", minutes * MIN_MS],
    )


def away_and_back(phone: Any, laptop: Any, minutes: float = 0.0) -> None:
    """Leave the card for a page beside it, the laptop goes away, and the link is opened again."""
    phone.goto(f"{laptop.address}x")
    if minutes:
        ages(phone, laptop, minutes)
    laptop.away = True
    phone.goto(laptop.address)
    settle(phone)


def test_the_network_gone_right_after_loading_the_card_still_stands(phone: Any, laptop: Any) -> None:
    phone.route("**/still*", lambda route: route.abort())
    phone.goto(laptop.address)
    laptop.away = True
    settle(phone)
    assert state(phone) == "counts"
    assert phone.locator("table").is_visible()
    phone.context.set_offline(True)
    settle(phone)
    assert state(phone) == "counts"


def test_opened_again_without_a_network_its_age_counts(phone: Any, laptop: Any) -> None:
    loaded(phone, laptop)
    away_and_back(phone, laptop, 0.5)
    assert laptop.count("GET /c/7-abcdefghijklmnopqrstuv ") == 0
    assert state(phone) == "counts"
    assert phone.locator("#left").inner_text() == "16"
    phone.goto("about:blank")
    laptop.away = False
    away_and_back(phone, laptop, 6)
    assert state(phone) == "doubt"
    assert "Not confirmed since 09:41" in phone.locator("#main-doubt").inner_text()
    laptop.away = False
    away_and_back(phone, laptop, 11)
    assert state(phone) == "ended"


def test_a_void_card_stays_void_when_opened_again_without_a_network(phone: Any, laptop: Any) -> None:
    loaded(phone, laptop)
    laptop.desk.void()
    phone.evaluate("dispatchEvent(new Event('online'))")
    until(phone, "document.documentElement.dataset.state === 'void'")
    away_and_back(phone, laptop)
    assert state(phone) == "void"
    assert "OTTER" in phone.locator(".new").inner_text()
    assert "Rain or a damp track." in phone.locator("#main-void").inner_text()


def test_rain_after_a_stop_is_told_anew_and_has_to_be_read_anew(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.void()
    laptop.desk.change(why="stopped", new_word=None)
    passes(phone, ASKS_MS)
    assert "The run has stopped." in phone.locator("#main-void").inner_text()
    button = phone.get_by_role("button", name="I have read this")
    button.click()
    settle(phone)
    assert button.is_disabled()
    laptop.desk.change(why="rain", new_word="Badger")
    passes(phone, ASKS_MS)
    assert "Rain or a damp track." in phone.locator("#aloud").inner_text()
    assert "BADGER" in phone.locator(".new").inner_text()
    assert button.is_enabled()


def test_an_old_card_from_the_phones_store_knows_of_the_newer_one(phone: Any, laptop: Any) -> None:
    loaded(phone, laptop)
    laptop.desk.change(given=8)
    phone.goto(f"{laptop.address}?later")
    until(phone, ANSWERED)
    away_and_back(phone, laptop)
    assert state(phone) == "changed"


def test_opened_again_with_the_network_a_void_is_heard_at_once(phone: Any, laptop: Any) -> None:
    loaded(phone, laptop)
    phone.goto(f"{laptop.address}x")
    laptop.desk.void()
    phone.goto(laptop.address)
    until(phone, "document.documentElement.dataset.state === 'void'")


def test_a_clock_set_back_between_two_openings_leaves_it_unconfirmed(phone: Any, laptop: Any) -> None:
    loaded(phone, laptop)
    away_and_back(phone, laptop, -90)
    assert state(phone) == "doubt"


def test_without_a_note_a_page_from_the_store_waits_for_the_laptop(
    browser: Any, laptop: Any, watched: Any
) -> None:
    context = browser.new_context()
    context.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }});"
    )
    phone = watched(context.new_page())
    loaded(phone, laptop)
    away_and_back(phone, laptop)
    assert state(phone) == "doubt"
    laptop.away = False
    phone.evaluate("dispatchEvent(new Event('online'))")
    until(phone, "document.documentElement.dataset.state === 'counts'")
    context.close()


def test_a_page_that_comes_back_whole_counts_the_time_between(phone: Any, laptop: Any) -> None:
    laptop.desk.change(left_s=61.5)
    loaded(phone, laptop)
    phone.evaluate("addEventListener('pageshow', e => { window.whole = e.persisted; })")
    assert phone.locator(".most").inner_text() == "1 min left"
    phone.goto("about:blank")
    laptop.away = True
    phone.wait_for_timeout(2500)
    phone.go_back(wait_until="commit")
    phone.wait_for_timeout(200)
    if not phone.evaluate("window.whole === true"):
        pytest.skip("this browser does not keep pages whole")
    assert phone.locator(".least").is_visible()


def test_an_ended_card_that_still_counts_is_opened_again_with_time_anew(phone: Any, laptop: Any) -> None:
    laptop.desk.change(left_s=1.0)
    loaded(phone, laptop)
    until(phone, "document.documentElement.dataset.state === 'ended'")
    laptop.desk.change(left_s=20 * 60.0, at=LAPTOP_NOW + timedelta(minutes=20))
    phone.evaluate("dispatchEvent(new Event('focus'))")
    settle(phone)
    phone.locator("#again").click()
    phone.wait_for_url("**/c/*?*")
    settle(phone)
    assert state(phone) == "counts"
    assert phone.locator("#left").inner_text() in {"19", "20"}
