"""What axe-core finds on every page: nothing serious, nothing critical; nothing wider than the phone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from tests.browser.conftest import Paddock
from tests.browser.pages import SIZES, pages
from tests.browser.school import PLANNED_MS

Looks = Callable[..., Any]
GRAVE = {"serious", "critical"}
# Pages laid out anew on a laptop: axe-core looks at these there too, at all others on the phone alone.
WIDE = {"day", "groups", "weather", "sessions", "ladders", "ladder", "live", "live-run", "circuit"}


def settled(page: Any, path: str) -> None:
    """Open a page and let it come to what it waits for."""
    page.goto(path)
    page.locator("#waiting").wait_for(state="detached", timeout=PLANNED_MS)


def graves(page: Any) -> list[str]:
    """Return what axe-core finds that is serious or critical: which rule, and where."""
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    return [
        f"{each['id']} {node['target']} {node.get('failureSummary', '')}"
        for each in found
        if each["impact"] in GRAVE
        for node in each["nodes"]
    ]


def test_no_page_has_anything_serious(looks: Looks, paddock: Paddock) -> None:
    wrong: dict[str, list[str]] = {}
    people = {"head": paddock.head, "coach": paddock.coach, "nobody": None}
    seen = {who: looks("phone", state) for who, state in people.items()}
    for each in pages(paddock.pk, 1, "new 1"):
        page = seen[each.who]
        settled(page, each.path)
        for size, (width, height) in SIZES.items():
            page.set_viewport_size({"width": width, "height": height})
            found = graves(page) if size == "phone" or each.name in WIDE else []
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                found.append("wider than the screen")
            if found:
                wrong[f"{each.name}, {size}"] = found
    assert not wrong
