"""Which published range each figure of the data files has to lie in, and every figure that ships.

Ranges and tags are those of the reference sheet shared between projects, reference/physics.md, by section;
it is not part of this repository. Its tags: read (an abstract or excerpt was seen), memory, judgement. What
was read since stands in docs/physics/sources.md. Names are FILE.TABLE.NAME: `tyres/race.front.tread_m`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from typing import Any, Literal

from leanladder.catalogue import motorcycle_names, tyre_names
from leanladder.catalogue.shipped import content, is_figure, names_in, parameter
from leanladder.domain.parameter import Parameter

Tag = Literal["read", "memory", "judgement", "trade", "computed"]
# A source that begins with or holds one of these says itself that nobody published the figure.
OWN_WORDS = ("judgement", "common practice", "design", "rule:", "set beside a finer model")


@dataclass(frozen=True, slots=True)
class Published:
    """A range as published: low and high in the figure's unit, the section it is quoted in, its source."""

    low: float
    high: float
    section: str
    source: str
    tag: Tag

    def holds(self, value: float) -> bool:
        """Return whether a value lies within, its ends included."""
        return self.low <= value <= self.high


COSSALTER = "Cossalter, Motorcycle Dynamics, 2nd ed. 2006"
SPORT = ("middleweight-sport", "litre-sport")

RANGES: dict[str, Published] = {
    # Tyres: stiffnesses, sections, rubber.
    "tyres/*.side_stiffness": Published(10.0, 25.0, "1.7", COSSALTER, "memory"),
    "tyres/*.camber_stiffness": Published(0.7, 1.5, "1.7", COSSALTER, "memory"),
    "tyres/*.patch_half_width_m": Published(0.020, 0.030, "1.9", "patch half-width 20-30 mm", "judgement"),
    "tyres/*.front.crown_radius_m": Published(0.055, 0.065, "1.10", "120/70-17", "memory"),
    "tyres/*.rear.crown_radius_m": Published(0.090, 0.105, "1.10", "180/55-17 to 200/60-17", "memory"),
    "tyres/*.front.rolling_radius_m": Published(0.295, 0.305, "1.10", "120/70-17: 0.30", "memory"),
    "tyres/*.rear.rolling_radius_m": Published(0.310, 0.330, "1.10", "180/55-17 to 200/60-17", "memory"),
    "tyres/*.front.section_m": Published(0.120, 0.120, "1.10", "120/70-17", "memory"),
    "tyres/*.rear.section_m": Published(0.180, 0.200, "1.10", "180/55-17 to 200/60-17", "memory"),
    "tyres/race.*.tread_m": Published(0.003, 0.006, "3.8", "slick tread 3-6 mm", "judgement"),
    "tyres/sport-road.*.tread_m": Published(0.004, 0.008, "3.8", "road tread 4-8 mm, centre", "judgement"),
    "tyres/track-day.*.tread_m": Published(0.004, 0.008, "3.8", "road tread 4-8 mm, centre", "judgement"),
    "tyres/*.carcass_m": Published(0.002, 0.004, "3.8", "belt and ply 2-4 mm", "judgement"),
    "tyres/*.conductivity_w_mk": Published(0.20, 0.30, "3.8", "loaded tread rubber", "memory"),
    "tyres/*.density_kg_m3": Published(1100.0, 1200.0, "3.8", "loaded tread rubber", "memory"),
    "tyres/*.heat_capacity_j_kgk": Published(1500.0, 2000.0, "3.8", "loaded tread rubber", "memory"),
    "tyres/*.compound.fade_per_k": Published(0.002, 0.005, "2.4", "0.2-0.5 % per K when hot", "judgement"),
    "tyres/sport-road.*.peak_grip": Published(
        1.1, 1.3, "1.10", "TRL PPR496: dry peak about 1.2 on two asphalts; width of the range ours", "read"
    ),
    # Machines.
    **{
        f"machines/{name}.{figure}": Published(low, high, "1.10", what, "memory")
        for name in SPORT
        for figure, low, high, what in (
            ("mass_kg", 250.0, 300.0, "sport machine with rider"),
            ("wheelbase_m", 1.37, 1.46, "sport machine"),
            ("cg_height_m", 0.60, 0.70, "sport machine with rider"),
            ("front_share", 0.48, 0.52, "sport machine with rider"),
            ("drag_area_m2", 0.30, 0.60, "tucked 0.30-0.40, upright 0.45-0.60"),
            ("front.rolling_radius_m", 0.295, 0.305, "120/70-17: 0.30"),
            ("rear.rolling_radius_m", 0.31, 0.33, "180/55-17 to 200/60-17"),
            ("front.tyre_width_m", 0.12, 0.12, "120/70-17"),
            ("rear.tyre_width_m", 0.18, 0.20, "180/55-17 to 200/60-17"),
        )
    },
    "machines/naked.drag_area_m2": Published(0.45, 0.60, "1.10", "upright", "memory"),
    "machines/supermoto.drag_area_m2": Published(0.45, 0.60, "1.10", "upright", "memory"),
    "planning.margin.guide_crown_m": Published(0.0725, 0.085, "1.10", "mean of both crowns", "memory"),
    "planning.margin.guide_cg_height_m": Published(0.60, 0.70, "1.10", "sport machine with rider", "memory"),
    # Heat.
    "heat.rolling_tread_share": Published(
        0.4, 0.6, "3.1", "Gent and Walter 2006: about half; width ours", "memory"
    ),
    "heat.rolling_per_k": Published(
        0.006, 0.010, "3.1", "UN/ECE R117, ISO 28580: 0.006-0.010 by class, 0.008 for cars", "read"
    ),
    "heat.driving_rolling": Published(
        0.0182, 0.0324, "3.1", "Cooper's formula, 2.25 bar, 50-150 km/h", "computed"
    ),
    "heat.contact_factor": Published(
        0.1, 1.0, "3.3", "two half-spaces are the upper bound; to be calibrated", "judgement"
    ),
    "heat.slip_tyre_share": Published(
        0.29, 1.0, "3.3", "0.29 for perfect contact; partial contact gives the tyre more", "computed"
    ),
    "heat.road_conductivity_w_mk": Published(1.0, 3.0, "5", "FHWA pavement-thermal page", "read"),
    "heat.air_front": Published(0.6, 1.0, "3.4", "share of the free wheel's convection", "judgement"),
    "heat.air_rear": Published(0.6, 1.0, "3.4", "share of the free wheel's convection", "judgement"),
    "heat.emissivity": Published(0.93, 0.97, "3.5", "0.95; width ours", "memory"),
    "heat.sun_absorbed": Published(0.90, 0.96, "3.5", "0.93; width ours", "memory"),
    "heat.sun_seen": Published(0.2, 0.3, "3.5", "a quarter of the tread's area; width ours", "memory"),
    "heat.rim_heat_j_kgk": Published(
        875.0, 910.0, "3.6", "aluminium, 900; Incropera A.1: pure 903, alloys 875-883", "read"
    ),
    "heat.road_heat_capacity_j_kgk": Published(850.0, 1050.0, "sources.md", "paving 850-1050; 920", "read"),
    "heat.wall_m": Published(0.004, 0.006, "3.8", "sidewall 4-6 mm", "judgement"),
    # Road.
    "road.albedo": Published(0.05, 0.20, "5", "new asphalt 0.05-0.10, aged 0.10-0.20: NAP 14410", "read"),
    "road.emissivity": Published(0.70, 0.95, "5", "cores 0.70-0.90, FHWA 0.90-0.95", "read"),
    "road.asphalt_conductivity_w_mk": Published(1.0, 3.0, "5", "range 1.0-3.0, mean 2.2: NAP 14410", "read"),
    "road.asphalt_capacity_j_m3k": Published(
        1.2e6, 2.1e6, "5", "mean 1.5 MJ/m3K: NAP 14410; width ours", "read"
    ),
    "road.air_lag_h": Published(
        1.5, 2.6, "sources.md", "Parton and Logan 1981: 1.86; five other sites 2.59", "read"
    ),
    "road.night_decay": Published(
        2.2, 4.0, "sources.md", "Parton and Logan 1981: 2.20; a crop model 4", "read"
    ),
    # What the trade says of the card.
    "planning.card.at_0_deg": Published(9.0, 10.0, "trade-facts T1", "common practice", "trade"),
    "planning.card.at_10_deg": Published(16.0, 17.0, "trade-facts T1", "common practice", "trade"),
}

# Figures that are recalled, for which the reference gives no range and none was found: why they may stand so.
RECALLED: dict[str, str] = {
    "heat.road_density_kg_m3": "physics.md 3.3 computes with 2300 for dense asphalt; no range there",
    "heat.wall_height_front_m": "from the tyre's nominal size",
    "heat.wall_height_rear_m": "from the tyre's nominal size",
    "road.soil_conductivity_w_mk": "a handbook's range, not in the reference",
    "road.soil_capacity_j_m3k": "a handbook's range, not in the reference",
    "machines/*.rim_mass_kg": "physics.md 1.10 has the rim alone, 3-5 kg; with disc and hub no range there",
    "machines/*.power_w": "usual for the class; a machine file states its own",
    "machines/*.top_speed_mps": "usual for the class; a machine file states its own",
    **{
        f"machines/{name}.{figure}": "physics.md 1.10 is of sport machines; a machine file states its own"
        for name in ("cruiser", "naked", "supermoto", "mini-bike")
        for figure in (
            "mass_kg",
            "wheelbase_m",
            "cg_height_m",
            "front_share",
            "front.rolling_radius_m",
            "rear.rolling_radius_m",
        )
    },
}


@cache
def shipped_figures() -> Mapping[str, Parameter]:
    """Return every figure of the data files that ship, by name; examples are not defaults and left out."""
    found: dict[str, Parameter] = {}
    for name in names_in(""):
        found |= {f"{name}.{path}": figure for path, figure in _within(content(name))}
    for folder, names in (("tyres", tyre_names()), ("machines", motorcycle_names())):
        for name in names:
            found |= {f"{folder}/{name}.{path}": figure for path, figure in _within(content(name, folder))}
    return found


def _within(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Parameter]]:
    for key, value in table.items():
        if is_figure(value):
            yield above + key, parameter(value)
        elif isinstance(value, Mapping):
            yield from _within(value, f"{above}{key}.")


def published(name: str) -> Published | None:
    """Return the published range of a figure, None where there is none."""
    return next((found for pattern, found in RANGES.items() if fnmatchcase(name, pattern)), None)


def recalled(name: str) -> str | None:
    """Return why a figure may stand from memory without a published range, None where it may not."""
    return next((why for pattern, why in RECALLED.items() if fnmatchcase(name, pattern)), None)


def our_own(figure: Parameter) -> bool:
    """Return whether a figure's source says that it is judgement, common practice, design or a rule."""
    return any(word in figure.source.lower() for word in OWN_WORDS)


def unaccounted(figures: Mapping[str, Parameter]) -> list[str]:
    """Return the names of figures that are neither within a published range's care nor marked as ours."""
    return [
        name
        for name, figure in figures.items()
        if published(name) is None and recalled(name) is None and not our_own(figure)
    ]
