"""Shapes and maps as SVG, for paper and page alike: ink is permission, a turn is a shoulder."""

from leanladder.drawing.shapes import fan, plank

__all__ = ["fan", "plank"]
