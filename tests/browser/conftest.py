"""One laptop that serves, a small school on it, and who looks: head instructor, coach, rider's phone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from tests.browser import school
from tests.browser.pages import SIZES
from tests.browser.served import Served, served
from tests.conftest import KEPT

from leanladder.cli.example import example_files

# Machines that test are busy: how long any step may take.
STEP_MS = 30_000


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep what uses the one laptop on one worker."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.xdist_group("browser"))


@dataclass(frozen=True)
class Paddock:
    """The laptop with the school on it: address, the day's path, and the cookies of who signed in."""

    laptop: Served
    day: str
    head: Any
    coach: Any

    @property
    def pk(self) -> int:
        """The day's key."""
        return int(self.day.strip("/").rpartition("/")[2])

    def ladder(self, run: str) -> str:
        """The path of the ladder of who goes out first in a run."""
        return f"/ladder/{self.pk}/{run}/1/"


@pytest.fixture(scope="session")
def laptop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The app, served in a process of its own; what was compiled is shared with other tests."""
    compiled = KEPT / "cache"
    compiled.mkdir(parents=True, exist_ok=True)
    with served(tmp_path_factory.mktemp("laptop"), compiled) as made:
        yield made


@pytest.fixture(scope="session")
def paddock(browser: Any, laptop: Served, tmp_path_factory: pytest.TempPathFactory) -> Paddock:
    """The small school, put in by hand from the first start on, its ladders worked out."""
    files = tmp_path_factory.mktemp("files")
    for name, content in example_files().items():
        (files / name).write_bytes(content)
    desk = _context(browser, laptop, "laptop")
    page = desk.new_page()
    school.begin(page, laptop.first)
    school.add_circuit(page, files / "circuit.csv", files / "circuit-notes.toml")
    school.add_riders(page)
    day = school.make_day(page)
    school.add_coach(page)
    school.planned(page, day)
    head = desk.storage_state()
    desk.close()
    other = _context(browser, laptop, "laptop")
    school.sign_in(other.new_page(), school.COACH)
    coach = other.storage_state()
    other.close()
    return Paddock(laptop, day, head, coach)


def _context(browser: Any, laptop: Served, size: str, state: Any = None) -> Any:
    width, height = SIZES[size]
    context = browser.new_context(
        base_url=laptop.address,
        viewport={"width": width, "height": height},
        has_touch=size == "phone",
        is_mobile=size == "phone",
        storage_state=state,
    )
    context.set_default_timeout(STEP_MS)
    return context


@pytest.fixture
def looks(browser: Any, paddock: Paddock) -> Iterator[Callable[..., Any]]:
    """A maker of pages: `looks("phone")` for a rider, `looks("laptop", paddock.head)` for who signed in."""
    contexts: list[Any] = []

    def make(size: str, state: Any = None) -> Any:
        contexts.append(_context(browser, paddock.laptop, size, state))
        return contexts[-1].new_page()

    yield make
    for context in contexts:
        context.close()
