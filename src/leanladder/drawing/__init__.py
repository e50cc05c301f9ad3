"""Shapes and maps as SVG, for paper and page alike: ink is permission, a turn is a shoulder."""

from leanladder.drawing.cell import cell, clamp, hot_scale, warmth_scale
from leanladder.drawing.circuit_map import MapWords, Warmth, circuit_map
from leanladder.drawing.glyphs import glyph_picture
from leanladder.drawing.shapes import fan, plank
from leanladder.drawing.svg import PAPER, SCREEN, Inks

__all__ = [
    "PAPER",
    "SCREEN",
    "Inks",
    "MapWords",
    "Warmth",
    "cell",
    "circuit_map",
    "clamp",
    "fan",
    "glyph_picture",
    "hot_scale",
    "plank",
    "warmth_scale",
]
