"""Air around a wheel against published correlations and against the library ht (MIT), an independent code."""

from __future__ import annotations

import numpy as np
import pytest
from ht.conv_external import Nu_cylinder_Churchill_Bernstein, Nu_horizontal_plate_turbulent_Kreith
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu

from leanladder.engine import air
from leanladder.engine.constants import GRAVITY_MPS2, KELVIN

SPEEDS = np.array([10.0, 20.0, 30.0, 50.0])
DIAMETER_M, WIDTH_M = 0.64, 0.18


def test_rolling_fit() -> None:
    # Nu = 0.0239 Re^0.805, L = 1/(1/D + 1/W), usually credited to Browne and Wickliffe, Tire Sci.
    # Technol. 8:37, 1980 (from memory); computed for D 0.64, W 0.18 m.
    found = air.rolling_convection(SPEEDS, DIAMETER_M, WIDTH_M)
    assert found == pytest.approx([42.5, 74.3, 103.0, 155.3], abs=0.06)


def test_rolling_fit_beside_a_plate_as_long_as_the_wheel() -> None:
    # 0.037 Re^0.8 Pr^(1/3), L = D (from memory): 41.0, 71.3, 98.6, 148.4. Two formulae, 5 % apart.
    reynolds = SPEEDS * DIAMETER_M / air.AIR_VISCOSITY
    plate = [
        0.037 * re**0.8 * air.AIR_PRANDTL ** (1 / 3) * air.AIR_CONDUCTIVITY / DIAMETER_M for re in reynolds
    ]
    assert plate == pytest.approx([41.0, 71.3, 98.6, 148.4], abs=0.06)
    assert air.rolling_convection(SPEEDS, DIAMETER_M, WIDTH_M) == pytest.approx(plate, rel=0.05)
    theirs = [
        Nu_horizontal_plate_turbulent_Kreith(re, air.AIR_PRANDTL) * air.AIR_CONDUCTIVITY / DIAMETER_M
        for re in reynolds
    ]
    assert theirs == pytest.approx(plate, rel=0.05)


def test_rolling_fit_above_a_cylinder_in_cross_flow() -> None:
    # Churchill and Bernstein 1977, J. Heat Transfer 99:300, as ht has it: 24.0, 41.9, 59.0, 92.0. A
    # wheel that turns in the wind exchanges more than one that stands, and not three times as much.
    cylinder = np.array(
        [
            Nu_cylinder_Churchill_Bernstein(speed * DIAMETER_M / air.AIR_VISCOSITY, air.AIR_PRANDTL)
            * air.AIR_CONDUCTIVITY
            / DIAMETER_M
            for speed in SPEEDS
        ]
    )
    assert cylinder == pytest.approx([24.0, 41.9, 59.0, 92.0], abs=0.06)
    ratio = air.rolling_convection(SPEEDS, DIAMETER_M, WIDTH_M) / cylinder
    assert np.all((ratio > 1.0) & (ratio < 2.0))


def test_hts_own_published_check_values() -> None:
    # Their documentation: Re 6071, Pr 0.7 gives 40.637; Pr 0.69, Gr 2.63e9 gives 139.135.
    assert Nu_cylinder_Churchill_Bernstein(6071.0, 0.7) == pytest.approx(40.637, abs=5e-4)
    assert Nu_horizontal_cylinder_Churchill_Chu(0.69, 2.63e9) == pytest.approx(139.135, abs=5e-4)


@pytest.mark.parametrize(
    ("surface_c", "air_c", "coefficient"), [(50.0, 20.0, 4.26), (70.0, 20.0, 4.92), (90.0, 20.0, 5.37)]
)
def test_standing(surface_c: float, air_c: float, coefficient: float) -> None:
    # Churchill and Chu, Int. J. Heat Mass Transfer 18:1049, 1975, computed for D 0.64 m. Which air
    # that computation took is not said; the engine keeps air of 300 K, which leaves less than 1 %.
    assert air.standing_convection(surface_c, air_c, DIAMETER_M) == pytest.approx(coefficient, rel=0.01)


@pytest.mark.parametrize("diameter_m", [0.3, 0.64])
@pytest.mark.parametrize("drop_k", [-10.0, 0.5, 5.0, 30.0, 80.0])
def test_standing_against_ht(diameter_m: float, drop_k: float) -> None:
    air_c = 15.0
    film_k = air_c + 0.5 * drop_k + KELVIN
    grashof = GRAVITY_MPS2 * abs(drop_k) * diameter_m**3 / (film_k * air.AIR_VISCOSITY**2)
    nusselt = Nu_horizontal_cylinder_Churchill_Chu(air.AIR_PRANDTL, grashof)
    found = air.standing_convection(air_c + drop_k, air_c, diameter_m)
    assert found == pytest.approx(nusselt * air.AIR_CONDUCTIVITY / diameter_m, rel=1e-12)


def test_mixed_convection_adds_cubes() -> None:
    # Churchill, AIChE J. 23:10, 1977 (from memory): Nu^3 = Nu_forced^3 + Nu_natural^3; 3 and 4 make 91^(1/3).
    assert air.joined(np.array([3.0, 0.0]), 4.0) == pytest.approx([91.0 ** (1 / 3), 4.0], rel=1e-12)
