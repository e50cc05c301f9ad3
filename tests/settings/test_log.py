from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from leanladder.settings import start_log, stop_log


@pytest.fixture(autouse=True)
def _closed() -> Iterator[None]:
    yield
    stop_log()


def test_it_keeps_what_is_severe_enough(tmp_path: Path) -> None:
    log = start_log(tmp_path / "x.log", "warning")
    log.info("too mild")
    log.warning("kept")
    text = (tmp_path / "x.log").read_text()
    assert "kept" in text
    assert "too mild" not in text


def test_only_its_owner_may_read_it(tmp_path: Path) -> None:
    start_log(tmp_path / "x.log", "info").info("a line")
    assert (tmp_path / "x.log").stat().st_mode & 0o777 == 0o600


def test_it_rotates_instead_of_growing(tmp_path: Path) -> None:
    log = start_log(tmp_path / "x.log", "info")
    for _ in range(30):
        log.info("x" * 100_000)
    sizes = [path.stat().st_size for path in tmp_path.iterdir()]
    assert len(sizes) == 4
    assert max(sizes) <= 600_000


def test_started_again_it_moves_and_writes_once(tmp_path: Path) -> None:
    start_log(tmp_path / "x.log", "info")
    start_log(tmp_path / "y.log", "info").info("a line")
    assert (tmp_path / "y.log").read_text().count("a line") == 1
    assert not (tmp_path / "x.log").exists()
