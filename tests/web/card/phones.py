"""What a phone does with a card in Chromium, its page's clock in hand."""

from __future__ import annotations

from datetime import datetime
from typing import Any

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
