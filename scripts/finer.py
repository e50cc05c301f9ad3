"""Write docs/evidence/finer-model.md: ribs and layers beside the finer model, with tables and figures.

Run by `make evidence`; takes about a quarter of an hour on two cores. What is compared, and why it may judge,
stands in docs/physics/finer-model.md.
"""

from __future__ import annotations

import os
import platform
import sys
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.evidence import commit  # noqa: E402
from scripts.finer_figures import lap_drawn, laps_drawn  # noqa: E402
from tests.finer.compare import Lapped, Ride, compared, planned, thirds  # noqa: E402
from tests.finer.section import Grid  # noqa: E402
from tests.trade.rides import HOT_SUN_W_M2, Morning, session  # noqa: E402

from leanladder.domain.session import Start  # noqa: E402
from leanladder.planning.rubber import RIBS  # noqa: E402

Floats = NDArray[np.float64]

OUT = ROOT / "docs" / "evidence" / "finer-model.md"
FIGURES = ROOT / "docs" / "evidence" / "finer"
BOUND_K = 1.5
MINUTES = 20.0
DEPTHS = ("skin", "tread", "carcass")
STARTS = {
    "cold": Start("cold"),
    "warmers": Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0),
    "stop": Start("stopped", off_min=15.0),
}
RIDES = {
    "experienced": (Morning(15.0, 18.0), "15 degC air, 18 degC road"),
    "new": (Morning(8.0, 9.0), "8 degC air, 9 degC road"),
    "regular": (Morning(30.0, 46.0, HOT_SUN_W_M2), "30 degC air, 46 degC road in the sun"),
}
TYRES = ("front", "rear")
LONGEST_S = 0.2
REFINED = ((0, 0.2), (0, 0.1), (1, 0.1), (2, 0.1))


class Job(NamedTuple):
    """One comparison: rider's level, start and tyre."""

    level: str
    start: str
    tyre: str


class Apart(NamedTuple):
    """How far the models are apart, ours less finer [K].

    lap, whole, arrivals, rib (3,): the most at skin, tread, carcass over the first lap, the session, the
    session's arrivals, and of a single rib on arrival; mean (3, 3): of the last lap by depth and third.
    """

    lap: Floats
    whole: Floats
    arrivals: Floats
    rib: Floats
    mean: Floats


def ride_of(level: str, start: str) -> Ride:
    """Return the ride of a rider's level and a start."""
    return planned(session(RIDES[level][0], level, 12, STARTS[start]), MINUTES)


def run(job: Job) -> tuple[Job, Apart, list[Lapped]]:
    """Return how far the models are apart in one comparison, and the laps themselves."""
    laps = compared(
        ride_of(job.level, job.start),
        is_rear=job.tyre == "rear",
        grid=Grid(),
        longest_s=LONGEST_S,
    )
    apart = [thirds(lap.ours - lap.finer) for lap in laps]
    most = [np.abs(one).max(axis=(0, 2)) for one in apart]
    arrived = [np.abs(one[lap.arrivals]).max(axis=(0, 2)) for one, lap in zip(apart, laps, strict=True)]
    ribs = [np.abs((lap.ours - lap.finer)[lap.arrivals]).max(axis=(0, 2)) for lap in laps]
    found = Apart(
        most[0], np.max(most, axis=0), np.max(arrived, axis=0), np.max(ribs, axis=0), apart[-1].mean(axis=0)
    )
    return job, found, laps


def refined(tyre: str) -> list[tuple[int, float, Floats]]:
    """Return how far each grid is from the finest over the first lap from cold, by depth [K]."""
    ride = ride_of("experienced", "cold")
    found = [
        (halvings, longest_s, thirds(compared(
            ride, is_rear=tyre == "rear", grid=Grid(halvings=halvings), longest_s=longest_s, laps=1
        )[0].finer))
        for halvings, longest_s in REFINED
    ]  # fmt: skip
    finest = found[-1][2]
    return [(halvings, step, np.abs(read - finest).max(axis=(0, 2))) for halvings, step, read in found]


def figure(value: float) -> str:
    """Return a difference as text, beyond the bound in bold."""
    return f"**{value:.2f}**" if value > BOUND_K else f"{value:.2f}"


def row(*cells: str) -> str:
    """Return a row of a table."""
    return "| " + " | ".join(cells) + " |"


def apart_table(found: dict[Job, Apart], level: str) -> list[str]:
    """Return the table of one rider's level."""
    spans = ("lap", "session", "arrival")
    heads = [f"{depth}, {span}" for span in spans for depth in DEPTHS]
    lines = [row("start", "tyre", *heads), row("---", "---", *["---:"] * len(heads))]
    for start in STARTS:
        for tyre in TYRES:
            one = found[Job(level, start, tyre)]
            cells = [figure(value) for values in (one.lap, one.whole, one.arrivals) for value in values]
            lines.append(row(start, tyre, *cells))
    return [*lines, ""]


def mean_table(found: dict[Job, Apart], level: str) -> list[str]:
    """Return the mean differences of the last lap, by depth and third."""
    heads = [f"{depth} {third}" for depth in DEPTHS for third in ("left", "centre", "right")]
    lines = [row("start", "tyre", *heads), row("---", "---", *["---:"] * len(heads))]
    for start in STARTS:
        for tyre in TYRES:
            mean = found[Job(level, start, tyre)].mean
            lines.append(row(start, tyre, *(f"{value:+.2f}" for value in mean.ravel())))
    return [*lines, ""]


def refinement(found: dict[str, list[tuple[int, float, Floats]]]) -> list[str]:
    """Return the table of the refinement."""
    lines = [
        row("tyre", "across", "outermost, mm", "step at most, s", *DEPTHS), row("---", *["---:"] * 6)
    ]  # fmt: skip
    for tyre, grids in found.items():
        for halvings, longest_s, apart in grids:
            cells = [f"{value:.3f}" for value in apart]
            lines.append(
                row(
                    tyre,
                    str(Grid().across * 2**halvings),
                    f"{0.1 / 2**halvings:.3f}",
                    f"{longest_s:g}",
                    *cells,
                )
            )
    return [*lines, ""]


AFTER_REFINEMENT = (
    f"What follows was run with {Grid().across} elements across, three times the {RIBS} ribs, the outermost"
    " 0.1 mm, steps of 0.2 s at most."
)


def head() -> list[str]:
    """Return the lines that stand above the tables."""
    machine = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
    return [
        "# Ribs and layers beside a finer model",
        "",
        "Written by `make evidence` (scripts/finer.py); do not edit. What is compared, what the figures mean",
        "and what they led to: [docs/physics/finer-model.md](../physics/finer-model.md).",
        "",
        f"- commit: {commit()}",
        f"- machine: {machine}, Python {platform.python_version()}",
        f"- when: {datetime.now(UTC):%Y-%m-%d %H:%M} UTC; no draws, so no seed",
        f"- the demo circuit, sport-road tyres, {MINUTES:g} min of laps; bound {BOUND_K} K, bold beyond it",
        "",
        "The same laws solved otherwise: this proves how finely they are cut up, not the laws.",
        "",
        "## The finer model no longer moves",
        "",
        "Most that a third of the crown is away from the finest grid over the first lap from cold,",
        "`experienced` [K].",
        "",
    ]


def page(found: dict[Job, Apart], grids: dict[str, list[tuple[int, float, Floats]]]) -> list[str]:
    """Return the page's lines."""
    lines = [*head(), *refinement(grids), AFTER_REFINEMENT, ""]
    for level, (_, weather) in RIDES.items():
        lines += [
            f"## Rider `{level}`, {weather}",
            "",
            "The most that a third of the crown is apart [K]: in the first lap, the session, and at the",
            "arrivals of the session at its corners, where the ladder reads.",
            "",
            *apart_table(found, level),
            "Mean over the last lap, ours less finer [K]:",
            "",
            *mean_table(found, level),
        ]
    names = sorted(path.name for path in FIGURES.glob("*.svg"))
    lines += [
        "## Figures",
        "",
        "Solid: ribs and layers. Dashed: finer. `experienced`.",
        "",
    ]
    return lines + [line for name in names for line in (f"![{name}](finer/{name})", "")]


def main() -> int:
    """Run all comparisons and write page and figures."""
    jobs = [
        Job(level, start, tyre) for level in RIDES for start in STARTS for tyre in TYRES
    ]  # fmt: skip
    FIGURES.mkdir(parents=True, exist_ok=True)
    found: dict[Job, Apart] = {}
    with ProcessPoolExecutor(max_workers=os.cpu_count()) as pool:
        grids = {tyre: pool.submit(refined, tyre) for tyre in TYRES}
        for job, apart, laps in pool.map(run, jobs):
            print(job, np.round(apart.whole, 2), flush=True)
            found[job] = apart
            if job.level == "experienced":
                (FIGURES / f"session-{job.start}-{job.tyre}.svg").write_text(
                    laps_drawn(laps), encoding="utf-8"
                )
                (FIGURES / f"lap-{job.start}-{job.tyre}.svg").write_text(lap_drawn(laps[0]), encoding="utf-8")
        tables = {tyre: grid.result() for tyre, grid in grids.items()}
    OUT.write_text("\n".join(page(found, tables)).rstrip() + "\n", encoding="utf-8")
    print(OUT.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
