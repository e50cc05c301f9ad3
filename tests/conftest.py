"""Fixtures for every test: the shared measured data, a data folder of its own, hypothesis without a clock."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "leanladder", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("leanladder")

ROOT = Path(__file__).resolve().parents[1]
# The engine settles where compiled code is kept as it is imported: before any fixture runs. Compiled code
# is keyed by its sources, so it is kept from run to run, or every command would compile again. Each
# worker has its own: the compiler's cache does not lock, and two that write at once may mix their files.
KEPT = ROOT / ".pytest_cache" / "leanladder" / os.environ.get("PYTEST_XDIST_WORKER", "alone")
os.environ["LEANLADDER_HOME"] = str(KEPT)

from leanladder.planning.odds import counting  # noqa: E402  # only once it is settled where compiled code is kept


def _shared() -> Path | None:
    """Return the folder of shared data: LEANLADDER_SHARED, else ../shared beside the checkout."""
    named = os.environ.get("LEANLADDER_SHARED")
    folder = Path(named) if named else ROOT.parent / "shared"
    return folder if (folder / "data").is_dir() else None


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
