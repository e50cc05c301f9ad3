"""machine/1: a motorcycle with its rider, as people write it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from leanladder.domain.motorcycle import Motorcycle, Wheel
from leanladder.interchange.figures import Figure, Figures, figure, merged
from leanladder.interchange.upgrades import Upgraders

SCHEMA = "machine/1"
# machine/1 is the first version: there is nothing to bring up to it yet.
UPGRADERS: Upgraders = {}


class WheelIn(Figures):
    """[front] or [rear]: one wheel."""

    tyre_width_m: Figure = figure("m", 0.05, 0.30)
    rolling_radius_m: Figure = figure("m", 0.15, 0.40)
    rim_mass_kg: Figure = figure("kg", 0.5, 25.0)
    cavity_m3: Figure = figure("m3", 0.003, 0.05)  # less gas follows faster than the kernel steps
    cold_bar: Figure = figure("bar", 0.8, 4.0)


class MachineFile(Figures):
    """A machine/1 file; with a base, only what differs from that machine need be given."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    describes: Annotated[str, Field(max_length=300)] = ""
    base: str | None = None
    mass_kg: Figure = figure("kg", 40.0, 600.0)
    wheelbase_m: Figure = figure("m", 0.6, 2.2)
    cg_height_m: Figure = figure("m", 0.25, 1.0)
    front_share: Figure = figure("-", 0.25, 0.75)
    power_w: Figure = figure("W", 1000.0, 250000.0)
    drag_area_m2: Figure = figure("m2", 0.1, 1.5)
    drag_height_m: Figure = figure("m", 0.2, 1.3)
    clearance_left_deg: Figure = figure("deg", 15.0, 75.0)
    clearance_right_deg: Figure = figure("deg", 15.0, 75.0)
    top_speed_mps: Figure = figure("m/s", 8.0, 110.0)
    front: WheelIn = WheelIn()
    rear: WheelIn = WheelIn()


def motorcycle(written: MachineFile, base: Motorcycle | None, source: str) -> Motorcycle:
    """Return the domain's Motorcycle of a machine/1 file, with what it leaves out taken from base.

    source names the file. Raises InputError for a figure that neither has.
    """
    return Motorcycle(
        name=written.name,
        describes=written.describes or (base.describes if base else ""),
        front=Wheel(**merged(written.front, Wheel, base.front if base else None, "front")),
        rear=Wheel(**merged(written.rear, Wheel, base.rear if base else None, "rear")),
        source=source,
        **merged(written, Motorcycle, base, ""),
    )
