"""Keys alone: sign in, open a ladder, choose a cell, give out."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from tests.browser import school
from tests.browser.conftest import Paddock

Looks = Callable[..., Any]
MOST_TABS = 120


def tab_to(page: Any, wanted: Any) -> None:
    """Press Tab until what is wanted has the focus; it must be seen there, with a ring round it."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        # looked for anew each time: a part of the page may just have been drawn anew
        if wanted.evaluate("wanted => document.activeElement === wanted"):
            assert wanted.evaluate("wanted => getComputedStyle(wanted).outlineStyle !== 'none'")
            return
    raise AssertionError(f"no key leads to {wanted}")


def enter(page: Any, wanted: Any) -> None:
    """Go there by keys, and press Enter."""
    tab_to(page, wanted)
    page.keyboard.press("Enter")


def test_keys_alone_sign_in_open_a_ladder_choose_a_cell_and_give_out(looks: Looks, paddock: Paddock) -> None:
    page = looks("laptop")
    page.goto("/login/")
    for label, text in zip(("Name to sign in with", "Password"), school.HEAD, strict=True):
        tab_to(page, page.get_by_label(label))
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Sign out").wait_for()
    enter(page, page.get_by_role("link", name="Fenside Riding School"))
    enter(page, page.get_by_role("link", name="See the ladders"))
    enter(page, page.get_by_role("link", name="Brambling").first)
    page.get_by_role("heading", name="Brambling").first.wait_for()
    cell = page.locator("[data-cell='2-5']")
    enter(page, cell)
    page.locator("[data-cell='2-5'][aria-current='true']").wait_for()
    page.get_by_role("heading", name="Turn 5").wait_for()
    page.goto(f"{paddock.day}live/")
    enter(page, page.get_by_role("link", name="regular 1").first)
    give = page.get_by_role("button", name=re.compile("Give out"))
    give.wait_for(timeout=school.PLANNED_MS)
    enter(page, give)
    page.get_by_text("Counts until").first.wait_for(timeout=school.PLANNED_MS)


def test_what_has_the_focus_keeps_it_when_the_live_page_is_drawn_anew(looks: Looks, paddock: Paddock) -> None:
    page = looks("laptop", paddock.head)
    page.goto(f"{paddock.day}live/")
    limits = page.locator("#live-now").get_by_role("link", name="See the limits").first
    limits.focus()
    page.evaluate("document.activeElement.dataset.before = '1'")
    other = looks("phone", paddock.head)
    other.goto(f"{paddock.day}live/")
    other.get_by_role("button", name="still").first.click()
    page.locator("#live-now [data-before]").wait_for(state="detached", timeout=school.PLANNED_MS)
    page.wait_for_timeout(200)
    assert limits.evaluate("limits => document.activeElement === limits")
