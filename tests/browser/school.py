"""A small school put in by hand, as its head instructor would: one circuit, two riders, a run each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

HEAD, COACH = ("Oda Fenn", "heather-on-the-moor"), ("maren", "curlew-over-water")
COACH_NAME = "Maren"
# A rider a line, as the page asks for it; the levels make the two groups.
RIDERS = "Avocet, new, 11\nBrambling, regular, 12"
NEW, REGULAR = "new", "regular"
LAPS = "2"
PLANNED_MS = 300_000


def begin(page: Any, first: str) -> None:
    """Make the first head instructor, by the address that the laptop printed."""
    page.goto(first)
    page.get_by_label("Name to sign in with").fill(HEAD[0])
    page.get_by_label("Password").fill(HEAD[1])
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("heading", name="Days").wait_for()


def sign_in(page: Any, who: tuple[str, str]) -> None:
    """Sign someone in."""
    page.goto("/login/")
    page.get_by_label("Name to sign in with").fill(who[0])
    page.get_by_label("Password").fill(who[1])
    page.get_by_role("button", name="Sign in").click()
    # on a phone it stands in a menu that is folded
    page.locator("form[action='/logout/']").wait_for(state="attached")


def add_circuit(page: Any, line: Path, notes: Path) -> None:
    """Add a circuit from its line and notes; state that it is closed."""
    page.get_by_role("link", name="Add a circuit").click()
    page.get_by_label("The circuit's line, a file").set_input_files(line)
    page.get_by_label("Name", exact=True).fill("Fenside")
    page.get_by_label("This circuit is closed").check()
    page.get_by_text("More: direction, time zone, notes").click()
    page.get_by_label("Notes as a file").set_input_files(notes)
    page.get_by_role("button", name="Add and show the map").click()
    page.get_by_role("heading", name="Fenside").wait_for()


def add_riders(page: Any) -> None:
    """Paste the riders; their machines come with them."""
    page.goto("/riders/list/")
    page.get_by_label("The list").fill(RIDERS)
    page.get_by_label("Machines not on record yet").select_option("middleweight-sport")
    page.get_by_label("Their tyres").select_option("sport-road")
    page.get_by_role("button", name="Add these riders").click()
    page.get_by_role("link", name="Brambling").wait_for()


def make_day(page: Any) -> str:
    """Make today's day, its groups and runs; return its address."""
    page.goto("/")
    page.get_by_role("link", name="Make the day").click()
    page.get_by_label("Date").fill(date.today().isoformat())  # noqa: DTZ011  # as someone types it
    page.get_by_label("School").fill("Fenside Riding School")
    page.get_by_label("Head instructor").fill("Oda Fenn")
    for end, air_c in (("first", "12"), ("last", "16")):
        page.locator(f"#{end}_air").fill(air_c)
        page.locator(f"#{end}_humidity").fill("60")
    page.get_by_role("button", name="Make the day").click()
    page.get_by_role("heading", name="The day", exact=True).wait_for()
    day = re.sub(r"^https?://[^/]+", "", page.url)
    _groups(page, day)
    _runs(page, day)
    return day


def _groups(page: Any, day: str) -> None:
    page.goto(f"{day}groups/")
    page.get_by_role("button", name="Make a group for each level").click()
    page.get_by_role("button", name="Keep who goes out").wait_for()
    page.get_by_placeholder("another coach").fill(COACH_NAME)
    page.get_by_role("button", name="Keep coaches").click()
    group = page.locator(f"form:has(input[name=was][value='{NEW}'])")
    group.get_by_label(COACH_NAME).check()
    group.get_by_role("button", name="Keep").click()
    page.wait_for_load_state("networkidle")


def _runs(page: Any, day: str) -> None:
    page.goto(f"{day}sessions/")
    page.get_by_label("Rounds").fill("1")
    page.get_by_role("button", name="Make sessions").click()
    keep = page.get_by_role("button", name="Keep", exact=True).last
    keep.wait_for()
    for place in range(page.get_by_label("or laps").count()):
        page.get_by_label("Minutes", exact=True).nth(place).fill("")
        page.get_by_label("or laps").nth(place).fill(LAPS)
    keep.click()
    page.wait_for_load_state("networkidle")


def planned(page: Any, day: str) -> None:
    """Wait until the day's ladders are worked out."""
    page.goto(day)
    page.get_by_text("All ladders are worked out.").wait_for(timeout=PLANNED_MS)


def add_coach(page: Any) -> None:
    """Give the coach of the new riders an account."""
    page.goto("/people/")
    page.get_by_label("Name to sign in with").fill(COACH[0])
    page.get_by_label("Name as the day's coaches have it").fill(COACH_NAME)
    page.get_by_label("Password").fill(COACH[1])
    page.get_by_role("button", name="Add").click()
    page.get_by_text(COACH[0], exact=True).wait_for()


def names(paths: Sequence[str]) -> str:
    """Return file names for a message, shortened."""
    return ", ".join(paths[:10])
