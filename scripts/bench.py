"""Time what should be fast, print it beside the aim, and write it to benchmarks/.

Nothing fails: an aim is no bound. One process, each figure the median of five runs, fewer where one is long;
ratios are of what was timed side by side. benchmarks/README.md says how each figure is taken.
"""

from __future__ import annotations

import os
import resource
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.timing import clock, command, cost, equations, flops, members, results, solvers, trace, warm  # noqa: E402
from scripts.timing.members import MEMBERS, Pass  # noqa: E402
from scripts.timing.solvers import Timed  # noqa: E402
from scripts.timing.trace import LAPS, Trace  # noqa: E402

from leanladder.planning.ladder import plan  # noqa: E402

JUDGED = (
    0,
    1,
    7,
    300,
    1023,
)  # members whose readings are held against a tight solution; the first is neutral
LAP = 1  # the second: the first begins at the pit exit
LONGEST_S = 450.0  # what is left then is left out
MEMBER_LAPS = MEMBERS * LAPS * 2  # of one tyre each
RSS_UNIT = 1024.0 * (1.0 if sys.platform == "darwin" else 1.0 / 1024.0)  # of ru_maxrss, by system


class Bench:
    """What was measured so far; each figure is printed as it comes."""

    def __init__(self) -> None:
        self.began_s = time.monotonic()
        self.values: dict[str, float | None] = {}
        self.more: dict[str, Any] = {}

    def tell(self, name: str, value: float | None) -> None:
        """Keep a figure and print it beside its aim."""
        self.values[name] = value
        print(results.line(name, value), flush=True)


def ladder(bench: Bench) -> None:
    """Time ten nominal laps, and a whole ladder with odds where there are odds."""
    asked = trace.session()
    trace.nominal_laps(asked)  # loads what was compiled
    bench.tell("ladder_10_laps_ms", 1e3 * clock.seconds(lambda: trace.nominal_laps(asked)))
    told = plan(asked)
    with_odds = told.members > 0
    bench.tell("odds_ladder_s", clock.seconds(lambda: plan(asked)) if with_odds else None)


def ensemble(bench: Bench, timed: Pass) -> None:
    """Time the pass of all members, and say how far off it is."""
    read = timed()
    bench.tell("pass_1024x10_s", clock.seconds(timed))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    bench.tell("peak_rss_mb", peak * RSS_UNIT / 1024.0)
    bench.tell("error_max_c", members.error_c(timed, read, JUDGED))
    judged = [timed.alone(1, member) for member in JUDGED[:2]]
    bench.more["pass"] = {"reference_c": max(solvers.reference_c(tyre, LAP) for tyre in judged)}


def compare(bench: Bench, timed: Pass) -> None:
    """Time the second lap of the rear tyre by SciPy and SUNDIALS, and the pass before and after."""
    rear = timed.tyres[1]
    _, state = members.followed(rear._replace(laps=rear.laps[:LAP]))
    problem = equations.problem(rear, rear.laps[LAP], state)
    tight, most_c = solvers.exact(problem), results.AIMS["error_max_c"].value
    took = [clock.seconds(timed)]
    found = list(solvers.best("scipy", solvers.scipy_ways(problem), tight, rear, most_c))
    stacked = list(solvers.best("scipy", solvers.stacked_ways(problem), tight, rear, most_c))
    package = solvers.sundials()
    others = [] if package is None else solvers.sundials_ways(problem, package)
    sundials = list(solvers.best("sundials", others, tight, rear, most_c))
    took.append(clock.seconds(timed))
    own_us = 1e6 * sum(took) / len(took) / MEMBER_LAPS
    bench.tell("ratio_scipy", _over(found, own_us))
    bench.tell("ratio_sundials", _over(sundials, own_us))
    if package is None:
        print("  SUNDIALS is not installed: pip could not bring requirements-bench.lock here")
    bench.more["solvers"] = [asdict(one) for one in (*found, *stacked, *sundials)]
    bench.more["pass"] |= {"member_lap_us": own_us, "ratio_scipy_stacked": _over(stacked, own_us)}
    for one in (*found, *stacked, *sundials):
        print(f"  {one.name}: {_said(one)}")
    print(f"  the pass: {own_us:.1f} us a member-lap, on {os.cpu_count()} cores")


def _over(timed: Sequence[Timed], own_us: float) -> float | None:
    least = solvers.fastest(timed)
    return None if least is None else least / own_us


def _said(one: Timed) -> str:
    if one.member_lap_us is None:
        return "too far off"
    return f"{one.member_lap_us:.0f} us a member-lap, within {one.error_c:.3f} K"


def ceiling(bench: Bench, timed: Pass) -> None:
    """Say how far the pass is from what its operations would take at this machine's best."""
    each = flops.counted(timed)
    cores = os.cpu_count() or 1
    per_s, took = flops.most_per_s(cores), clock.seconds(timed)
    bench.tell("ratio_to_ceiling", took / (each * MEMBER_LAPS / per_s) if each else None)
    bench.more["pass"] |= {
        "operations_per_member_lap": round(each),
        "gflops": each * MEMBER_LAPS / took / 1e9,
        "most_gflops": per_s / 1e9,
    }
    print(f"  {bench.more['pass']['gflops']:.1f} of {per_s / 1e9:.1f} GFLOP/s, {each:.0f} a member-lap")


def costs(bench: Bench, ride: Trace) -> str:
    """Time the pass against members, laps and ribs; return the picture."""
    by_s = bench.began_s + LONGEST_S
    found = {"members": cost.of_members(ride), "laps": cost.of_laps(ride), "ribs": cost.of_ribs(ride, by_s)}
    bench.more["cost"] = found
    for name, points in found.items():
        off = cost.slope_off(points)
        if off is None:
            print(f"  cost against {name}: not measured")
        else:
            print(f"  cost against {name}: within {100.0 * off:.0f} % of proportional")
    return cost.picture(found["members"], found["laps"], found["ribs"])


def main() -> int:
    """Measure everything, then write it."""
    told = results.head()
    print(f"{told['machine']['processor']}, {told['machine']['cores']} cores, {told['date']}", flush=True)
    bench = Bench()
    warm.warm()
    ladder(bench)
    ride = trace.traced(trace.session(), max(cost.LAPS_AT))
    timed = Pass(ride.first(LAPS))
    ensemble(bench, timed)
    compare(bench, timed)
    ceiling(bench, timed)
    bench.tell("command_s", command.cold_s())
    picture = costs(bench, ride)
    results.write(told | {"figures": results.figures(bench.values)} | bench.more, picture)
    return 0


if __name__ == "__main__":
    sys.exit(main())
