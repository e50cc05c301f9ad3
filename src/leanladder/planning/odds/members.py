"""Tyres, road and riders of every member of an ensemble, from the draws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from leanladder import catalogue
from leanladder.domain.parameter import Parameter
from leanladder.domain.session import FittedTyre, Session
from leanladder.domain.tyre import Compound
from leanladder.engine import sky
from leanladder.engine.carried import GLASS_FROM_K, GLASS_ROWS, GLASS_STEP_K, Curves, Machines, Own, Stances
from leanladder.engine.grip import Floats
from leanladder.engine.members import Differences, in_blocks
from leanladder.planning.gripping import surface_grip
from leanladder.planning.odds.draws import Draws, apply
from leanladder.planning.odds.sizes import size_of
from leanladder.planning.rubber import RIBS, Rubber
from leanladder.planning.setting import Setting, road_surfaces


class MemberTyre(NamedTuple):
    """One end of every member's machine: what differs in its heat, its grip's curves, its own of them.

    own_level (members,) [-]: the part of own.level that is this tyre's alone; level_spread [-], its size.
    """

    differences: Differences
    curves: Curves
    own: Own
    own_level: Floats
    level_spread: float


@dataclass(frozen=True, slots=True)
class Members:
    """Every member of an ensemble at one session.

    values: what each input's draws mean (members,), by code; sizes: one standard draw of each; machines, as
    the engine's search wants them.
    """

    draws: Draws
    values: Mapping[str, Floats]
    sizes: Mapping[str, float]
    front: MemberTyre
    rear: MemberTyre
    machines: Machines

    @property
    def count(self) -> int:
        """How many members there are."""
        return self.draws.members


def enrol(place: Setting, draws: Draws) -> Members:
    """Return the members that draws make of a session made ready."""
    session = place.session
    spreads = {spread.code: spread for spread in catalogue.spreads()}
    sizes = {code: size_of(spread, session) for code, spread in spreads.items()}
    values = {code: apply(spreads[code].kind, sizes[code], z) for code, z in draws.common.items()}
    front = _tyre(place, place.front, session.front, values, sizes["front_level"])
    rear = _tyre(place, place.rear, session.rear, values, sizes["rear_level"])
    share, stance = session.motorcycle.front_share.value, place.stance
    crown_m = share * front.own.crown_radius_m + (1.0 - share) * rear.own.crown_radius_m
    height_m = np.maximum(stance.cg_height_m * values["cg_height"], 2.0 * crown_m)
    corner_level = apply("factor", sizes["corner_grip"], draws.corners["corner_grip"])
    stances = Stances(crown_m, height_m, stance.drag_n, stance.rolling)
    machines = Machines(front.curves, rear.curves, front.own, rear.own, stances, corner_level)
    return Members(draws, values, sizes, front, rear, machines)


def _tyre(
    place: Setting, tyre: Rubber, fitted: FittedTyre, values: Mapping[str, Floats], level_spread: float
) -> MemberTyre:
    end = "rear" if tyre.is_rear else "front"
    crown, patch = values[f"crown_{end}"], values[f"patch_{end}"]
    own_level = values[f"{end}_level"]
    own = Own(
        level=own_level * values["surface"],
        shift_k=values["grip_shift"],
        glass_k=values["glass"],
        cold=values["cold_grip"],
        crown_radius_m=tyre.crown.crown_radius_m * crown,
        patch_half_m=tyre.crown.patch_half_m * patch,
    )
    differences = _differences(place, tyre, values, (crown, patch, values[f"rolling_{end}"]))
    return MemberTyre(differences, _curves(place, tyre, fitted), own, own_level, level_spread)


def _differences(
    place: Setting, tyre: Rubber, values: Mapping[str, Floats], own: tuple[Floats, Floats, Floats]
) -> Differences:
    """What differs in a tyre's heat; own: factors on crown radius, patch and rolling loss."""
    crown, patch, loss = own
    # perfect contact is the most there is; a wider patch is a shorter one, met for less time
    most = 1.0 / place.tables.heat["contact_factor"]
    contact = np.minimum(values["contact"], most) * np.sqrt(patch)
    return Differences(
        crown=in_blocks(crown),
        patch_half_m=in_blocks(tyre.body.patch_half_m * patch),
        flex_half_m=in_blocks(tyre.body.flex_half_m * patch),
        loss=in_blocks(loss),
        scrub=in_blocks(values["scrub"]),
        contact=in_blocks(contact),
        air=in_blocks(values["convection"]),
        road_k=in_blocks(values["track"]),
        air_k=in_blocks(values["air"]),
        sun=in_blocks(_sun(place.session, values["cloud"])),
    )


def _sun(session: Session, cloud: Floats) -> Floats:
    """The factor on the sun of a cloud that differs from the one told."""
    told = session.weather.cloud
    return np.asarray(sky.cloud_share(np.clip(told + cloud, 0.0, 1.0)) / sky.cloud_share(told))


def _curves(place: Setting, tyre: Rubber, fitted: FittedTyre) -> Curves:
    """The tyre's friction on every surface of the session, over glass and rubber temperature."""
    compound, kept = fitted.tyre.compound, _kept(place, tyre, fitted)
    offsets_k = GLASS_FROM_K + GLASS_STEP_K * np.arange(GLASS_ROWS)
    surfaces = road_surfaces(place.session)

    def table(rows: list[Compound]) -> Floats:
        return kept * np.array(
            [[surface_grip(each, surface, place.tables) for each in rows] for surface in surfaces]
        )

    glass = [replace(compound, glass_c=_moved(compound.glass_c, offset_k)) for offset_k in offsets_k.tolist()]
    friction = table(glass)
    colder = table(
        [
            replace(
                each,
                keying_cold=_moved(each.keying_cold, each.keying_cold.spread),
                adhesion_cold=_moved(each.adhesion_cold, each.adhesion_cold.spread),
            )
            for each in glass
        ]
    )
    return Curves(friction, colder - friction, RIBS, tyre.crown.rib_m, tyre.crown.half_arc_m)


def _kept(place: Setting, tyre: Rubber, fitted: FittedTyre) -> float:
    """What the tyre's condition keeps of its grip: already within its own tables, on any surface alike."""
    plain = surface_grip(fitted.tyre.compound, place.session.surface, place.tables)
    return float(tyre.crown.tables[0].max() / plain.max())


def _moved(figure: Parameter, by: float) -> Parameter:
    return replace(figure, value=figure.value + by)
