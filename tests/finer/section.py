"""The tyre's section in two dimensions, by finite elements of scikit-fem: arc across the crown x depth.

Nothing here knows the ribs and layers of the engine. The field T(s, z, t), s [m] from the crown's centre
(negative left), z [m] inwards from the tread's surface, obeys rho c dT/dt = k lap T + q; everything that
crosses a boundary and all heat within is a load of the weak form, placed by quadrature.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix, csr_matrix
from scipy.sparse.linalg import SuperLU, splu
from skfem import Basis, BilinearForm, ElementQuad1, FacetBasis, MeshQuad
from skfem.helpers import dot, grad

Floats = NDArray[np.float64]

SKIN_READ_M, OUTER_READ_M = 0.3e-3, 2e-3  # what an infrared gun and a needle probe read
CELLS_UNDER_SKIN, CELLS_UNDER_OUTER, CELLS_CARCASS = 5, 4, 3
ELEMENTS_A_STRIP = 3
QUADRATURE = 3  # polynomial order integrated exactly


@BilinearForm
def _mass(u, v, _w):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    return u * v


@BilinearForm
def _stiffness(u, v, _w):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    return dot(grad(u), grad(v))


@dataclass(frozen=True)
class Sizes:
    """The section and its rubber: half_arc_m, tread_m, carcass_m, girth_m [m]; k [W/mK]; rho c [J/m3K]."""

    half_arc_m: float
    tread_m: float
    carcass_m: float
    girth_m: float
    conductivity: float
    stored: float

    @property
    def depth_m(self) -> float:
        """Tread and carcass [m]."""
        return self.tread_m + self.carcass_m


@dataclass(frozen=True)
class Grid:
    """Elements across (three a strip that is read), the outermost's thickness [m], halvings in both ways."""

    across: int = 54
    skin_m: float = 0.1e-3
    halvings: int = 0


def widening(start: float, stop: float, first: float, cells: int) -> Floats:
    """Return edges from start to stop whose cells widen in one ratio, the first as near to first as fits."""
    span = stop - start
    if first * cells >= span:
        return np.linspace(start, stop, cells + 1)
    low, high = 1.0, 10.0
    for _ in range(80):
        ratio = 0.5 * (low + high)
        low, high = (ratio, high) if first * (ratio**cells - 1.0) / (ratio - 1.0) < span else (low, ratio)
    return start + span * np.append((ratio ** np.arange(cells) - 1.0) / (ratio**cells - 1.0), 1.0)


def depth_edges(sizes: Sizes, grid: Grid) -> Floats:
    """Return the elements' edges [m] through the depth; every depth that is read is one of them."""
    skin = np.linspace(0.0, SKIN_READ_M, max(1, round(SKIN_READ_M / grid.skin_m)) + 1)
    outer = widening(SKIN_READ_M, OUTER_READ_M, 1.4 * grid.skin_m, CELLS_UNDER_SKIN)
    base = np.linspace(OUTER_READ_M, sizes.tread_m, CELLS_UNDER_OUTER + 1)
    carcass = np.linspace(sizes.tread_m, sizes.depth_m, CELLS_CARCASS + 1)
    return halved(np.concatenate([skin, outer[1:], base[1:], carcass[1:]]), grid.halvings)


def halved(edges: Floats, times: int) -> Floats:
    """Return the edges with every cell halved some times."""
    for _ in range(times):
        edges = np.sort(np.concatenate([edges, 0.5 * (edges[1:] + edges[:-1])]))
    return edges


@dataclass(frozen=True)
class Points:
    """A quadrature: where (s_m, z_m) and how much each point counts [m or m2], and values from nodes."""

    s_m: Floats
    z_m: Floats
    weight: Floats
    values: csr_matrix

    @classmethod
    def of(cls, basis: Basis) -> Points:
        """Return the quadrature points of a basis."""
        where = np.asarray(basis.global_coordinates())
        cells, each = basis.dx.shape
        rows = np.arange(cells * each).reshape(cells, each)
        parts = [
            (np.broadcast_to(np.asarray(value[0]), rows.shape), np.broadcast_to(nodes[:, None], rows.shape))
            for value, nodes in zip(basis.basis, basis.element_dofs, strict=True)
        ]
        data = np.concatenate([part[0].ravel() for part in parts])
        columns = np.concatenate([part[1].ravel() for part in parts])
        index = np.tile(rows.ravel(), len(parts))
        matrix = coo_matrix((data, (index, columns)), shape=(rows.size, basis.N)).tocsr()
        return cls(where[0].ravel(), where[1].ravel(), np.asarray(basis.dx).ravel(), matrix)

    def within(self, chosen: NDArray[np.bool_]) -> Points:
        """Return only the points chosen."""
        return Points(self.s_m[chosen], self.z_m[chosen], self.weight[chosen], self.values[chosen])

    def columns(self) -> tuple[Floats, csr_matrix]:
        """Return the distinct s [m] and, a row each, what a node gets of a unit density along there [m2]."""
        places, which = np.unique(np.round(self.s_m, 9), return_inverse=True)
        gather = coo_matrix(
            (self.weight, (which.ravel(), np.arange(which.size))), shape=(places.size, which.size)
        )
        return places, (gather.tocsr() @ self.values).tocsr()


class Section:
    """Mesh, matrices and quadratures of one section.

    heat [J/K] and conduction [W/K] are the mass and stiffness matrices of the whole ring; surface, liner,
    edges (left, right; carcass depth only) are boundary quadratures [m] and tread, carcass volume ones [m2].
    """

    def __init__(self, sizes: Sizes, grid: Grid) -> None:
        self.sizes, self.grid = sizes, grid
        across = halved(np.linspace(-sizes.half_arc_m, sizes.half_arc_m, grid.across + 1), grid.halvings)
        mesh = MeshQuad.init_tensor(across, depth_edges(sizes, grid))
        whole = Basis(mesh, ElementQuad1(), intorder=QUADRATURE)
        self.nodes = int(whole.N)
        self.heat = csc_matrix(sizes.stored * sizes.girth_m * _mass.assemble(whole))
        self.conduction = csc_matrix(sizes.conductivity * sizes.girth_m * _stiffness.assemble(whole))
        volume = Points.of(whole)
        self.volume = volume
        self.tread = volume.within(volume.z_m < sizes.tread_m)
        self.carcass = volume.within(volume.z_m > sizes.tread_m)
        self.surface = self._side(mesh, 1, 0.0)
        self.liner = self._side(mesh, 1, sizes.depth_m)
        ends = [self._side(mesh, 0, side * sizes.half_arc_m) for side in (-1.0, 1.0)]
        self.edges = [end.within(end.z_m > sizes.tread_m) for end in ends]

    @staticmethod
    def _side(mesh: MeshQuad, axis: int, at_m: float) -> Points:
        facets = mesh.facets_satisfying(lambda x: np.isclose(x[axis], at_m, atol=1e-9), boundaries_only=True)
        return Points.of(FacetBasis(mesh, ElementQuad1(), facets=facets, intorder=QUADRATURE))

    @cached_property
    def reading(self) -> csr_matrix:
        """Means over strips of the crown: rows strip by strip for skin, outer 2 mm and carcass."""
        return self.strips(self.grid.across // ELEMENTS_A_STRIP)

    def strips(self, count: int) -> csr_matrix:
        """Return the matrix (3 count, nodes) of the means over count equal strips and three depths."""
        sizes, points = self.sizes, self.volume
        strip = np.floor((points.s_m / sizes.half_arc_m + 1.0) * 0.5 * count)
        zones = (
            points.z_m < SKIN_READ_M,
            points.z_m < OUTER_READ_M,
            points.z_m > sizes.tread_m,
        )
        rows = []
        for zone in zones:
            for number in range(count):
                weight = np.where(zone & (strip == number), points.weight, 0.0)
                rows.append(weight @ points.values / weight.sum())
        return csr_matrix(np.stack(rows))

    def factor(self, dt_s: float) -> SuperLU:
        """Return the factors of heat + dt_s conduction."""
        # nodes are numbered row by row, so that the band is narrow as it stands
        whole = csc_matrix(self.heat + dt_s * self.conduction)
        return splu(whole, permc_spec="NATURAL", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
