"""Road surfaces, from data/surfaces.toml, or typed in as two numbers."""

from __future__ import annotations

from leanladder.catalogue.shipped import content, unknown
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.session import Surface
from leanladder.interchange.ranges import Allowed

_FILE = "surfaces"
_TEXTURE = Allowed("mm", 0.1, 4.0)
_POLISH = Allowed("0..1", 0.0, 1.0)


def surface_names() -> tuple[str, ...]:
    """Return the names of the surfaces."""
    return tuple(content(_FILE))


def surface(text: str) -> Surface:
    """Return the surface a text means: a name, or texture depth [mm] and polish as in `0.8:0.3`.

    Raises InputError for an unknown name, naming the nearest, and for figures that are not numbers or
    out of range (texture 0.1 to 4 mm, polish 0 to 1).
    """
    if ":" in text:
        return _typed(text)
    if text not in surface_names():
        raise unknown("surface", text, surface_names())
    table = content(_FILE)[text]
    return Surface(text, float(table["texture_mm"]["value"]), float(table["polish"]["value"]))


def _typed(text: str) -> Surface:
    try:
        texture_mm, polish = (float(part) for part in text.split(":"))
    except ValueError:
        allowed = "a name, or TEXTURE_MM:POLISH"
        fault = Fault(field="surface", value=text, allowed=allowed, remedy="For example 0.8:0.3.")
        raise InputError("the surface is neither a name nor two numbers.", fault) from None
    _hold("texture", texture_mm, _TEXTURE)
    _hold("polish", polish, _POLISH)
    return Surface(text, texture_mm, polish)


def _hold(what: str, value: float, allowed: Allowed) -> None:
    if not allowed.holds(value):
        remedy = allowed.remedy(value)
        fault = Fault(field=f"surface {what}", value=f"{value:g}", allowed=allowed.text(), remedy=remedy)
        raise InputError("the value is out of range.", fault)
