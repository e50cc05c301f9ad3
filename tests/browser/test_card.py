"""A rider's card by its code: opened, kept without the network, void once it rains; nobody else's."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import datetime
from http import HTTPStatus
from typing import Any

import segno
from tests.browser import live
from tests.browser.conftest import Paddock

Looks = Callable[..., Any]
ASKS_MS, SILENT_MS = 10_000, 70_000
LOOK_MS = 300


def passes(phone: Any, ms: int) -> None:
    """Let time pass for a page that is awake, answers arriving in between."""
    for _ in range(0, ms, ASKS_MS):
        phone.clock.run_for(ASKS_MS)
        phone.wait_for_timeout(LOOK_MS)


def state(phone: Any) -> str:
    """What the card shows."""
    shown: str = phone.evaluate("document.documentElement.dataset.state")
    return shown


def drawn(address: str) -> str:
    """Return the code of an address as it should be drawn: its path."""
    made = io.BytesIO()
    segno.make(address, error="m", micro=False).save(made, kind="svg", border=4, xmldecl=False)
    found = re.search(r'\bd="([^"]+)"', made.getvalue().decode())
    assert found is not None
    return found.group(1)


def test_a_card_by_its_code_without_the_network_and_then_rain(looks: Looks, paddock: Paddock) -> None:
    laptop = looks("laptop", paddock.head)
    until = live.give_out(laptop, paddock.day, "new 1")
    address, drawing = live.link_of(laptop, paddock.day, "Avocet")
    assert drawing == drawn(address)
    phone = looks("phone")
    phone.clock.install(time=datetime(2020, 2, 29, 3, 4))  # noqa: DTZ001  # a phone's clock shows anything
    assert phone.goto(address).status == HTTPStatus.OK
    passes(phone, ASKS_MS)
    assert state(phone) == "counts"
    assert "Avocet" in phone.locator("main").inner_text()
    assert phone.get_by_role("heading", name=f"Valid until {until}").is_visible()
    phone.context.set_offline(True)
    passes(phone, SILENT_MS)
    assert state(phone) == "doubt"
    assert "Not confirmed since" in phone.locator("main").inner_text()
    phone.goto("about:blank")
    phone.goto(address)
    assert "Avocet" in phone.locator("main").inner_text()
    live.rain(laptop, paddock.day)
    assert laptop.get_by_text("Avocet").first.is_visible()
    phone.context.set_offline(False)
    passes(phone, ASKS_MS)
    assert state(phone) == "void"
    assert phone.get_by_role("heading", name="VOID").is_visible()
    phone.get_by_role("button", name="I have read this").click()
    laptop.get_by_text("Everyone has confirmed.").wait_for()


def test_another_riders_card_stays_theirs(looks: Looks, paddock: Paddock) -> None:
    laptop = looks("laptop", paddock.head)
    links = [live.link_of(laptop, paddock.day, rider)[0] for rider in ("Avocet", "Brambling")]
    (own, proof), (other, other_proof) = (link.rsplit("/", 1)[1].split("-", 1) for link in links)
    where = links[0].rsplit("/", 1)[0]
    phone = looks("phone")
    for token in (f"{other}-{proof}", f"{own}-{other_proof}", own, f"{other}-"):
        assert phone.goto(f"{where}/{token}").status == HTTPStatus.NOT_FOUND
        assert "Brambling" not in phone.content()


def test_a_link_taken_back_leads_nowhere(looks: Looks, paddock: Paddock) -> None:
    laptop = looks("phone", paddock.head)
    live.give_out(laptop, paddock.day, "regular 1")
    address, _ = live.link_of(laptop, paddock.day, "Brambling")
    phone = looks("phone")
    assert phone.goto(address).status == HTTPStatus.OK
    row = laptop.locator("ul.codes > li", has=laptop.get_by_role("heading", name="Brambling", exact=True))
    row.get_by_text("Lost or passed on?").click()
    with laptop.expect_response(lambda answer: answer.request.method == "POST"):
        row.get_by_role("button", name="End this link, make a new one").click()
    laptop.wait_for_load_state("networkidle")
    assert live.link_of(laptop, paddock.day, "Brambling")[0] != address
    assert phone.goto(f"{address}?now").status == HTTPStatus.NOT_FOUND
