"""Fixtures for every test: the shared measured data, a data folder of its own, hypothesis without a clock."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "leanladder", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("leanladder")

ROOT = Path(__file__).resolve().parents[1]
# The engine settles where compiled code is kept as it is imported: before any fixture runs. Compiled code
# is keyed by its sources, so it is kept from run to run, or every command would compile again. Each
# worker has its own: the compiler's cache does not lock, and two that write at once may mix their files. A
# run without workers goes on with what the first of them has compiled.
KEPT = ROOT / ".pytest_cache" / "leanladder" / os.environ.get("PYTEST_XDIST_WORKER", "gw0")
os.environ["LEANLADDER_HOME"] = str(KEPT)
# A browser driven from a test leaves its loop running in this thread, where Django then refuses its database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

from leanladder.planning.odds import counting  # noqa: E402  # only once it is settled where compiled code is kept


def _shared() -> Path | None:
    """Return the folder of shared data: LEANLADDER_SHARED, else ../shared beside the checkout."""
    named = os.environ.get("LEANLADDER_SHARED")
    folder = Path(named) if named else ROOT.parent / "shared"
    return folder if (folder / "data").is_dir() else None


# Read here, since tests see no variables of ours.
NEEDS_BROWSER = os.environ.get("LEANLADDER_REQUIRE_BROWSER") == "1"

# A thousand members a ladder would be most of the tests' time. Few of them keep every property but the
# figures themselves (the fewer, the more careful the order statistic); `all_members` restores their number.
FEW_MEMBERS = 64
ALL_MEMBERS = counting.LEAST_MEMBERS
counting.LEAST_MEMBERS = FEW_MEMBERS


@pytest.fixture
def all_members(monkeypatch: pytest.MonkeyPatch) -> None:
    """Count caps over as many members as a plan does."""
    monkeypatch.setattr(counting, "LEAST_MEMBERS", ALL_MEMBERS)


@pytest.fixture(scope="session")
def shared() -> Path:
    """Give the folder of shared data, or skip (fail where LEANLADDER_REQUIRE_SHARED=1)."""
    folder = _shared()
    if folder is not None:
        return folder
    reason = "the shared measured data are absent: set LEANLADDER_SHARED to their folder"
    if os.environ.get("LEANLADDER_REQUIRE_SHARED") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def shared_data(shared: Path) -> Path:
    """Give the data folder within the shared data."""
    return shared / "data"


@pytest.fixture(autouse=True)
def _own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep every test away from the user's data folder and settings."""
    for name in [name for name in os.environ if name.startswith("LEANLADDER_")]:
        if name not in {"LEANLADDER_SHARED", "LEANLADDER_REQUIRE_SHARED"}:
            monkeypatch.delenv(name)
    home = tmp_path_factory.mktemp("home")
    compiled = KEPT / "cache"
    compiled.mkdir(parents=True, exist_ok=True)
    (home / "cache").symlink_to(compiled)
    monkeypatch.setenv("LEANLADDER_HOME", str(home))


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium, the laptop's name mapped, its back store switched on; skip where it is absent, or fail.

    One for all tests of a process: Playwright's loop is one a thread.
    """
    from tests.browser.served import CHROMIUM, RULES

    if not CHROMIUM.exists():
        (pytest.fail if NEEDS_BROWSER else pytest.skip)(f"Chromium is absent: {CHROMIUM}")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", RULES],
            ignore_default_args=["--disable-back-forward-cache"],
        )
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def database() -> Iterator[None]:
    """Give the records a database of their own, in memory unless DATABASE_URL names a server."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
    import django
    from django.test.utils import setup_databases, teardown_databases

    django.setup()
    made = setup_databases(verbosity=0, interactive=False)
    yield
    teardown_databases(made, verbosity=0)


@pytest.fixture
def rolled_back(database: None) -> Iterator[None]:
    """Run a test within a transaction that is taken back."""
    from django.db import transaction

    with transaction.atomic():
        yield
        transaction.set_rollback(True)
