"""Compiled code is kept by the sources it was made from: an edit anywhere brings new numbers."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import leanladder.engine
from leanladder.engine.compiled import source_key

ENGINE = Path(leanladder.engine.__file__).parent

# lap_speeds is compiled in pace.py; it calls ellipse_left, compiled in cornering.py, and holds a number of
# constants.py. Neither edit touches pace.py.
SCRIPT = """
import numpy as np
from leanladder.engine.pace import Going, Machine, lap_speeds
bend, flat = np.full(20, 0.01), np.zeros(20)
going = Going(bend, flat, flat + 1.0, flat + 1.2, flat + 99.0, flat + 99.0, 3.0)
speeds, codes = lap_speeds(going, Machine(250.0, 1e9, 0.0, 0.5, 99.0, 99.0, 90.0), 90.0, 20.0)
print(float(speeds[5]))
"""


@pytest.fixture
def engine(tmp_path: Path) -> Path:
    """A copy of the engine's package, alone, to edit."""
    package = tmp_path / "leanladder"
    package.mkdir()
    (package / "__init__.py").write_text("")
    shutil.copytree(ENGINE, package / "engine", ignore=shutil.ignore_patterns("__pycache__"))
    return package / "engine"


def test_the_key_tells_bytes_and_names_apart(engine: Path) -> None:
    before = source_key(engine)
    assert before == source_key(engine)
    assert len(before) == 16
    int(before, 16)
    source = engine / "grip.py"
    text = source.read_bytes()
    source.write_bytes(text + b"\n")
    edited = source_key(engine)
    assert edited != before
    source.write_bytes(text)
    assert source_key(engine) == before
    source.rename(engine / "grips.py")
    assert source_key(engine) not in {before, edited}


def test_the_key_sees_a_new_source_and_swapped_ones(engine: Path) -> None:
    before = source_key(engine)
    (engine / "new.py").write_text("")
    assert source_key(engine) != before
    (engine / "new.py").unlink()
    one, other = engine / "gas.py", engine / "air.py"
    texts = one.read_bytes(), other.read_bytes()
    one.write_bytes(texts[1])
    other.write_bytes(texts[0])
    assert source_key(engine) != before


def test_the_key_is_the_same_elsewhere(engine: Path, tmp_path: Path) -> None:
    copy = tmp_path / "elsewhere"
    shutil.copytree(engine, copy)
    assert source_key(copy) == source_key(engine) == source_key(ENGINE)


def speed_in_a_fresh_process(engine: Path) -> float:
    home, root = engine.parents[1] / "home", engine.parents[1]
    known = {"LEANLADDER_HOME": str(home), "PYTHONPATH": str(root), "PATH": os.environ["PATH"]}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], env=known, capture_output=True, text=True, check=True
    )
    return float(done.stdout)


def edit(source: Path, old: str, new: str) -> None:
    text = source.read_text()
    assert text.count(old) == 1
    source.write_text(text.replace(old, new))


def test_an_edited_callee_and_an_edited_constant_bring_new_numbers(engine: Path) -> None:
    first = speed_in_a_fresh_process(engine)
    kept = engine.parents[1] / "home" / "cache" / "compiled"
    assert list(kept.rglob("pace.lap_speeds*")), "nothing was kept, so this would prove nothing"
    assert first > 20.0
    root = "return math.sqrt(left)"
    edit(engine / "cornering.py", root, root.replace("return ", "return 0.0 * "))
    without_drive = speed_in_a_fresh_process(engine)
    assert without_drive == pytest.approx(20.0)
    edit(engine / "cornering.py", root.replace("return ", "return 0.0 * "), root)
    assert speed_in_a_fresh_process(engine) == first
    edit(engine / "constants.py", "GRAVITY_MPS2 = 9.80665", "GRAVITY_MPS2 = 4.9")
    assert 20.0 < speed_in_a_fresh_process(engine) < first
    assert len(list(kept.iterdir())) == 3
