"""What coaches do on the live page: give out, make void; and the links that they hand to riders."""

from __future__ import annotations

import re
from typing import Any

from tests.browser.school import PLANNED_MS

HELD_MS = 2_300


def give_out(page: Any, day: str, run: str) -> str:
    """Give a run's cards out, by the page of the run; return until when they count, as that says.

    Where it has rained since, the head instructor says why.
    """
    page.goto(f"{day}live/")
    page.get_by_role("link", name=run).first.click()
    page.get_by_role("heading", level=1).filter(has_text=run).wait_for()
    page.get_by_role("button", name=re.compile("Give out")).click(timeout=PLANNED_MS)
    why = page.get_by_label("Why they are given out")
    page.get_by_text("Counts until").or_(why).first.wait_for(timeout=PLANNED_MS)
    if why.is_visible():
        why.fill("two looked: dry")
        page.get_by_role("button", name="Give out anew").click()
    counts: str = page.get_by_text("Counts until").first.inner_text(timeout=PLANNED_MS)
    return counts.rsplit(maxsplit=1)[-1]


def link_of(page: Any, day: str, rider: str) -> tuple[str, str]:
    """Return the address that a rider's code stands for, and its drawing."""
    page.goto(f"{day}live/cards/")
    row = page.locator("ul.codes > li", has=page.get_by_role("heading", name=rider, exact=True))
    address: str = row.locator(".address a").get_attribute("href")
    drawing: str = row.locator("svg.qr path").first.get_attribute("d")
    return address, drawing


def rain(page: Any, day: str) -> None:
    """Hold the button that makes every card void."""
    page.goto(f"{day}live/")
    button = page.locator("button[data-hold]")
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.wait_for_timeout(HELD_MS)
    page.mouse.up()
    page.get_by_role("heading", name="Cards void since").wait_for()
