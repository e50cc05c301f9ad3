"""Write docs/evidence/hot-touring.md: a touring machine's hot pressures beside published ones, with a figure.

Run by `make evidence`; takes some ten seconds. The rides and what they take for granted stand in
tests/published/touring.py.
"""

from __future__ import annotations

import os
import platform
import sys
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.evidence import commit  # noqa: E402
from scripts.plot import Axis, Band, Dots, Line, Panel, figure  # noqa: E402
from tests.published import touring  # noqa: E402
from tests.published.touring import AIRS_C, COLD_PSI, HOT_PSI, IMPLIED_GAS_C, SPEEDS_KMH, Way  # noqa: E402

OUT = ROOT / "docs" / "evidence" / "hot-touring.md"
PICTURE = OUT.with_suffix(".svg")
BAND = (5.0, 95.0)
WHEELS = ("front", "rear")
MIDDLE_KMH = 130.0

HEAD = """\
# A touring machine's hot pressures

Written by `make evidence`; do not edit. Against others: one published set of figures, in words.

- commit: {commit}
- machine: {machine}, Python {python}
- seed: {seed}, {members} members
- when: {when:%Y-%m-%d %H:%M} UTC

Published: "Hot tire pressures", appendix C, a public web page of 2022 by Crystal Clear Research, as quoted
to us; the page was not read. Road touring machine, 4-20 °C air, {cold[0]}/{cold[1]} psi cold (front, rear),
{hot[0]}/{hot[1]} psi after 3 h at 120-140 km/h, most of the rise within 20 min; implied gas about 37 and
47 °C. Those gas temperatures follow from the pressures only if cold was set at {set_c} °C, both wheels alike,
so that is taken (40 °F). Where in its range the air stood when the hot pressures were read is not said. Of
the site only the first page could be read, which speaks of Colorado: 1600 m up the same readings would mean
gas some 2 K warmer, and a miss that much larger.

The model: straight level road, steady speed, air and road alike, no sun, no wind, pressures set at
{set_c} °C, tyres as the air at the start. Tyres `sport-road`. No touring machine ships: the `naked` one is
taken with 365 kg (330-400, rider and luggage), wheelbase 1.52 m, front share 0.46 and drag area 0.60 m², all
judgement. Nothing was tuned on it.
"""


OVER = """\
## Over the spreads

Heat, tyre, wheel and machine figures drawn from their spreads within their ranges; air evenly in 4-20 °C,
speed in 120-140 km/h. Low and high are the 5th and 95th of a hundred; least and most of all members beside.

| | published | low | middle | high | least | most | |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | --- |
""".splitlines()


def tables() -> list[str]:
    """Return both tables: figures as shipped by air and speed, and the members' band."""
    lines = [
        "## Figures as shipped", "",
        "| air °C | km/h | front psi | rear psi | front gas °C | rear gas °C | of the rise at 20 min |",
        "| ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]  # fmt: skip
    for air_c in AIRS_C:
        for speed_kmh in SPEEDS_KMH:
            course = touring.shipped(Way(air_c, speed_kmh))
            psi, gas_c = course.psi[-1], course.gas_c[-1]
            lines.append(
                f"| {air_c:g} | {speed_kmh:g} | {psi[0]:.1f} | {psi[1]:.1f} | {gas_c[0]:.0f} "
                f"| {gas_c[1]:.0f} | {course.early().min():.2f} |"
            )
    lines.append(
        f"| **published, 4-20** | **120-140** | **{HOT_PSI[0]}** | **{HOT_PSI[1]}** "
        f"| **{IMPLIED_GAS_C[0]:.0f}** | **{IMPLIED_GAS_C[1]:.0f}** | **most** |"
    )
    return [*lines, "", *band_table()]


def band_table() -> list[str]:
    """Return the members' band of pressures and gas, and whether the published figures stand within."""
    lines = [*OVER]
    for wheel, name in enumerate(WHEELS):
        for what, told, part in (
            ("psi", HOT_PSI[wheel], "psi"),
            ("gas °C", IMPLIED_GAS_C[wheel], "gas_c"),
        ):
            values = np.array([getattr(one, part)[-1, wheel] for one in touring.members()])
            low, middle, high = np.percentile(values, (BAND[0], 50.0, BAND[1]))
            missed = max(low - told, told - high)
            said = "within" if missed <= 0.0 else f"missed by {missed:.1f}"
            lines.append(
                f"| {name}, {what} | {told:g} | {low:.1f} | {middle:.1f} | {high:.1f} | {values.min():.1f} "
                f"| {values.max():.1f} | {said} |"
            )
    early = np.array([one.early() for one in touring.members()])
    return [
        *lines, "", f"Of the rise after 3 h, {early.min():.2f} to {early.max():.2f} stands after 20 min.", "",
        "![Gauge pressure over three hours](hot-touring.svg)", "",
        "What the misses mean: [decision 22](../decisions/0022-hot-pressures-of-a-touring-machine.md).",
    ]  # fmt: skip


def picture() -> str:
    """Return gauge pressure against minutes, front and rear."""
    minutes = np.arange(touring.MINUTES + 1)
    panels = []
    for wheel, name in enumerate(WHEELS):
        band = np.percentile([one.psi[:, wheel] for one in touring.members()], BAND, axis=0)
        drawn: list[Line | Band | Dots] = [Band("nine members in ten", minutes, band[0], band[1])]
        drawn += [
            Line(f"{air_c:g} °C air", minutes, touring.shipped(Way(air_c, MIDDLE_KMH)).psi[:, wheel])
            for air_c in AIRS_C
        ]
        drawn.append(
            Dots("published", [0.0, touring.MINUTES], [COLD_PSI[wheel], HOT_PSI[wheel]], filled=True)
        )
        panels.append(
            Panel(
                name, Axis("minutes at 130 km/h", 0, 180, 30), Axis("gauge pressure, psi", 40, 52, 2), drawn
            )
        )
    return figure("Gauge pressure of front and rear tyre over three hours, model and published", panels)


def main() -> int:
    """Write the page and its figure."""
    head = HEAD.format(
        commit=commit(), machine=f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores",
        python=platform.python_version(), seed=touring.SEED, members=touring.MEMBERS, when=datetime.now(UTC),
        cold=COLD_PSI, hot=HOT_PSI, set_c=touring.SET_C,
    )  # fmt: skip
    OUT.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_text(picture(), encoding="utf-8")
    OUT.write_text("\n".join([head, *tables()]) + "\n", encoding="utf-8")
    print(OUT.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
