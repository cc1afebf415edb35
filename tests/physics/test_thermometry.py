"""The gun: Planck's law in a band, and the surface behind a reading."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import constants, integrate

from screening.errors import OutOfRange
from screening.physics.thermometry import band_radiance, expected_reading, surface_temperature


@pytest.mark.parametrize("kelvin", [273.15, 373.15, 573.15])
def test_band_integral_against_quadrature(kelvin: float) -> None:
    """Planck's law with scipy.constants, adaptive quadrature."""
    h, c, k = constants.h, constants.c, constants.k

    def planck(wave: float) -> float:
        return 2 * h * c**2 / wave**5 / np.expm1(h * c / (wave * k * kelvin))

    exact, _ = integrate.quad(planck, 8e-6, 14e-6, epsabs=0, epsrel=1e-12)
    assert band_radiance(kelvin) == pytest.approx(exact, rel=1e-10)


@pytest.mark.parametrize(("product", "fraction"), [(2400e-6, 0.1403), (4200e-6, 0.5160)])
def test_black_body_fractions(product: float, fraction: float) -> None:
    """Fraction of black-body power below lambda T, Siegel & Howell, appendix A table (from memory)."""
    kelvin = 600.0
    band = (1e-8 / kelvin * 600 + 2e-7, product / kelvin)
    share = np.pi * band_radiance(kelvin, band) / (constants.Stefan_Boltzmann * kelvin**4)
    assert share == pytest.approx(fraction, rel=2e-3)


def test_bare_metal_reads_far_too_low_and_the_fourth_power_is_off() -> None:
    """A gun at 0.95 on metal of 0.2 in 295 K: the T^4 shortcut differs by several kelvin."""
    true = surface_temperature(350.0, 0.95, 0.2, 295.0)
    shortcut = ((0.95 * 350.0**4 + (0.2 - 0.95) * 295.0**4) / 0.2) ** 0.25
    assert 460 < true < 490
    assert abs(true - shortcut) > 3


def test_there_and_back_and_nan() -> None:
    temperature = np.array([300.0, 400.0, 600.0, np.nan])
    reading = expected_reading(temperature, 0.95, 0.25, 293.0)
    back = surface_temperature(reading, 0.95, 0.25, 293.0)
    np.testing.assert_allclose(back, temperature, rtol=1e-9)


def test_refusals() -> None:
    with pytest.raises(OutOfRange, match="surface_emissivity"):
        surface_temperature(350.0, 0.95, 0.0, 295.0)
    with pytest.raises(OutOfRange, match="no surface"):
        surface_temperature(200.0, 0.95, 0.1, 320.0)
