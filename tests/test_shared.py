"""Tests on shared data skip with a reason where the data are absent, and fail where they are required."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).with_name("conftest.py")


@pytest.mark.parametrize(
    ("folder", "required", "code", "told"),
    [
        ("absent", "0", 0, "1 skipped"),
        ("absent", "1", 1, "1 error"),
        ("there", "1", 0, "1 passed"),
    ],
)
def test_absent_data(tmp_path: Path, folder: str, required: str, code: int, told: str) -> None:
    (tmp_path / "tests").mkdir()
    (tmp_path / "there" / "data").mkdir(parents=True)
    shutil.copy(CONFTEST, tmp_path / "tests" / "conftest.py")
    (tmp_path / "tests" / "test_it.py").write_text(
        "def test_it(shared_data):\n    assert shared_data.is_dir()\n"
    )
    surroundings = os.environ | {
        "LEANLADDER_SHARED": str(tmp_path / folder),
        "LEANLADDER_REQUIRE_SHARED": required,
    }
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-rs", "-p", "no:cacheprovider", str(tmp_path / "tests")],
        cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == code, done.stdout
    assert told in done.stdout
    assert ("set LEANLADDER_SHARED" in done.stdout) == (folder == "absent")
