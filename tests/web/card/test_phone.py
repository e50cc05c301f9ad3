"""The card on a phone, in Chromium: what it counts by, whom it believes, what is left offline."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

MIN_MS = 60_000
ASKS_MS = 10_000
# How long a look at what is on its way lasts, and how many there are before it counts as lost.
LOOK_MS, PATIENCE = 30, 100


def settle(phone: Any) -> None:
    """Let answers arrive that are on their way: the clock of the page stands still meanwhile."""
    for _ in range(PATIENCE):
        phone.wait_for_timeout(LOOK_MS)
        if not phone.on_its_way:
            break
    phone.wait_for_timeout(LOOK_MS)


def opened(phone: Any, laptop: Any) -> None:
    """Open the card with the page's clock in hand, and let its first question be answered."""
    phone.clock.install(time=datetime(2020, 2, 29, 3, 4))  # noqa: DTZ001  # a phone's clock shows anything
    phone.goto(laptop.address)
    settle(phone)


def passes(phone: Any, ms: int, step_ms: int = ASKS_MS) -> None:
    """Let time pass for a page that is awake, answers arriving in between."""
    for _ in range(0, ms, step_ms):
        phone.clock.run_for(step_ms)
        settle(phone)


def state(phone: Any) -> str:
    """What the page shows."""
    shown: str = phone.evaluate("document.documentElement.dataset.state")
    return shown


def sleeps(phone: Any, ms: int) -> None:
    """Put the phone to sleep: its clock goes on, what counts for its pages stands still."""
    now = phone.evaluate("Date.now()")
    phone.clock.set_system_time((now + ms) / 1000)


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
    laptop.desk.change(given=8)
    passes(phone, ASKS_MS)
    assert state(phone) == "changed"


# From here on the phone's own time runs: what matters is what the browser keeps.


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


def test_a_phone_that_runs_no_script_never_shows_a_card_that_counts(browser: Any, laptop: Any) -> None:
    context = browser.new_context(java_script_enabled=False)
    phone = context.new_page()
    phone.goto(laptop.address)
    assert phone.get_by_text("Not confirmed since 09:41").is_visible()
    assert not phone.get_by_text("Valid until").is_visible()
    laptop.desk.void()
    phone.goto(f"{laptop.address}?again")
    phone.get_by_role("button", name="I have read this").click()
    phone.wait_for_load_state()
    assert laptop.desk.asked == [("read", 7)]
    assert phone.get_by_role("heading", name="VOID").is_visible()
    context.close()


def test_a_name_that_would_be_a_script_runs_nothing(phone: Any, laptop: Any, card: Any) -> None:
    nasty = card(rider="</title><script>window.ran = 1</script><img src=x onerror='window.ran = 1'>")
    laptop.desk.found_now = replace(laptop.desk.found_now, card=nasty)
    opened(phone, laptop)
    assert state(phone) == "counts"
    assert phone.evaluate("window.ran") is None
    assert "<script>" in phone.locator("header").inner_text()


SIZES = """() => {
  const sizes = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const within = walk.currentNode.parentElement;
    const said = walk.currentNode.data.trim() && !within.closest('.unseen, script');
    if (said && within.checkVisibility()) sizes.push(parseFloat(getComputedStyle(within).fontSize));
  }
  return sizes;
}"""
SHOWN = ("counts", "doubt", "void", "changed", "ended", "none")


@pytest.fixture(params=SHOWN)
def shown(request: Any, phone: Any, laptop: Any, no_card: Any) -> str:
    """Each state in turn, reached as a phone reaches it."""
    how: str = request.param
    if how == "none":
        laptop.desk.found_now = replace(laptop.desk.found_now, card=no_card)
    opened(phone, laptop)
    steps: dict[str, Callable[[], None]] = {
        "doubt": lambda: phone.clock.fast_forward(2 * MIN_MS),
        "void": laptop.desk.void,
        "changed": lambda: laptop.desk.change(given=8),
        "ended": lambda: phone.clock.fast_forward(18 * MIN_MS),
    }
    if how == "doubt":
        laptop.away = True
    if how in steps:
        steps[how]()
        phone.clock.run_for(ASKS_MS)
        settle(phone)
    assert state(phone) == how
    return how


@pytest.mark.parametrize("width", [390, 320])
def test_every_state_fits_reads_and_is_pressed_on_a_phone(phone: Any, shown: str, width: int) -> None:
    phone.set_viewport_size({"width": width, "height": 844})
    assert phone.evaluate("document.documentElement.scrollWidth") <= width
    sizes = phone.evaluate(SIZES)
    assert min(sizes) >= 13.5
    for target in phone.locator("button:visible, a:visible").all():
        assert target.bounding_box()["height"] >= 48, shown


def test_axe_finds_nothing(phone: Any, shown: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    phone.clock.resume()
    found = axe.run(phone).response["violations"]
    assert [(each["id"], each["impact"]) for each in found] == [], shown
