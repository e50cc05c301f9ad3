"""Write docs/evidence/checks.md: which checks ran and how they ended, with commit, machine and seed.

Two headings, never mixed: against others (published, trade, measured) and against ourselves (our own
numbers, invariants), which shows that the program agrees with itself and nothing more. Run by
`make evidence`; checks on measured data count as skipped where the data are absent.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from datetime import UTC, datetime
from pathlib import Path

from defusedxml.ElementTree import parse

ROOT = Path(__file__).resolve().parent.parent
OUT = ROOT / "docs" / "evidence" / "checks.md"
OTHERS = {
    "published": "values of papers, handbooks and reference libraries",
    "trade": "what the trade knows: common practice, no published source",
    "measured": "what others measured",
}
OURSELVES = {
    "engine": "the engine's own behaviour and invariants",
    "geometry": "geometry on lines of known shape",
    "planning": "ladders: invariants and rules",
    "regression": "our own numbers, to notice that they changed",
}
ENDS = ("passed", "failed", "expected to fail", "skipped")


def ran(folders: list[str]) -> dict[str, Counter[str]]:
    """Run the tests of some folders; return how they ended, counted by file."""
    with tempfile.TemporaryDirectory() as work:
        report = Path(work) / "report.xml"
        command = [sys.executable, "-m", "pytest", "-q", "-n", "auto", f"--junitxml={report}", *folders]
        subprocess.run(command, cwd=ROOT, check=False)
        root = parse(report).getroot()
    found: dict[str, Counter[str]] = defaultdict(Counter)
    for case in root.iter("testcase") if root is not None else ():
        found[case.get("classname", "").replace("tests.", "", 1)][end_of(case)] += 1
    return found


def end_of(case: object) -> str:
    """Return how a test ended, by its element of the report."""
    for part in case:  # type: ignore[attr-defined]
        if part.tag in {"failure", "error"}:
            return "failed"
        if part.tag == "skipped":
            return "expected to fail" if "xfail" in part.get("type", "") else "skipped"
    return "passed"


def table(found: dict[str, Counter[str]]) -> list[str]:
    """Return the counts as a table, a file a row."""
    rows = [
        f"| {name.replace('.', '/')} | " + " | ".join(str(counts[end]) for end in ENDS) + " |"
        for name, counts in sorted(found.items())
    ]
    head = ["| checks | " + " | ".join(ENDS) + " |", "| --- |" + " ---: |" * len(ENDS)]
    return [*head, *rows, ""]


def commit() -> str:
    """Return the commit that was checked, and whether anything had been changed since."""
    git = ["git", "-C", str(ROOT)]
    head = subprocess.run([*git, "rev-parse", "HEAD"], capture_output=True, text=True, check=False)
    state = subprocess.run([*git, "status", "--porcelain"], capture_output=True, text=True, check=False)
    changed = ", with changes not committed" if state.stdout.strip() else ""
    return (head.stdout.strip() or "unknown") + changed


def section(title: str, remark: str, folders: dict[str, str]) -> list[str]:
    """Return the lines of one heading; folders that do not exist yet are left out."""
    there = {name: what for name, what in folders.items() if (ROOT / "tests" / name).is_dir()}
    lines = [f"## {title}", "", remark, ""]
    lines += [f"- `tests/{name}`: {what}" for name, what in there.items()]
    return [*lines, "", *table(ran([f"tests/{name}" for name in there]))]


def main() -> int:
    """Run the checks and write the page."""
    machine = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
    lines = [
        "# Checks that ran",
        "",
        "Written by `make evidence`; do not edit.",
        "",
        f"- commit: {commit()}",
        f"- machine: {machine}, Python {platform.python_version()}",
        "- seed: property tests are derandomised; every other draw is from a seed fixed in its test",
        f"- when: {datetime.now(UTC):%Y-%m-%d %H:%M} UTC",
        "",
        *section("Against others", "Published, known to the trade, or measured by others.", OTHERS),
        *section(
            "Against ourselves",
            "The program agrees with itself. This is consistency, and never to be cited as accuracy.",
            OURSELVES,
        ),
    ]
    OUT.parent.mkdir(parents=True, exist_ok=True)
    OUT.write_text("\n".join(lines).rstrip() + "\n", encoding="utf-8")
    print(OUT.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
