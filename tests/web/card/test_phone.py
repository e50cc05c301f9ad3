"""The card on a phone, in Chromium: what it counts by, whom it believes."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from tests.web.card.phones import ASKS_MS, LOOK_MS, MIN_MS, opened, passes, settle, sleeps, state


def test_a_fresh_card_counts_and_asks_every_ten_seconds(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    assert state(phone) == "counts"
    assert phone.locator("#left").inner_text() == "17"
    before = laptop.count("/still")
    passes(phone, 3 * MIN_MS)
    assert phone.locator("#left").inner_text() == "14"
    assert laptop.count("/still") - before == 3 * MIN_MS // ASKS_MS
    assert all("/still?given=7" in each for each in laptop.requests[1:])
    assert laptop.desk.asked == [("seen", 7)] * laptop.count("/still")


def test_the_phone_speaks_of_the_laptops_clock_not_of_its_own(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    assert phone.locator("#at").inner_text() == "09:41"
    laptop.desk.change(at=laptop.desk.found_now.state.at.replace(minute=43))
    passes(phone, ASKS_MS)
    assert phone.locator("#at").inner_text() == "09:43"


def test_unanswered_for_a_minute_it_is_not_confirmed_and_then_it_is_again(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.away = True
    passes(phone, 50_000)
    assert state(phone) == "counts"
    passes(phone, 20_000)
    assert state(phone) == "doubt"
    said = phone.locator("#main-doubt").inner_text()
    assert "Not confirmed since 09:41" in said
    assert "is the word still HERON?" in said
    assert "Not confirmed since 09:41" in phone.locator("#said").text_content()
    assert phone.locator("table").is_visible()
    laptop.away = False
    passes(phone, ASKS_MS)
    assert state(phone) == "counts"


def test_one_question_at_a_time_given_up_after_five_seconds(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    open_now: list[str] = []
    most: list[int] = []

    def hold(route: Any) -> None:
        open_now.append(route.request.url)
        most.append(len(open_now))

    phone.route("**/still*", hold)
    phone.on("requestfailed", lambda _: open_now.clear())
    for _ in range(16):
        phone.clock.run_for(2_500)
        phone.wait_for_timeout(5 * LOOK_MS)
    assert len(most) == 4
    assert set(most) == {1}


def test_an_answer_from_before_a_sleep_confirms_nothing_after_it(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    held: list[Any] = []

    def hold(route: Any) -> None:
        held.append(route)

    phone.route("**/still*", hold)
    phone.clock.run_for(ASKS_MS)
    phone.wait_for_timeout(5 * LOOK_MS)
    sleeps(phone, 2 * MIN_MS)
    answer = json.dumps({"state": "counts", "given": 7, "left_s": 900, "at": "09:41"})
    held[0].fulfill(body=answer, content_type="application/json")
    settle(phone)
    assert state(phone) == "doubt"


def test_void_is_shown_and_heard_at_once_and_for_good(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.void()
    passes(phone, ASKS_MS)
    assert state(phone) == "void"
    seen = phone.locator("main").inner_text()
    for words in (
        "VOID",
        "Rain or a damp track. Your card does not count any more.",
        "Stay in the pit lane.",
        "OTTER",
        "Void since 09:52, head instructor R. Fell.",
    ):
        assert words in seen
    assert "Lap 1" not in seen
    aloud = phone.locator("#aloud")
    assert aloud.get_attribute("aria-live") == "assertive"
    assert "Rain or a damp track. Your card does not count any more." in aloud.text_content()
    assert phone.title() == "VOID"
    laptop.desk.change(state="counts")
    passes(phone, 2 * ASKS_MS)
    assert state(phone) == "void"


def test_that_it_was_read_is_sent_until_it_arrives(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.void()
    passes(phone, ASKS_MS)
    laptop.away = True
    phone.get_by_role("button", name="I have read this").click()
    settle(phone)
    assert phone.get_by_text("Not sent yet.").is_visible()
    assert ("read", 7) not in laptop.desk.asked
    laptop.away = False
    passes(phone, 2 * ASKS_MS)
    assert laptop.desk.asked.count(("read", 7)) == 1
    assert phone.locator("#sent").is_visible()
    assert not phone.locator("#unsent").is_visible()


def test_a_new_card_makes_the_old_one_void_and_is_a_press_away(phone: Any, laptop: Any, card: Any) -> None:
    opened(phone, laptop)
    new = card(heading=replace(card().heading, day_word="walnut"))
    laptop.desk.found_now = replace(laptop.desk.found_now, card=new)
    laptop.desk.change(given=8)
    passes(phone, ASKS_MS)
    assert state(phone) == "changed"
    assert "WALNUT" in phone.locator(".new").inner_text()
    phone.get_by_role("link", name="Open my new card").click()
    phone.wait_for_url("**/c/*?*")
    settle(phone)
    assert state(phone) == "counts"
    assert "WALNUT" in phone.locator("header").inner_text()


def test_an_earlier_card_left_open_hears_of_rain_and_has_it_read(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.change(given=8)
    passes(phone, ASKS_MS)
    assert state(phone) == "changed"
    laptop.desk.void()
    passes(phone, ASKS_MS)
    assert state(phone) == "void"
    assert "OTTER" in phone.locator(".new").inner_text()
    phone.get_by_role("button", name="I have read this").click()
    settle(phone)
    assert ("read", 8) in laptop.desk.asked


def test_a_card_opened_early_ends_and_may_be_opened_again(phone: Any, laptop: Any) -> None:
    laptop.desk.change(left_s=20 * 60.0, early=True)
    opened(phone, laptop)
    assert phone.get_by_text("Open it again just before you roll.").is_visible()
    phone.clock.fast_forward(20 * MIN_MS)
    passes(phone, ASKS_MS)
    assert state(phone) == "ended"
    assert phone.locator("#again").is_visible()
    laptop.away = True
    passes(phone, ASKS_MS)
    assert not phone.locator("#again").is_visible()


def test_an_ended_card_that_counts_no_longer_is_not_opened_again(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    phone.clock.fast_forward(18 * MIN_MS)
    laptop.desk.change(state="ended", left_s=0.0)
    passes(phone, ASKS_MS)
    assert state(phone) == "ended"
    assert not phone.locator("#again").is_visible()


def test_a_card_ends_by_what_has_passed_and_stays_ended(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    phone.clock.fast_forward(17 * MIN_MS)
    phone.clock.run_for(1000)
    settle(phone)
    assert state(phone) == "counts"
    assert phone.locator(".least").is_visible()
    phone.clock.fast_forward(10_000)
    settle(phone)
    assert state(phone) == "ended"
    said = phone.locator("main").inner_text()
    assert "This card has ended." in said
    assert "Ask your coach." in said
    assert "easy" not in said
    passes(phone, 2 * ASKS_MS)
    assert state(phone) == "ended"


def test_an_ended_card_still_hears_that_it_is_void(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    phone.clock.fast_forward(18 * MIN_MS)
    laptop.desk.void()
    passes(phone, ASKS_MS)
    assert state(phone) == "void"


def test_no_card_counts_for_more_than_twenty_minutes_whatever_the_laptop_says(
    phone: Any, laptop: Any
) -> None:
    laptop.desk.change(left_s=3 * 3600.0)
    opened(phone, laptop)
    assert phone.locator("#left").inner_text() in {"19", "20"}
    for _ in range(20):
        phone.clock.fast_forward(MIN_MS)
        settle(phone)
    assert state(phone) == "ended"


def test_the_laptop_may_shorten_a_card_and_never_lengthen_it(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.change(left_s=100.0)
    passes(phone, ASKS_MS)
    assert phone.locator("#left").inner_text() == "1"
    laptop.desk.change(left_s=900.0)
    passes(phone, ASKS_MS)
    assert phone.locator("#left").inner_text() == "1"


def test_a_sleep_that_stops_what_pages_count_by_is_counted(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.away = True
    sleeps(phone, 5 * MIN_MS)
    phone.clock.run_for(1000)
    assert state(phone) == "doubt"
    assert phone.locator("#left").text_content() in {"11", "12"}
    # A second sleep adds to the first, though the clock was set right in between.
    sleeps(phone, -4 * MIN_MS)
    phone.clock.run_for(1000)
    sleeps(phone, 7 * MIN_MS)
    phone.clock.run_for(1000)
    assert phone.locator("#left").text_content() in {"4", "5"}
    sleeps(phone, 6 * MIN_MS)
    phone.clock.run_for(1000)
    assert state(phone) == "ended"


def test_a_clock_set_back_gives_no_time(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.away = True
    for _ in range(17):
        sleeps(phone, -2 * MIN_MS)
        phone.clock.fast_forward(MIN_MS)
    phone.clock.fast_forward(10_000)
    assert state(phone) == "ended"


@pytest.mark.parametrize(
    "answer",
    [
        "",
        "<html>log in to this network</html>",
        "[]",
        "null",
        json.dumps({"state": "counts", "given": 6, "left_s": 900, "at": "11:11"}),
        json.dumps({"state": "void", "given": 6}),
        json.dumps({"state": "nonsense", "given": 7}),
        json.dumps({"state": "wait"}),
    ],
)
def test_answers_that_are_not_the_laptops_count_as_none(phone: Any, laptop: Any, answer: str) -> None:
    opened(phone, laptop)
    phone.route("**/still*", lambda route: route.fulfill(body=answer, content_type="application/json"))
    passes(phone, 50_000)
    assert state(phone) == "counts"
    passes(phone, 20_000)
    assert state(phone) == "doubt"
    assert "09:41" in phone.locator("#since").inner_text()


def test_time_left_that_is_no_number_is_none(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    answer = json.dumps({"state": "counts", "given": 7, "left_s": "soon", "at": "09:41"})
    phone.route("**/still*", lambda route: route.fulfill(body=answer, content_type="application/json"))
    passes(phone, ASKS_MS)
    assert state(phone) == "ended"


def test_a_revoked_link_ends_an_open_page_for_good(phone: Any, laptop: Any) -> None:
    opened(phone, laptop)
    laptop.desk.found_now = None
    passes(phone, ASKS_MS)
    assert state(phone) == "gone"
    assert "This link does not count. Ask your coach." in phone.locator("main").inner_text()
    asked = laptop.count("/still")
    passes(phone, 2 * ASKS_MS)
    assert laptop.count("/still") == asked


def test_in_place_of_a_card_a_page_waits_for_one(phone: Any, laptop: Any, no_card: Any) -> None:
    laptop.desk.found_now = replace(laptop.desk.found_now, card=no_card)
    opened(phone, laptop)
    laptop.desk.void()
    phone.clock.fast_forward(18 * MIN_MS)
    passes(phone, ASKS_MS)
    assert state(phone) == "none"
    laptop.desk.change(given=8, state="counts")
    passes(phone, ASKS_MS)
    assert state(phone) == "changed"
