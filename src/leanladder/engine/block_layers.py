"""Heat through the layers of a block's ribs, and from rib to rib."""

from __future__ import annotations

from leanladder.engine.block_rows import (
    AT_SURFACE,
    BEARS,
    BENDS,
    COMES,
    FLOWED,
    FROM_GAS,
    IN_CARCASS,
    IN_TREAD,
    LINER_S,
    OPEN,
    PARTS,
    RECORD,
    RIBS,
    TO_ROAD,
    WIDTH,
)
from leanladder.engine.compiled import contracted
from leanladder.engine.spells import SKIN_HEAT, SKIN_OUT, SKIN_OWN, SKIN_TAKE, SKIN_UNDER, STEP, UNDER
from leanladder.engine.tyre_thermal import LAYERS, Body, Floats


@contracted
def move_loaded(ribs: Floats, rows: Floats, first: int, last: int, factors: Floats) -> None:
    """Move ribs first to last - 1 on by a beat: an implicit midpoint step through the layers of each."""
    step, take0, under0, heat0 = (
        factors[STEP],
        factors[SKIN_TAKE],
        factors[SKIN_UNDER],
        factors[SKIN_HEAT],
    )
    own, out = factors[SKIN_OWN], factors[SKIN_OUT]
    under = factors[UNDER:]
    keep1, inner1, take1, follow1 = under[0], under[1], under[2], under[3]
    keep2, inner2, take2, follow2 = under[4], under[5], under[6], under[7]
    keep3, inner3, take3, follow3 = under[8], under[9], under[10], under[11]
    keep4, inner4, take4, follow4 = under[12], under[13], under[14], under[15]
    keep5, inner5, take5, follow5 = under[16], under[17], under[18], under[19]
    keep6, take6, follow6 = under[20], under[22], under[23]
    for rib in range(first, last):
        here = ribs[rib * RECORD * WIDTH : (rib + 1) * RECORD * WIDTH]
        for w in range(WIDTH):
            t0, t1, t2 = here[w], here[WIDTH + w], here[2 * WIDTH + w]
            t3, t4 = here[3 * WIDTH + w], here[4 * WIDTH + w]
            t5, t6 = here[5 * WIDTH + w], here[6 * WIDTH + w]
            bears = here[BEARS * WIDTH + w]
            tread, carcass = (
                rows[IN_TREAD * WIDTH + w] * bears,
                rows[IN_CARCASS * WIDTH + w] * here[BENDS * WIDTH + w],
            )
            # from the liner outwards what each midpoint would be without the layer outside it
            m6 = keep6 * t6 + (take6 * carcass + rows[FROM_GAS * WIDTH + w])
            m5 = inner5 * m6 + (take5 * carcass + keep5 * t5)
            m4 = inner4 * m5 + (take4 * tread + keep4 * t4)
            m3 = inner3 * m4 + (take3 * tread + keep3 * t3)
            m2 = inner2 * m3 + (take2 * tread + keep2 * t2)
            m1 = inner1 * m2 + (take1 * tread + keep1 * t1)
            m0 = under0 * m1 + (take0 * tread + t0)
            leaves = rows[TO_ROAD * WIDTH + w] * bears + here[OPEN * WIDTH + w]
            comes = rows[AT_SURFACE * WIDTH + w] * bears + here[COMES * WIDTH + w]
            m0 = (heat0 * comes + (m0 * leaves + m0)) / (out * leaves + own)
            m1 = follow1 * m0 + m1
            m2 = follow2 * m1 + m2
            m3 = follow3 * m2 + m3
            m4 = follow4 * m3 + m4
            m5 = follow5 * m4 + m5
            m6 = follow6 * m5 + m6
            here[w], here[WIDTH + w], here[2 * WIDTH + w] = 2.0 * m0 - t0, 2.0 * m1 - t1, 2.0 * m2 - t2
            here[3 * WIDTH + w], here[4 * WIDTH + w] = 2.0 * m3 - t3, 2.0 * m4 - t4
            here[5 * WIDTH + w], here[6 * WIDTH + w] = 2.0 * m5 - t5, 2.0 * m6 - t6
            rows[LINER_S * WIDTH + w] += step * m6


@contracted
def move_quiet(ribs: Floats, rows: Floats, first: int, last: int, factors: Floats) -> None:
    """Move ribs first to last - 1, which bear no load, on by a spell; as move_loaded."""
    step, under0, heat0 = factors[STEP], factors[SKIN_UNDER], factors[SKIN_HEAT]
    own, out = factors[SKIN_OWN], factors[SKIN_OUT]
    under = factors[UNDER:]
    keep1, inner1, follow1 = under[0], under[1], under[3]
    keep2, inner2, follow2 = under[4], under[5], under[7]
    keep3, inner3, follow3 = under[8], under[9], under[11]
    keep4, inner4, follow4 = under[12], under[13], under[15]
    keep5, inner5, take5, follow5 = under[16], under[17], under[18], under[19]
    keep6, take6, follow6 = under[20], under[22], under[23]
    for rib in range(first, last):
        here = ribs[rib * RECORD * WIDTH : (rib + 1) * RECORD * WIDTH]
        for w in range(WIDTH):
            t0, t1, t2 = here[w], here[WIDTH + w], here[2 * WIDTH + w]
            t3, t4 = here[3 * WIDTH + w], here[4 * WIDTH + w]
            t5, t6 = here[5 * WIDTH + w], here[6 * WIDTH + w]
            carcass, leaves = rows[IN_CARCASS * WIDTH + w] * here[BENDS * WIDTH + w], here[OPEN * WIDTH + w]
            m6 = keep6 * t6 + (take6 * carcass + rows[FROM_GAS * WIDTH + w])
            m5 = inner5 * m6 + (take5 * carcass + keep5 * t5)
            m4 = inner4 * m5 + keep4 * t4
            m3 = inner3 * m4 + keep3 * t3
            m2 = inner2 * m3 + keep2 * t2
            m1 = inner1 * m2 + keep1 * t1
            m0 = under0 * m1 + t0
            m0 = (heat0 * here[COMES * WIDTH + w] + (m0 * leaves + m0)) / (out * leaves + own)
            m1 = follow1 * m0 + m1
            m2 = follow2 * m1 + m2
            m3 = follow3 * m2 + m3
            m4 = follow4 * m3 + m4
            m5 = follow5 * m4 + m5
            m6 = follow6 * m5 + m6
            here[w], here[WIDTH + w], here[2 * WIDTH + w] = 2.0 * m0 - t0, 2.0 * m1 - t1, 2.0 * m2 - t2
            here[3 * WIDTH + w], here[4 * WIDTH + w] = 2.0 * m3 - t3, 2.0 * m4 - t4
            here[5 * WIDTH + w], here[6 * WIDTH + w] = 2.0 * m5 - t5, 2.0 * m6 - t6
            rows[LINER_S * WIDTH + w] += step * m6


@contracted
def flow_across(ribs: Floats, rows: Floats, lasts_s: float, body: Body) -> None:
    """Move what flows from rib to rib in a time."""
    for layer in range(LAYERS):
        part = lasts_s * body.across_w_k[layer] / body.heat_j_k[layer * RIBS]
        for w in range(WIDTH):
            rows[(PARTS + layer) * WIDTH + w] = part
    for place in range(LAYERS * WIDTH):
        rows[FLOWED * WIDTH + place] = 0.0
        # the record after the last rib is as that rib, so that nothing leaves at the edge
        ribs[RIBS * RECORD * WIDTH + place] = ribs[(RIBS - 1) * RECORD * WIDTH + place]
    for rib in range(RIBS):
        here = ribs[rib * RECORD * WIDTH : (rib + 2) * RECORD * WIDTH]
        for place in range(LAYERS * WIDTH):
            flow = here[RECORD * WIDTH + place] - here[place]
            here[place] += rows[PARTS * WIDTH + place] * (flow - rows[FLOWED * WIDTH + place])
            rows[FLOWED * WIDTH + place] = flow
