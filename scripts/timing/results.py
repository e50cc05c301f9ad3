"""What `make bench` measures, with its aims: kept as JSON, printed as a table."""

from __future__ import annotations

import json
import os
import platform
import subprocess
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib import metadata
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent
FOLDER = ROOT / "benchmarks"
RESULTS = FOLDER / "results.json"
PICTURE = FOLDER / "cost.svg"
SCHEMA = "leanladder.bench/1"
PACKAGES = ("numpy", "scipy", "numba", "llvmlite", "scikit-sundae")
KEYS = ("schema", "date", "commit", "machine", "packages", "figures", "solvers", "pass", "cost")


@dataclass(frozen=True, slots=True)
class Aim:
    """What a figure is to reach: at most, or with least at least."""

    value: float
    says: str
    least: bool = False

    def met(self, value: float) -> bool:
        """Return whether a figure reaches it."""
        return value >= self.value if self.least else value <= self.value


AIMS: Mapping[str, Aim] = {
    "ladder_10_laps_ms": Aim(60.0, "ten nominal laps of 4 km, caps and all, without odds"),
    "pass_1024x10_s": Aim(0.3, "1,024 members, ten laps, both tyres, trace given"),
    "error_max_c": Aim(0.05, "largest error of that pass on arrival, over ribs, corners, laps [K]"),
    "ratio_scipy": Aim(500.0, "fastest SciPy way for one member, as near, over the pass", least=True),
    "ratio_sundials": Aim(1000.0, "SUNDIALS CVODE, banded, as near, over the pass", least=True),
    "ratio_to_ceiling": Aim(2.0, "the pass over what its operations take at the machine's best"),
    "odds_ladder_s": Aim(1.0, "a whole ladder of ten laps with chance 95"),
    "peak_rss_mb": Aim(400.0, "memory of the process once ladders and the pass were timed"),
    "command_s": Aim(2.0, "the command, started anew, track temperature given, compiled code kept"),
}


def head() -> dict[str, Any]:
    """Return when, of which commit, on what and with which packages this is measured."""
    return {
        "schema": SCHEMA,
        "date": datetime.now(UTC).isoformat(timespec="seconds"),
        "commit": _commit(),
        "machine": {
            "system": platform.system(),
            "architecture": platform.machine(),
            "processor": _processor(),
            "cores": os.cpu_count(),
            "python": platform.python_version(),
        },
        "packages": {name: _version(name) for name in PACKAGES},
    }


def _commit() -> str | None:
    """The commit, with a + where the sources differ from it; None outside a checkout."""
    try:
        said = [_git("rev-parse", "HEAD"), _git("status", "--porcelain", "src", "scripts")]
    except (OSError, subprocess.CalledProcessError):
        return None
    return said[0] + ("+" if said[1] else "")


def _git(*words: str) -> str:
    ended = subprocess.run(["git", *words], cwd=ROOT, capture_output=True, text=True, check=True)  # noqa: S607
    return ended.stdout.strip()


def _processor() -> str | None:
    """The processor's name, where the system tells it."""
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor() or None
    return next((line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")), None)


def _version(name: str) -> str | None:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return None


def figures(values: Mapping[str, float | None]) -> dict[str, dict[str, Any]]:
    """Return every figure with its aim, whether it reaches it, and what it is; None: not measured."""
    return {
        name: {
            "value": None if values[name] is None else float(f"{values[name]:.4g}"),
            "aim": aim.value,
            "aim_is": "least" if aim.least else "most",
            "met": None if (value := values[name]) is None else aim.met(value),
            "says": aim.says,
        }
        for name, aim in AIMS.items()
    }


def line(name: str, value: float | None) -> str:
    """Return a figure beside its aim, for a reader."""
    aim = AIMS[name]
    told = "not measured" if value is None else f"{value:.4g}"
    mark = "" if value is None else " met" if aim.met(value) else " MISSED"
    return f"{name:20} {told:>12}  aim {'>=' if aim.least else '<='} {aim.value:g}{mark}  ({aim.says})"


def write(found: Mapping[str, Any], picture: str | None) -> None:
    """Write results and picture to their folder."""
    FOLDER.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    if picture is not None:
        PICTURE.write_text(picture, encoding="utf-8")


def add(name: str, found: Mapping[str, Any]) -> None:
    """Put what a program of its own measured beside what stands written."""
    kept = json.loads(RESULTS.read_text(encoding="utf-8")) if RESULTS.is_file() else {}
    FOLDER.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps(kept | {name: found}, indent=2) + "\n", encoding="utf-8")
