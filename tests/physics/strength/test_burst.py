"""At what pressure a cold crown bursts, and what waits in the fill of the rig."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.strength.burst import cracking_burst, yielding_burst
from screening.physics.strength.crown_section import CrownSection
from screening.physics.strength.plate import Plate, limit_pressure
from screening.physics.strength.pressed_fill import energy_in_gas, energy_in_liquid
from screening.physics.strength.strength_curve import StrengthCurve


def test_worked_by_hand() -> None:
    """ABS of 35 MPa, k 10.5, 6 mm, R 21.3 mm: 10.5 x 35e6 x 36e-6/(4 x 453.7e-6) = 72.9 bar; the rim's shear 98.6 bar."""
    assert yielding_burst(35e6, 6e-3, 21.3e-3, 10.5) == pytest.approx(72.9e5, rel=1e-3)
    assert yielding_burst(35e6, 6e-3, 21.3e-3, 1e3) == pytest.approx(35e6 * 6 / 21.3, rel=1e-12)


@pytest.mark.parametrize("thickness", [2e-3, 6e-3, 12e-3])
def test_is_the_limit_pressure_of_a_plate_that_is_cold_all_through(thickness: float) -> None:
    cold = StrengthCurve(np.array([296.15, 400.0]), np.array([35e6, 35e6]))
    plate = limit_pressure(CrownSection([0.0, thickness], [[300.0, 300.0]], cold), Plate(21.3e-3, 10.5))
    assert yielding_burst(35e6, thickness, 21.3e-3, 10.5) == pytest.approx(float(plate[0]), rel=1e-9)


def test_crack_of_a_simply_supported_plate() -> None:
    """Timoshenko and Woinowsky-Krieger 1959, article 16: sigma = 3 (3 + nu)/8 p (R/t)^2; nu 0.37, 6 mm, 22.2 mm (from memory)."""
    factor = 3 * (3 + 0.37) / 8
    assert cracking_burst(factor * 40e5 * (22.2 / 6) ** 2, 6e-3, 22.2e-3, factor) == pytest.approx(40e5, rel=1e-12)


def test_rises_with_strength_and_thickness_and_falls_with_span() -> None:
    for burst in (yielding_burst, cracking_burst):
        base = burst(35e6, 6e-3, 21e-3, 1.0)
        assert burst(70e6, 6e-3, 21e-3, 1.0) == pytest.approx(2 * base)
        assert burst(35e6, 12e-3, 21e-3, 1.0) == pytest.approx(4 * base)
        assert burst(35e6, 6e-3, 42e-3, 1.0) == pytest.approx(base / 4)
        assert np.isnan(burst(35e6, np.array([np.nan]), 21e-3, 1.0)).all()


def test_oil_holds_a_jot_and_air_what_throws() -> None:
    """30 mL at 60 bar: oil (6e6)^2 x 30e-6/(2 x 1.5e9) = 0.4 J; air 6e6 x 30e-6 x ln 60 = 740 J to two figures."""
    assert energy_in_liquid(30e-6, 60e5) == pytest.approx(0.36)
    assert energy_in_gas(30e-6, 60e5, 1e5) == pytest.approx(737, abs=1)
    assert energy_in_gas(30e-6, 1e5, 1e5) == 0
    assert energy_in_liquid(30e-6, 120e5) == pytest.approx(4 * energy_in_liquid(30e-6, 60e5))
    volumes = np.linspace(0.5e-6, 30e-6, 200_001)  # the work of an isothermal piston, summed up: p = p0 V0/V
    work = np.trapezoid(60e5 * 0.5e-6 / volumes, volumes)
    assert energy_in_gas(0.5e-6, 60e5, 1e5) == pytest.approx(work, rel=1e-6)
