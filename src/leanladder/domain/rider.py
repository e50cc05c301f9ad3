"""The rider, as far as planning needs one: a level."""

from __future__ import annotations

from dataclasses import dataclass

from leanladder.domain.parameter import Parameter


@dataclass(frozen=True, slots=True)
class Level:
    """A rider level, judgement throughout.

    grip_share [-] of the grip that a plan may use; top_lean_deg and usual_lean_deg [deg, bike
    lean]; card_factor [-] on the caution card; drive_mps2 and brake_mps2 [m/s2], what the rider
    uses upright at pace, coach_drive_mps2 and coach_brake_mps2 [m/s2] at the coach's pace;
    straight_mps [m/s], the most on a straight; coach_laps, how many first laps follow the coach.
    lean_scatter_deg [deg] and line_scatter [-]: how far, as one standard deviation, a rider's lean at a
    corner and the line's curvature there lie from what was meant; most_falls [-], how often a plan may ask
    for all of the grip, over a rider's session. warming, whether harder upright drive
    and braking may be proposed at all.
    """

    name: str
    grip_share: Parameter
    top_lean_deg: Parameter
    usual_lean_deg: Parameter
    card_factor: Parameter
    drive_mps2: Parameter
    brake_mps2: Parameter
    coach_drive_mps2: Parameter
    coach_brake_mps2: Parameter
    straight_mps: Parameter
    lean_scatter_deg: Parameter
    line_scatter: Parameter
    most_falls: Parameter
    coach_laps: int
    warming: bool
