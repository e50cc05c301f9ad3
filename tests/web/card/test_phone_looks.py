"""Every state of the card on a phone, in Chromium: it fits, is read and pressed, without script too."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from tests.web.card.phones import ASKS_MS, MIN_MS, opened, settle, state

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
