"""From the first start to a printed sheet: a school of one's own, its day planned, its papers opened."""

from __future__ import annotations

import io
import zipfile
from base64 import b64decode
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from tests.browser import school
from tests.browser.conftest import Paddock

Looks = Callable[..., Any]
# A file as the page gets it: its kind, and its bytes as base64.
FETCH = """async path => {
  const answer = await fetch(path), bytes = new Uint8Array(await answer.arrayBuffer());
  const text = Array.from(bytes, byte => String.fromCharCode(byte)).join("");
  return [answer.headers.get("content-type"), btoa(text)];
}"""


def texts(packed: bytes) -> dict[str, str]:
    """Return the words of each PDF in a zip."""
    with zipfile.ZipFile(io.BytesIO(packed)) as opened:
        return {
            name: " ".join(page.extract_text() for page in PdfReader(io.BytesIO(opened.read(name))).pages)
            for name in opened.namelist()
        }


def test_papers_of_a_first_own_day_are_made_downloaded_and_readable(looks: Looks, paddock: Paddock) -> None:
    page = looks("laptop", paddock.head)
    page.goto(paddock.day)
    page.get_by_role("link", name="Print the papers").click()
    page.get_by_role("button", name="Make today's papers").click()
    with page.expect_download(timeout=school.PLANNED_MS) as coming:
        page.get_by_role("link", name="Download all as a zip").click(timeout=school.PLANNED_MS)
    found = texts(Path(coming.value.path()).read_bytes())
    assert any("Avocet" in text and "DRY ONLY" in text.upper() for text in found.values()), sorted(found)
    assert any("codes" in name for name in found)
    sheet = page.locator("a[href$='.pdf']").first
    kind, packed = page.evaluate(FETCH, sheet.get_attribute("href"))
    assert kind == "application/pdf"
    assert PdfReader(io.BytesIO(b64decode(packed))).pages


def test_each_name_on_the_list_of_ladders_leads_to_their_own(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.head)
    for rider in ("Avocet", "Brambling"):
        page.goto(f"{paddock.day}ladders/")
        page.get_by_role("link", name=rider).first.click()
        page.get_by_role("heading", level=1).filter(has_text=rider).wait_for()
        page.get_by_role("heading", name="How far may they lean?").wait_for()


def test_the_demo_is_one_click_away(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.head)
    page.goto("/")
    page.get_by_role("button", name="Put the demo day here").click()
    page.get_by_role("heading", name="The day", exact=True).wait_for()
    assert page.get_by_text("larks 1").first.is_visible()
    # Its ladders would keep the worker busy: the day goes again.
    page.get_by_text("Remove this day").click()
    page.get_by_role("button", name="Remove it").click()
    page.get_by_role("heading", name="Days").wait_for()


@pytest.mark.parametrize("path", ["/first/", "/login/"])
def test_nobody_else_begins(looks: Looks, paddock: Paddock, path: str) -> None:
    page = looks("phone")
    page.goto(path)
    assert page.get_by_role("heading", name="Sign in").is_visible()
