"""Shapes, maps and charts as SVG, for paper and page alike: ink is permission, a turn is a shoulder."""

from leanladder.drawing.axes import Axis, Band, Plot, Upright, axis_about, laps_axis
from leanladder.drawing.board import LadderCell, hot_legend, ladder_cell, limit_mark, warmth_legend
from leanladder.drawing.cell import cell, clamp, hot_scale, warmth_scale
from leanladder.drawing.circuit_map import MapWords, Warmth, circuit_map
from leanladder.drawing.crown import CrownWords, Standing, Strip, crown, half_crown_deg, ribs, thirds
from leanladder.drawing.curve import Now, curve
from leanladder.drawing.fans import Restart, restart_fan, rider_fan, turn_plank
from leanladder.drawing.glyphs import glyph_picture
from leanladder.drawing.heat import Flow, Flows, heat
from leanladder.drawing.minutes import Course, ended, lap_uprights, minutes, pressures, temperatures
from leanladder.drawing.shapes import fan, plank
from leanladder.drawing.side import SideLaps, side_laps, turns_by_side
from leanladder.drawing.stop import StopWords, cooling
from leanladder.drawing.svg import PAPER, SCREEN, Inks, Name, named

__all__ = [
    "PAPER",
    "SCREEN",
    "Axis",
    "Band",
    "Course",
    "CrownWords",
    "Flow",
    "Flows",
    "Inks",
    "LadderCell",
    "MapWords",
    "Name",
    "Now",
    "Plot",
    "Restart",
    "SideLaps",
    "Standing",
    "StopWords",
    "Strip",
    "Upright",
    "Warmth",
    "axis_about",
    "cell",
    "circuit_map",
    "clamp",
    "cooling",
    "crown",
    "curve",
    "ended",
    "fan",
    "glyph_picture",
    "half_crown_deg",
    "heat",
    "hot_legend",
    "hot_scale",
    "ladder_cell",
    "lap_uprights",
    "laps_axis",
    "limit_mark",
    "minutes",
    "named",
    "plank",
    "pressures",
    "restart_fan",
    "ribs",
    "rider_fan",
    "side_laps",
    "temperatures",
    "thirds",
    "turn_plank",
    "turns_by_side",
    "warmth_legend",
    "warmth_scale",
]
