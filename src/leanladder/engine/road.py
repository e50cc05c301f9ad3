"""The road's surface through the day: an energy balance over layers of ground.

Sun and sky come in, the surface radiates and warms the air, and the ground below stores. One
dimension, implicit finite volumes on a grid that widens with depth. Ground below the surface
is linear, so it is folded into one influence matrix and each step solves a single equation
for the surface temperature, exactly; the heat that crosses the surface is what the ground
stores, to rounding.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN

Floats = NDArray[np.float64]
Film = Callable[[Floats, Floats, Floats], Floats]


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of ground: thickness_m [m], conductivity_w_mk [W/mK], capacity_j_m3k [J/m3K]."""

    thickness_m: float
    conductivity_w_mk: float
    capacity_j_m3k: float


@dataclass(frozen=True, slots=True)
class Ground:
    """Ground cut into nodes, the first on the surface itself.

    depth_m (n,) [m]; capacity_j_m2k (n,) [J/m2K] that each node stores; conductance_w_m2k (n-1,)
    [W/m2K] between neighbours; bottom_w_m2k [W/m2K] from the last node to the deep ground, 0
    where the bottom is insulated.
    """

    depth_m: Floats
    capacity_j_m2k: Floats
    conductance_w_m2k: Floats
    bottom_w_m2k: float


@dataclass(frozen=True, slots=True)
class Drive:
    """What acts on the surface, a row a step, a column a surface; columns may be shared (n, 1).

    step_s [s]; sun_w_m2 (n, m), short-wave before albedo [W/m2]; sky_w_m2 (n, m), long-wave from
    the sky [W/m2]; air_c (n, m) [degC]; wind_mps (n, m) [m/s]: each at the end of its step.
    """

    step_s: float
    sun_w_m2: Floats
    sky_w_m2: Floats
    air_c: Floats
    wind_mps: Floats


@dataclass(frozen=True, slots=True)
class Course:
    """How the ground answered: surface_c (n, m) [degC] at the end of each step, profile_c (nodes, m).

    taken_j_m2 (m,) [J/m2] went in through the surface, lost_j_m2 (m,) out at the bottom, and
    stored_j_m2 (m,) is what the temperatures say has been kept.
    """

    surface_c: Floats
    profile_c: Floats
    taken_j_m2: Floats
    lost_j_m2: Floats
    stored_j_m2: Floats


def grounded(
    layers: Sequence[Layer], finest_m: float = 0.004, growth: float = 1.25, *, insulated: bool = False
) -> Ground:
    """Return ground cut from layers, top first: finest_m [m] at the surface, each next growth [-] wider."""
    widths: list[float] = []
    conductance: list[float] = []
    halves: list[float] = []
    width = finest_m
    for layer in layers:
        cuts = _cuts(layer.thickness_m, width, growth)
        widths += cuts
        conductance += [layer.conductivity_w_mk / cut for cut in cuts]
        halves += [0.5 * cut * layer.capacity_j_m3k for cut in cuts]
        width = cuts[-1] * growth
    capacity = np.array([*halves, 0.0]) + np.array([0.0, *halves])
    depth = np.concatenate(([0.0], np.cumsum(widths)))
    if insulated:
        return Ground(depth, capacity, np.array(conductance), 0.0)
    # The last point is held at the deep temperature, so it is no unknown.
    return Ground(depth[:-1], capacity[:-1], np.array(conductance[:-1]), conductance[-1])


def _cuts(thickness_m: float, first_m: float, growth: float) -> list[float]:
    """Return widths that grow from about first_m and fill thickness_m exactly."""
    cuts = [first_m]
    while sum(cuts) < thickness_m:
        cuts.append(cuts[-1] * growth)
    scale = thickness_m / sum(cuts)
    return [cut * scale for cut in cuts]


def road_film(surface_c: Floats, air_c: Floats, wind_mps: Floats) -> Floats:
    """Return the convection coefficient [W/m2K] of a pavement in wind_mps [m/s], 0..15.

    Vehrencamp and Dempsey's form as quoted by NCHRP (National Academies Press 14410, p. 34):
    698.24 (0.00144 Tm^0.3 U^0.7 + 0.00097 |Ts - Ta|^0.3), Tm the mean of both in K.
    """
    mean_k = 0.5 * np.abs(surface_c + air_c + 2 * KELVIN)
    forced = 0.00144 * mean_k**0.3 * wind_mps**0.7
    return np.asarray(698.24 * (forced + 0.00097 * np.abs(surface_c - air_c) ** 0.3))


def plate_film(surface_c: Floats, air_c: Floats, wind_mps: Floats) -> Floats:
    """Return 5.7 + 3.8 U [W/m2K], Juerges as McAdams has it (from memory); wind below 5 m/s."""
    return np.asarray(5.7 + 3.8 * wind_mps + 0.0 * (surface_c + air_c))


def surface_course(
    ground: Ground,
    drive: Drive,
    start_c: Floats,
    deep_c: ArrayLike,
    *,
    albedo: float,
    emissivity: float,
    film: Film = road_film,
) -> Course:
    """Return the surface through drive, from a profile start_c (nodes, m) [degC], dry.

    deep_c [degC] (m,) is held below the last node; albedo and emissivity [-]. First order in the
    step: 5 min steps are within 0.1 K of 1 min ones on a sunny day.
    """
    capacity = ground.capacity_j_m2k[:, None]
    influence = np.linalg.inv(_matrix(ground, drive.step_s))
    carry = influence * ground.capacity_j_m2k
    from_deep = influence[:, -1:] * (drive.step_s * ground.bottom_w_m2k * np.asarray(deep_c, dtype=float))
    push = influence[:, :1] * drive.step_s
    profile = np.array(start_c, dtype=float)
    begun = profile.copy()
    surface = np.empty((len(drive.air_c), profile.shape[1]))
    taken, lost = np.zeros(profile.shape[1]), np.zeros(profile.shape[1])
    for i in range(len(surface)):
        still = carry @ profile + from_deep
        balance = _balance(drive, i, albedo, emissivity, film)
        flux = _settle(still[0], push[0, 0], profile[0], balance)
        profile = still + push * flux
        surface[i] = profile[0]
        taken += drive.step_s * flux
        lost += drive.step_s * ground.bottom_w_m2k * (profile[-1] - deep_c)
    return Course(surface, profile, taken, lost, np.sum(capacity * (profile - begun), axis=0))


def _matrix(ground: Ground, step_s: float) -> Floats:
    """Return the implicit step's matrix [J/m2K]: capacity plus step times conductance."""
    size = len(ground.capacity_j_m2k)
    matrix = np.diag(ground.capacity_j_m2k)
    for i, conductance in enumerate(ground.conductance_w_m2k * step_s):
        matrix[i : i + 2, i : i + 2] += conductance * np.array([[1.0, -1.0], [-1.0, 1.0]])
    matrix[size - 1, size - 1] += ground.bottom_w_m2k * step_s
    return matrix


def _balance(
    drive: Drive, row: int, albedo: float, emissivity: float, film: Film
) -> Callable[[Floats], tuple[Floats, Floats]]:
    """Return the function from surface temperature [degC] to net flux in [W/m2] and minus its slope."""
    sun_and_sky = (1.0 - albedo) * drive.sun_w_m2[row] + emissivity * drive.sky_w_m2[row]
    air_c, wind_mps = drive.air_c[row], drive.wind_mps[row]

    def flux(surface_c: Floats) -> tuple[Floats, Floats]:
        kelvin = surface_c + KELVIN
        coefficient = film(surface_c, air_c, wind_mps)
        glow = emissivity * STEFAN_BOLTZMANN * kelvin**4
        net = sun_and_sky - glow - coefficient * (surface_c - air_c)
        # Free convection steepens as |Ts - Ta|^0.3: 1.3 h bounds its slope, so the step never overshoots.
        return net, 4.0 * glow / kelvin + 1.3 * coefficient

    return flux


def _settle(
    still_c: Floats, push: float, first_c: Floats, balance: Callable[[Floats], tuple[Floats, Floats]]
) -> Floats:
    """Return the flux [W/m2] with which surface = still_c + push * flux(surface), by Newton's steps."""
    surface_c = first_c
    for _ in range(40):
        flux, slope = balance(surface_c)
        change = (still_c + push * flux - surface_c) / (1.0 + push * slope)
        surface_c = surface_c + change
        if np.max(np.abs(change)) < 1e-7:
            break
    return np.asarray((surface_c - still_c) / push)
