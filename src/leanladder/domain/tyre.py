"""Tyres: rubber, section and what their maker states."""

from __future__ import annotations

from dataclasses import dataclass

from leanladder.domain.parameter import Parameter


@dataclass(frozen=True, slots=True)
class GripPoint:
    """A measured grip: rubber_c [degC] of the outer 2 mm and the peak friction there [-]."""

    rubber_c: float
    grip: float


@dataclass(frozen=True, slots=True)
class Compound:
    """Rubber as grip sees it.

    peak_grip [-] on ordinary dry asphalt; glass_c [degC]; keying_full_c and adhesion_full_c
    [degC], where each mechanism is fully developed; keying_cold and adhesion_cold [-], the
    share of it left in stiff rubber; fade_from_c [degC] and fade_per_k [1/K], the hot end.
    grip_points, if any, override the curve on ordinary asphalt.
    """

    peak_grip: Parameter
    glass_c: Parameter
    keying_full_c: Parameter
    keying_cold: Parameter
    adhesion_full_c: Parameter
    adhesion_cold: Parameter
    fade_from_c: Parameter
    fade_per_k: Parameter
    grip_points: tuple[GripPoint, ...] = ()


@dataclass(frozen=True, slots=True)
class Tyre:
    """One tyre, front or rear, of a family.

    section_m [m], the nominal width that the figures are for (a wheel of another width scales
    the section); crown_radius_m [m] of the section; width_m [m] of the tread from edge to edge, flat;
    rolling_radius_m [m]; patch_half_width_m [m] at static load; tread_m and carcass_m
    thicknesses [m]; conductivity_w_mk, density_kg_m3, heat_capacity_j_kgk of the rubber;
    rolling_loss [-], a factor on the published speed formula; slip_stiffness, side_stiffness
    and camber_stiffness [1/rad]; working_low_c and working_high_c [degC], the range its kind
    works in; life_laps, the life a maker would state for track use, in laps of 4 km.
    minimum_cold_bar [bar gauge] is the maker's, None unless someone typed it in.
    """

    section_m: Parameter
    crown_radius_m: Parameter
    width_m: Parameter
    rolling_radius_m: Parameter
    patch_half_width_m: Parameter
    tread_m: Parameter
    carcass_m: Parameter
    conductivity_w_mk: Parameter
    density_kg_m3: Parameter
    heat_capacity_j_kgk: Parameter
    rolling_loss: Parameter
    slip_stiffness: Parameter
    side_stiffness: Parameter
    camber_stiffness: Parameter
    working_low_c: Parameter
    working_high_c: Parameter
    life_laps: Parameter
    compound: Compound
    minimum_cold_bar: float | None = None


@dataclass(frozen=True, slots=True)
class TyreFamily:
    """A named pair of tyres (tyre/1)."""

    name: str
    describes: str
    front: Tyre
    rear: Tyre
    source: str = ""
