"""Take a picture of every page at both sizes: the demo day as a school sees it, from the first start on."""

from __future__ import annotations

import argparse
import re
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.browser import live, school  # noqa: E402
from tests.browser.pages import SIZES, Page, pages  # noqa: E402
from tests.browser.served import CHROMIUM, RULES, Served, served  # noqa: E402

from leanladder.engine.compiled import cache_folder  # noqa: E402

FOLDER = ROOT / "build" / "screens"
# Any step of a busy machine; the demo's ladders in full, where nothing is compiled yet.
STEP_MS, DEMO_MS = 60_000, 900_000
RUN, RIDER = "larks 1", "Wren"
# What an empty laptop shows, each with what comes next.
EMPTY = {
    "home": "/",
    "circuits": "/circuits/",
    "machines": "/machines/",
    "riders": "/riders/",
    "day-new": "/days/new/",
}


class Looks:
    """Pages of who looks, at both sizes; each picture goes into a folder."""

    def __init__(self, browser: Any, laptop: Served, folder: Path) -> None:  # noqa: ANN401  # Playwright's
        self._browser, self._laptop, self._folder = browser, laptop, folder
        self._open: dict[tuple[str, str], Any] = {}

    def page(self, who: str, size: str = "laptop", state: Any = None) -> Any:  # noqa: ANN401  # Playwright's
        """Return the page of someone at a size, opened with their cookies where it is new."""
        if (who, size) not in self._open:
            width, height = SIZES[size]
            context = self._browser.new_context(
                base_url=self._laptop.address,
                viewport={"width": width, "height": height},
                storage_state=state,
            )
            context.set_default_timeout(STEP_MS)
            self._open[who, size] = context.new_page()
        return self._open[who, size]

    def take(self, each: Page, shows: str = "") -> None:
        """Take a page's pictures once it shows a text, and say where they are."""
        for size in SIZES:
            page = self.page(each.who, size)
            page.goto(each.path)
            page.locator("#waiting").wait_for(state="detached", timeout=DEMO_MS)
            if shows:
                page.get_by_text(shows).first.wait_for(timeout=DEMO_MS)
            path = self._folder / f"{each.name}-{size}.png"
            page.screenshot(path=path, full_page=True)
            sys.stdout.write(f"{path}\n")


@contextmanager
def _chromium() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright  # noqa: PLC0415  # only once it is used

    with sync_playwright() as play:
        yield play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", RULES])


def screens(folder: Path) -> None:
    """Take every picture: an empty laptop, the demo day planned, given out, stopped and in the rain."""
    folder.mkdir(parents=True, exist_ok=True)
    compiled = cache_folder().parents[1]
    compiled.mkdir(parents=True, exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as home,
        served(Path(home), compiled) as laptop,
        _chromium() as browser,
    ):
        looks = Looks(browser, laptop, folder)
        looks.take(Page("first", laptop.first, "nobody"))
        school.begin(looks.page("nobody"), laptop.first)
        _signed_in(looks, "head", school.HEAD)
        for name, path in EMPTY.items():
            looks.take(Page(f"empty-{name}", path))
        _demo(looks)
        _riding(looks)


def _signed_in(looks: Looks, who: str, words: tuple[str, str]) -> None:
    for size in SIZES:
        school.sign_in(looks.page(who, size), words)


def _demo(looks: Looks) -> None:
    """Put the demo day in, wait for its ladders, and take what stands before anybody rides."""
    head = looks.page("head")
    head.goto("/")
    head.get_by_role("button", name="Put the demo day here").click()
    head.get_by_text("All ladders are worked out.").wait_for(timeout=DEMO_MS)
    school.add_coach(head)
    _signed_in(looks, "coach", school.COACH)
    looks.page("nobody").context.clear_cookies()
    for each in pages(1, 1, RUN):
        looks.take(each)


def _riding(looks: Looks) -> None:
    """Give out, open a card, stop, and let it rain; what pages show then."""
    head, day = looks.page("head"), "/days/1/"
    live.give_out(head, day, RUN)
    card = re.sub(r"^https?://[^/]+", "", live.link_of(head, day, RIDER)[0])
    for name, path in {"live-given": f"{day}live/", "given-one": f"{day}given/1/"}.items():
        looks.take(Page(name, path))
    looks.take(Page("card", card, "nobody"))
    head.goto(f"{day}live/1/")
    head.get_by_role("button", name=re.compile(f"Stop {RUN}")).click()
    head.get_by_role("button", name="Give out restart cards").wait_for(timeout=DEMO_MS)
    looks.take(Page("live-stopped", f"{day}live/1/"), "Give out restart cards")
    head.goto(f"{day}live/1/")
    head.get_by_role("button", name="Give out restart cards").click(timeout=DEMO_MS)
    head.get_by_text("Counts until").first.wait_for(timeout=DEMO_MS)
    live.rain(head, day)
    looks.take(Page("live-rained", f"{day}live/void/"))
    looks.take(Page("card-void", f"{card}?void", "nobody"))
    looks.take(Page("card-gone", f"{card}x", "nobody"))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=FOLDER)
    screens(parser.parse_args().folder)
