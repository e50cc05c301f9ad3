"""Where facts of the trade and published ranges pull apart, for the page of parameters.

Figures in it are read from the data, so that the text cannot state a value that no longer ships.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from scripts.sensitivity.sessions import FAMILY

from leanladder.domain.parameter import Parameter

# Common practice, trade fact T1: first turns on cold rubber.
COLD_LEAN_DEG = 10.0

TEXT = """\
## Where trade facts and ranges pull apart

Trade facts are common practice without a published source (tests/trade); ranges are published or judged
(above). No published measurement of a motorcycle tyre's inner heat, or of its grip against temperature, was
found. So the values were settled on the trade's facts inside the ranges (decisions
[5](../decisions/0005-values-settled-on-trade-facts.md) and
[20](../decisions/0020-heat-values-settled-anew.md)): that facts hold shows that such values exist, not that
the model predicts them.

- **Cold rubber.** The trade's guide is about {cold_lean:g} degrees of bike lean at 0 °C: friction of
  {cold_demand:.2f}. The reference's range for stiff rubber, 0.75 to 0.9 of a road tyre's peak of about 1.2,
  gives 0.9 and more. No friction inside the range comes near the guide. Settled: both stand, as two limits,
  and the lower one counts. The card is caution, not physics; that is why it decides most rungs of a cool
  morning.
- **Warm and cold the same way.** Wet-road skid figures fall by about 1.2 per 10 K; the trade says that grip
  rises with warmth. Both are right of different rubber on different roads. Settled: the wet figures are not
  used, and there is no number on a wet road.
- **Quick to warm, and not too hot inside.** That caps settle within 8 minutes (T7), heated and cold tyres
  meet in three laps (T8) and a long stop takes all heat out (T10) asks for little rubber; carcass and tread
  base within 25 K of the outer 2 mm asks for rubber that conducts well and bends far beside the patch.
  Settled at the thin and light ends: tread {tread:g} and {rear_tread:g} mm of 4 to 8,
  carcass {carcass:g} and {rear_carcass:g} of 2 to 4, heat capacity {capacity:g} of 1500 to 2000,
  conductivity {conductivity:g} of 0.20 to 0.30, bending {spread:g} times the patch (no published range).
- **Settled by minute 8.** A card factor of 1.15 for `regular`, the most that the design allows, misses T7
  by seconds at 12 °C. Settled on {card:g}, the more cautious one ([decision
  8](../decisions/0008-regular-card-at-1-1.md)).
- **Fine at 80 °C, past its best on the hottest day.** T11 wants at most 3 % lost at 80 °C, T16 half a
  degree of cap lost on a hot day. Settled at the end of the judged range: fade from {fade_from:g} °C by
  {fade:.2f} % per K of 0.2 to 0.5.
- **Shoulders that warm.** Perfect contact would give the tyre 0.29 of what slides; the trade's busy
  shoulder, not far below the centre, led to {slip_share:g} (partial contact: up to 1), to side and
  camber stiffness at the low ends of their ranges ({side:g} of 10 to 25, {camber:g} of 0.7 to 1.5 per rad)
  and to {spin:g} of the camber spin sliding, near the most that was judged possible.
- **How much heat the road takes.** Real contact of rubber on stone is a few per cent of the patch, two
  half-spaces are the upper bound; a factor from 0.1 to 1 is left. Settled at {contact:g}; it is the softest
  figure here, and readings have to fit it.
- **How flexing falls with warmth.** What is published (0.008 per K for cars; 0.006 to 0.010 over all
  classes) is for the air of a laboratory at 20 to 30 °C. The model takes {per_k:g} per K of carcass, from
  the coldest morning to the hottest lap. No trade fact tells them apart.
- **Where flexing heats.** About half in the tread, as remembered: {tread_share:g}. A first search, without
  T3 and T4, had ended near 0.6, with side force's loss at the very top of its judged range; equal power by
  slip then heated the carcass too much (T3), and weaving did (T4). Settled: {flex_side:g} of 0 to 0.03 for
  side force.
- **Braking warms a front tyre.** T4 asks for much slip heat under braking; the front's slip stiffness is
  {slip_front:g} per rad, the rear's {slip_rear:g}, both of 12 to 30, judged. A measured pair should replace
  them.
- **Hot pressures.** On circuits the trade's 0.25 to 0.6 bar hold. The one set of published figures, a
  touring machine on a straight road, is met in front and missed behind ([decision
  22](../decisions/0022-hot-pressures-of-a-touring-machine.md)); nothing was tuned on it.
- **Air.** A wheel under a mudguard was judged to keep 0.6 to 1 of the free wheel's cooling. Mild days (T7,
  T9) want the low end: {air_front:g} in front, {air_rear:g} behind, though the front stands freer. Walls
  and rim, for which nothing is published, went lower still ({air_wall:g}, {air_rim:g})."""


def text(figures: Mapping[str, Parameter]) -> str:
    """Return the section, with the values that ship."""

    def value(name: str) -> float:
        return figures[name].value

    def tyre(name: str, end: str = "front") -> float:
        return value(f"tyres/{FAMILY}.{end}.{name}")

    return TEXT.format(
        cold_lean=COLD_LEAN_DEG,
        cold_demand=math.tan(math.radians(COLD_LEAN_DEG)),
        tread=1000.0 * tyre("tread_m"),
        rear_tread=1000.0 * tyre("tread_m", "rear"),
        carcass=1000.0 * tyre("carcass_m"),
        rear_carcass=1000.0 * tyre("carcass_m", "rear"),
        capacity=tyre("heat_capacity_j_kgk"),
        conductivity=tyre("conductivity_w_mk"),
        spread=value("heat.flex_spread"),
        card=value("levels.regular.card_factor"),
        fade_from=tyre("compound.fade_from_c"),
        fade=100.0 * tyre("compound.fade_per_k"),
        slip_share=value("heat.slip_tyre_share"),
        side=tyre("side_stiffness"),
        camber=tyre("camber_stiffness"),
        spin=value("heat.spin_share"),
        contact=value("heat.contact_factor"),
        per_k=value("heat.rolling_per_k"),
        tread_share=value("heat.rolling_tread_share"),
        flex_side=value("heat.flex_side"),
        slip_front=tyre("slip_stiffness"),
        slip_rear=tyre("slip_stiffness", "rear"),
        air_front=value("heat.air_front"),
        air_rear=value("heat.air_rear"),
        air_wall=value("heat.air_wall"),
        air_rim=value("heat.air_rim"),
    )
