"""tyre/1: a tyre family as people write it."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.parameter import Parameter
from leanladder.domain.tyre import Compound, GripPoint, Tyre, TyreFamily
from leanladder.interchange.figures import Figure, Figures, figure, merged
from leanladder.interchange.ranges import Allowed
from leanladder.interchange.upgrades import Upgraders

SCHEMA = "tyre/1"
# tyre/1 is the first version: there is nothing to bring up to it yet.
UPGRADERS: Upgraders = {}
FEWEST_GRIP_POINTS = 3
# Filled rubber has 0.7 to 1.9e-7 m2/s (handbooks, from memory); steps of the heat kernel hold up to here.
FASTEST_M2_S = 2.5e-7
_RUBBER = Allowed("degC", -30.0, 180.0)
_GRIP = Allowed("-", 0.2, 2.5)


def _grip_table(points: list[tuple[float, float]] | None) -> list[tuple[float, float]] | None:
    if points is None:
        return None
    if len(points) < FEWEST_GRIP_POINTS:
        raise _refused(
            f"{len(points)} points", f"{FEWEST_GRIP_POINTS} points or more", "Give more measured points."
        )
    for rubber_c, grip in points:
        for value, allowed in ((rubber_c, _RUBBER), (grip, _GRIP)):
            if not allowed.holds(value):
                raise _refused(f"{value:g}", allowed.text(), allowed.remedy(value) or "Check the figure.")
    for (before, _), (after, _) in pairwise(points):
        if after <= before:
            raise _refused(
                f"{before:g}, {after:g}", "rising rubber temperatures", "Sort the points by temperature."
            )
    return points


def _refused(value: str, allowed: str, remedy: str) -> PydanticCustomError:
    context = {"value": value, "allowed": allowed, "remedy": remedy}
    return PydanticCustomError("grip_points", "the table of measured grip cannot be used.", context)


GripTable = Annotated[list[tuple[float, float]] | None, AfterValidator(_grip_table)]


class CompoundIn(Figures):
    """[front.compound] or [rear.compound]: the rubber as grip sees it."""

    peak_grip: Figure = figure("-", 0.5, 2.0)
    glass_c: Figure = figure("degC", -90.0, 0.0)
    keying_full_c: Figure = figure("degC", -10.0, 120.0)
    keying_cold: Figure = figure("-", 0.2, 1.0)
    adhesion_full_c: Figure = figure("degC", -10.0, 120.0)
    adhesion_cold: Figure = figure("-", 0.2, 1.0)
    fade_from_c: Figure = figure("degC", 50.0, 160.0)
    fade_per_k: Figure = figure("1/K", 0.0, 0.02)


class TyreIn(Figures):
    """[front] or [rear]: one tyre."""

    section_m: Figure = figure("m", 0.05, 0.30)
    crown_radius_m: Figure = figure("m", 0.03, 0.16)
    width_m: Figure = figure("m", 0.06, 0.30)
    rolling_radius_m: Figure = figure("m", 0.15, 0.40)
    patch_half_width_m: Figure = figure("m", 0.008, 0.045)
    tread_m: Figure = figure("m", 0.0025, 0.012)  # the outer 2 mm are nodes of their own
    carcass_m: Figure = figure("m", 0.001, 0.008)
    conductivity_w_mk: Figure = figure("W/(m K)", 0.1, 0.5)
    density_kg_m3: Figure = figure("kg/m3", 900.0, 1400.0)
    heat_capacity_j_kgk: Figure = figure("J/(kg K)", 1000.0, 2500.0)
    rolling_loss: Figure = figure("-", 0.3, 2.5)
    slip_stiffness: Figure = figure("1/rad", 5.0, 60.0)
    side_stiffness: Figure = figure("1/rad", 4.0, 40.0)
    camber_stiffness: Figure = figure("1/rad", 0.2, 2.5)
    working_low_c: Figure = figure("degC", -10.0, 120.0)
    working_high_c: Figure = figure("degC", 20.0, 160.0)
    life_laps: Figure = figure("laps", 5.0, 10000.0)
    minimum_cold_bar: Figure = figure("bar", 0.8, 4.5)
    grip_points: GripTable = None
    compound: CompoundIn = CompoundIn()


class TyreFile(Figures):
    """A tyre/1 file; with a base, only what differs from that family need be given."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    describes: Annotated[str, Field(max_length=300)] = ""
    base: str | None = None
    front: TyreIn = TyreIn()
    rear: TyreIn = TyreIn()


def tyre_family(written: TyreFile, base: TyreFamily | None, source: str) -> TyreFamily:
    """Return the domain's TyreFamily of a tyre/1 file, with what it leaves out taken from base.

    source names the file. Raises InputError for a figure that neither has, and for a working
    range that is the wrong way round.
    """
    return TyreFamily(
        name=written.name,
        describes=written.describes or (base.describes if base else ""),
        front=_tyre(written.front, base.front if base else None, "front"),
        rear=_tyre(written.rear, base.rear if base else None, "rear"),
        source=source,
    )


def _tyre(written: TyreIn, base: Tyre | None, end: Literal["front", "rear"]) -> Tyre:
    values = merged(written, Tyre, base, end)
    low, high = values["working_low_c"], values["working_high_c"]
    if high.value <= low.value:
        fault = Fault(
            field=f"{end}.working_high_c", value=f"{high.value:g}", allowed=f"above {low.value:g} degC"
        )
        raise InputError("the working range ends before it begins.", fault)
    _check_rubber(values, end)
    minimum = base.minimum_cold_bar if base else None
    if written.minimum_cold_bar is not None:
        minimum = written.minimum_cold_bar.value
    return Tyre(compound=_compound(written, base, end), minimum_cold_bar=minimum, **values)


def _check_rubber(values: Mapping[str, Parameter], end: str) -> None:
    """Raise InputError where heat would run through the rubber faster than any rubber lets it."""
    stored_j_m3k = values["density_kg_m3"].value * values["heat_capacity_j_kgk"].value
    diffusivity = values["conductivity_w_mk"].value / stored_j_m3k
    if diffusivity > FASTEST_M2_S:
        allowed = f"conductivity / (density * heat capacity) of {FASTEST_M2_S:g} m2/s at most"
        remedy = "Check the three figures and their units."
        fault = Fault(None, None, f"{end}.conductivity_w_mk", f"{diffusivity:.2g} m2/s", allowed, remedy)
        raise InputError("heat runs through this rubber too fast.", fault)


def _compound(written: TyreIn, base: Tyre | None, end: str) -> Compound:
    inherited = base.compound if base else None
    values = merged(written.compound, Compound, inherited, f"{end}.compound")
    if written.grip_points is not None:
        points = tuple(GripPoint(rubber_c, grip) for rubber_c, grip in written.grip_points)
    elif inherited is not None and not written.compound.model_fields_set:
        points = inherited.grip_points
    else:
        # Points measured on the base's rubber say nothing of a compound that was changed.
        points = ()
    return Compound(grip_points=points, **values)
