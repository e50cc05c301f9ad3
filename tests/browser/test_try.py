"""Trying: controls move, cells grey with the way they go, the counted ladder follows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests.browser.conftest import Paddock
from tests.browser.school import PLANNED_MS

Looks = Callable[..., Any]
# Notes what a table of grey cells said meanwhile, however short.
NOTING = """() => {
  const table = document.getElementById("ladder-table");
  window.ways = [];
  new MutationObserver(() => {
    if (table.classList.contains("moving"))
      ways.push(...Array.from(table.querySelectorAll(".way"), way => way.textContent).filter(text => text));
  }).observe(table, {attributes: true, childList: true, subtree: true, characterData: true});
}"""


@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_a_moved_control_greys_the_cells_and_a_counted_ladder_follows(
    looks: Looks, paddock: Paddock, size: str
) -> None:
    page = looks(size, paddock.head)
    page.goto(paddock.ladder("new 1"))
    table = page.locator("#ladder-table")
    own = table.inner_text()
    page.evaluate(NOTING)
    warmer = page.get_by_role("button", name="Track: +")
    for _ in range(4):
        warmer.click()
    page.locator("#ladder-table.moving").wait_for()
    page.locator("#ladder-table:not(.moving) table.tried").wait_for(timeout=PLANNED_MS)
    assert {way[0] for way in page.evaluate("window.ways")} & set("▼=▲")
    assert table.get_by_text("Only tried").is_visible()
    assert page.locator("#try-track").input_value() != page.locator("#try-track").get_attribute("data-own")
    page.get_by_role("link", name="As it was").click()
    page.locator("#ladder-table table:not(.tried)").wait_for()
    assert table.inner_text() == own


def test_a_hand_near_the_controls_has_the_ladder_opened_and_shows_nothing(
    looks: Looks, paddock: Paddock
) -> None:
    page = looks("laptop", paddock.head)
    page.goto(paddock.ladder("new 1"))
    own = page.locator("#ladder-table").inner_text()
    with page.expect_response("**/draft") as answer:
        page.locator("#try-track").hover()
    assert answer.value.json()["state"] in {"waiting", "done"}
    page.wait_for_timeout(300)
    assert page.locator("#ladder-table.moving").count() == 0
    assert page.locator("#ladder-table").inner_text() == own


def test_every_cell_answers_why(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.head)
    page.goto(paddock.ladder("new 1"))
    page.locator("[data-cell='2-5']").click()
    page.get_by_role("heading", name="Turn 5").wait_for()
    page.get_by_role("link", name="All that is behind it").click()
    page.get_by_role("heading", name="One change alone").wait_for(timeout=PLANNED_MS)
