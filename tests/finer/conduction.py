"""Conduction alone: the finer section fed with the engine's own heat, node by node.

This shows only what cutting the section into ribs and layers does to conduction. Where load and road stand
comes from the engine, so that it is no proof of those.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.linalg import SuperLU
from tests.finer.section import Floats, Points, Section
from tests.finer.wheel import GAMMA

from leanladder.engine.tyre_thermal import LAYER_SKIN, LAYERS, Body


def heat_of_nodes(body: Body, states: Floats, dt_s: Floats) -> Floats:
    """Return what each step brought to the section's nodes but by conduction (steps, LAYERS, ribs) [W].

    states (steps + 1, n) [degC]; what was conducted is taken from the mean of a step's two ends.
    """
    size = LAYERS * body.ribs
    layers = states[:, :size].reshape(-1, LAYERS, body.ribs)
    stored = body.heat_j_k[:size].reshape(LAYERS, body.ribs) * np.diff(layers, axis=0) / dt_s[:, None, None]
    mean = 0.5 * (layers[1:] + layers[:-1])
    conducted = np.zeros_like(mean)
    inward = body.layer_w_k[None, :, None] * (mean[:, :-1] - mean[:, 1:])
    conducted[:, :-1] -= inward
    conducted[:, 1:] += inward
    across = body.across_w_k[None, :, None] * (mean[:, :, :-1] - mean[:, :, 1:])
    conducted[:, :, :-1] -= across
    conducted[:, :, 1:] += across
    return np.asarray(stored - conducted)


def cut_m(section: Section, body: Body) -> Floats:
    """Return where the engine cuts the section [m], (LAYERS + 1,), from what each layer holds."""
    held = body.heat_j_k[: LAYERS * body.ribs].reshape(LAYERS, body.ribs)[:, 0]
    return section.sizes.depth_m * np.concatenate([[0.0], np.cumsum(held) / held.sum()])


def spread(section: Section, body: Body) -> csr_matrix:
    """Return (nodes, LAYERS ribs): skin's heat through its surface, the rest even within its cell."""
    sizes, ribs = section.sizes, body.ribs
    depths = cut_m(section, body)
    columns = []
    for layer in range(LAYERS):
        points: Points = section.surface if layer == LAYER_SKIN else section.volume
        there = (points.z_m >= depths[layer]) & (points.z_m < depths[layer + 1])
        rib = np.floor((points.s_m / sizes.half_arc_m + 1.0) * 0.5 * ribs)
        for number in range(ribs):
            weight = np.where(there & (rib == number), points.weight, 0.0)
            columns.append(points.values.T @ (weight / weight.sum()))
    return csr_matrix(np.stack(columns, axis=1))


def conducted(section: Section, body: Body, begin_c: float, heat_w: Floats, dt_s: Floats) -> Floats:
    """Return skin, outer 2 mm and carcass by rib (steps + 1, 3, ribs) [degC] under the heat given."""
    onto = spread(section, body)
    field = np.full(section.nodes, begin_c)
    read = [section.reading @ field]
    for heat, span_s in zip(heat_w, dt_s, strict=True):
        field = _step(
            section, section.factor(GAMMA * float(span_s)), field, onto @ heat.ravel(), float(span_s)
        )
        read.append(section.reading @ field)
    return np.stack(read).reshape(len(read), 3, -1)


def _step(section: Section, factor: SuperLU, field: Floats, flow: Floats, span_s: float) -> Floats:
    part = GAMMA * span_s
    first = factor.solve(section.heat @ field + part * flow)
    base = field + (span_s - part) / part * (first - field)
    return np.asarray(factor.solve(section.heat @ base + part * flow))
