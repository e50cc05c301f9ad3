"""How large one standard draw of each uncertain input is in a session."""

from __future__ import annotations

from collections.abc import Mapping

from leanladder import catalogue
from leanladder.domain.parameter import Parameter
from leanladder.domain.session import Session
from leanladder.domain.spread import Spread


def size_of(spread: Spread, session: Session) -> float:
    """Return one standard draw of an input in a session: in its unit if added, else of the figure's value.

    A figure named with an end (`_front`, `_rear`) is that tyre's; one of a compound without an end is the
    worse-known tyre's.
    """
    if spread.of is None:
        return spread.spread or 0.0
    group, _, name = spread.of.partition(".")
    if group == "level":
        return spread.part * _figure(session.level, name).value
    if group == "road":
        return spread.part * session.road.spread_k
    figures = _figures(group, name, spread.code, session)
    return spread.part * max(_spread_of(figure, spread) for figure in figures)


def _figures(group: str, name: str, code: str, session: Session) -> list[Parameter]:
    if group == "heat":
        return [_heat()[name]]
    if group == "machine":
        return [_figure(session.motorcycle, name)]
    tyres = {"front": session.front.tyre, "rear": session.rear.tyre}
    ends = [end for end in tyres if end in code.split("_")] or list(tyres)
    holders = [tyres[end] if group == "tyre" else tyres[end].compound for end in ends]
    return [_figure(holder, name) for holder in holders]


def _heat() -> Mapping[str, Parameter]:
    return catalogue.parameters("heat")


def _figure(holder: object, name: str) -> Parameter:
    found = getattr(holder, name)
    if not isinstance(found, Parameter):
        raise TypeError(f"{name} is no figure")
    return found


def _spread_of(figure: Parameter, spread: Spread) -> float:
    """A figure's own spread: as it is where it is added, as a share of the value where it multiplies."""
    if spread.kind in ("added", "even") or figure.value == 0.0:
        return figure.spread
    return figure.spread / abs(figure.value)
