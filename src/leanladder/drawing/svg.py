"""SVG in strings: numbers written short, and always the same way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Inks:
    """What a drawing is made of: ink for strokes, fills and text, ground for what stays clean.

    soft: second text; hatch: strokes that tell warmth; pale: what is allowed later; wash: a ground that
    text may stand on; rule: hairlines, which carry nothing.
    """

    ink: str = "#000"
    ground: str = "#fff"
    soft: str = "#000"
    hatch: str = "#000"
    pale: str = "#fff"
    wash: str = "#fff"
    rule: str = "#000"


# Paper takes one ink, so that it prints the same on any printer.
PAPER = Inks()
# A screen's: text keeps 7 to 1 and more on ground and wash.
SCREEN = Inks("#1D1620", "#fff", "#4A3F4B", "#422740", "#D3B6C9", "#F8F2F6", "#B9AEB6")


class Name(NamedTuple):
    """What a drawing on a page is called: its title in words, and a prefix that keeps its ids its own."""

    title: str
    prefix: str


FONT = "Source Sans Pro, Source Sans 3, system-ui, sans-serif"


def number(value: float) -> str:
    """Return a length as SVG writes it: two decimals at most, no minus zero."""
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short in {"-0", ""} else short


def document(width: float, height: float, parts: Iterable[str]) -> str:
    """Return a whole SVG of a width and height with some parts in it."""
    size = f"{number(width)} {number(height)}"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}" height="{number(height)}" '
        f'viewBox="0 0 {size}">'
    )
    return head + "".join(parts) + "</svg>"


def named(picture: str, name: Name, kind: str = "") -> str:
    """Return one of our pictures as an image with a title, for a page; kind: its class there."""
    title = f"{escape(name.prefix)}-title"
    told = f'<svg role="img" aria-labelledby="{title}" class="{escape(" ".join(("drawing", kind)).strip())}"'
    opening, rest = picture.split(">", 1)
    head = told + opening.removeprefix("<svg")
    return f'{head}><title id="{title}">{escape(name.title)}</title>{rest}'


def points(along: Iterable[Point]) -> str:
    """Return a path through some points."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in along)


def stroke(d: str, ink: str, width: float, *, cap: str = "butt", dash: str = "") -> str:
    """Return a stroked path of a width, without a fill."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{d}" fill="none" stroke="{ink}" stroke-width="{number(width)}" '
        f'stroke-linecap="{cap}" stroke-linejoin="round"{dashed}/>'
    )


def fill(d: str, ink: str) -> str:
    """Return a filled path."""
    return f'<path d="{d}" fill="{ink}"/>'


def label(at: Point, words: str, size: float, ink: str, *, bold: bool = True, anchor: str = "middle") -> str:
    """Return words whose baseline stands at a point."""
    weight = 700 if bold else 400
    return (
        f'<text x="{number(at[0])}" y="{number(at[1])}" font-family="{FONT}" font-size="{number(size)}" '
        f'font-weight="{weight}" text-anchor="{anchor}" fill="{ink}">{escape(words)}</text>'
    )


def line(start: Point, end: Point, ink: str, width: float) -> str:
    """Return a straight stroke between two points."""
    return stroke(points([start, end]), ink, width)


def box(left: float, top: float, width: float, height: float) -> str:
    """Return the path of a rectangle."""
    return f"M{number(left)} {number(top)}h{number(width)}v{number(height)}h{number(-width)}Z"
