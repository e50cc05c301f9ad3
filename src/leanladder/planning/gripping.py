"""Grip tables of a compound on a surface, and the index of how far rubber fills the texture."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from leanladder import catalogue
from leanladder.domain.session import Surface
from leanladder.domain.tyre import Compound
from leanladder.engine import grip
from leanladder.engine.grip import Floats
from leanladder.planning.tables import Tables

# Figures of the general table that a curve rests on, and how many curves are kept: an ensemble has 40 a tyre.
_GENERAL = ("texture_half_mm", "polish_power", "wlf_width", "fade_blend_k", "polish_loss")
_KEPT = 1024


def surface_grip(compound: Compound, surface: Surface, tables: Tables) -> Floats:
    """Return friction [-] at grip.table_axis() for a compound on a surface, (TABLE_LENGTH,).

    A compound's own measured points hold on ordinary asphalt: between them straight lines,
    outside them the curve through the end point; another surface scales them by the curves' ratio.
    """
    modelled = _modelled(compound, surface, tables)
    if not compound.grip_points:
        return modelled
    ordinary = _modelled(compound, catalogue.surface("ordinary"), tables)
    axis = grip.table_axis()
    measured_c = np.array([point.rubber_c for point in compound.grip_points])
    measured = np.array([point.grip for point in compound.grip_points])
    at_points = np.interp(measured_c, axis, ordinary)
    return np.asarray(modelled * np.interp(axis, measured_c, measured / at_points))


def _modelled(compound: Compound, surface: Surface, tables: Tables) -> Floats:
    return _curve(compound, surface, tuple(tables.grip[name] for name in _GENERAL))


@lru_cache(maxsize=_KEPT)
def _curve(compound: Compound, surface: Surface, figures: tuple[float, ...]) -> Floats:
    """The curve, kept: an ensemble asks for the same few at every plan. figures: those of _GENERAL."""
    axis, general = grip.table_axis(), dict(zip(_GENERAL, figures, strict=True))
    weight = grip.keying_weight(
        surface.texture_mm, surface.polish, general["texture_half_mm"], general["polish_power"]
    )
    shape = grip.grip_curve(
        axis,
        compound.glass_c.value,
        (compound.keying_full_c.value, compound.keying_cold.value),
        (compound.adhesion_full_c.value, compound.adhesion_cold.value),
        weight,
        general["wlf_width"],
    )
    fade = grip.faded(axis, compound.fade_from_c.value, compound.fade_per_k.value, general["fade_blend_k"])
    found = np.asarray(compound.peak_grip.value * _polished(surface, general["polish_loss"]) * shape * fade)
    found.setflags(write=False)  # whoever has it shares it
    return found


def _polished(surface: Surface, loss: float) -> float:
    """What polish beyond that of ordinary asphalt leaves of the peak; a rougher road adds nothing."""
    ordinary = catalogue.surface("ordinary").polish
    return min(1.0, (1.0 - loss * surface.polish) / (1.0 - loss * ordinary))


def texture_fill(rubber_c: Floats, tables: Tables) -> Floats:
    """Return the index [0..1] of how far rubber at rubber_c [degC] fills the road's texture."""
    general = tables.grip
    return grip.texture_fill(rubber_c, general["fill_cold"], general["fill_soft_c"], general["fill_width_k"])
