"""The machine."""

from __future__ import annotations

from dataclasses import dataclass

from leanladder.domain.parameter import Parameter


@dataclass(frozen=True, slots=True)
class Wheel:
    """One wheel as the machine has it.

    tyre_width_m [m], the nominal section width; rolling_radius_m [m]; rim_mass_kg [kg] of rim,
    and disc; cavity_m3 [m3] of gas; cold_bar [bar gauge], a usual cold pressure for circuit use.
    """

    tyre_width_m: Parameter
    rolling_radius_m: Parameter
    rim_mass_kg: Parameter
    cavity_m3: Parameter
    cold_bar: Parameter


@dataclass(frozen=True, slots=True)
class Motorcycle:
    """A machine with its rider aboard (machine/1).

    mass_kg [kg] with rider and fuel; wheelbase_m, cg_height_m [m] upright; front_share [-] of
    the static load; power_w [W] at the rear wheel; drag_area_m2 [m2]; drag_height_m [m];
    clearance_left_deg, clearance_right_deg [deg] of bike lean at which something touches;
    top_speed_mps [m/s].
    """

    name: str
    describes: str
    mass_kg: Parameter
    wheelbase_m: Parameter
    cg_height_m: Parameter
    front_share: Parameter
    power_w: Parameter
    drag_area_m2: Parameter
    drag_height_m: Parameter
    clearance_left_deg: Parameter
    clearance_right_deg: Parameter
    top_speed_mps: Parameter
    front: Wheel
    rear: Wheel
    source: str = ""
