"""The gun: Planck's law in a band, readings off bare metal, and the inverse of both."""

from __future__ import annotations

import csv
import itertools
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from scipy import constants, integrate

from screening.errors import OutOfRange
from screening.physics.head.thermometry import band_radiance, can_be_read, expected_reading, surface_temperature

PUBLISHED = Path(__file__).parents[2] / "published" / "black_body_fractions.csv"


def _fractions() -> list[dict[str, str]]:
    with PUBLISHED.open(encoding="utf-8", newline="") as rows:
        return list(csv.DictReader(rows))


def _planck(wavelength: float, temperature: float) -> float:
    h, c, k = constants.h, constants.c, constants.k
    return float(2 * h * c**2 / wavelength**5 / np.expm1(h * c / (wavelength * k * temperature)))


def _integral(temperature: float) -> float:
    return float(integrate.quad(_planck, 8e-6, 14e-6, args=(temperature,), epsabs=0, epsrel=1e-12)[0])


@pytest.mark.parametrize("celsius", [0.0, 23.0, 100.0, 200.0, 300.0])
def test_band_integral_against_adaptive_quadrature(celsius: float) -> None:
    assert band_radiance(celsius + 273.15) == pytest.approx(_integral(celsius + 273.15), rel=1e-11)


@pytest.mark.parametrize("row", _fractions(), ids=lambda row: row["wavelength_temperature_um_K"])
def test_share_of_all_radiation_below_a_wavelength(row: dict[str, str]) -> None:
    """The band from nearly nothing, in steps, over the whole: sigma T^4 / pi."""
    kelvin = 300.0
    edges = np.geomspace(1.5e-6, float(row["wavelength_temperature_um_K"]) * 1e-6 / kelvin, 12)
    below = sum(float(band_radiance(kelvin, (low, high))) for low, high in itertools.pairwise(edges))
    share = below / (constants.sigma * kelvin**4 / np.pi)
    assert share == pytest.approx(float(row["fraction_below"]), rel=float(row["relative_tolerance"]))


def test_bare_metal_by_hand() -> None:
    """60 degC at 0.95 off aluminium of 0.24, worked apart: adaptive quadrature for B and bisection for T."""
    around, reading = 293.15, 333.15
    emitted = (0.95 * _integral(reading) + 0.05 * _integral(around) - 0.76 * _integral(around)) / 0.24
    low, high = 300.0, 800.0
    while high - low > 1e-8:
        middle = (low + high) / 2
        low, high = (middle, high) if _integral(middle) < emitted else (low, middle)
    found = float(surface_temperature(reading, 0.95, 0.24, around))
    assert found == pytest.approx(low, abs=1e-5)
    assert found - 273.15 == pytest.approx(139.7, abs=0.1)  # 80 K hotter than the gun shows


@pytest.mark.parametrize(
    ("around", "taken_off", "celsius"), [(343.15, 293.15, 97.7), (343.15, 343.15, 100.7), (293.15, 293.15, 120.0)]
)
def test_a_shroud_mirrored_and_a_gun_set_to_the_air_by_hand(around: float, taken_off: float, celsius: float) -> None:
    """90 degC at 0.95 off rusty steel of 0.6 that mirrors a shroud of 70 degC, the gun taking off air of 20 degC.

    Beside it the two cases that one number for both had to choose between: 3 K and 22 K too hot.

    0.95 B(90) + 0.05 B(T_c) = 0.6 B(T) + 0.4 B(T_s), each B by adaptive quadrature, T by bisection.
    """
    reading = 363.15
    emitted = (0.95 * _integral(reading) + 0.05 * _integral(taken_off) - 0.4 * _integral(around)) / 0.6
    low, high = 300.0, 500.0
    while high - low > 1e-8:
        middle = (low + high) / 2
        low, high = (middle, high) if _integral(middle) < emitted else (low, middle)
    found = float(surface_temperature(reading, 0.95, 0.6, around, taken_off))
    assert found == pytest.approx(low, abs=1e-5)
    assert found - 273.15 == pytest.approx(celsius, abs=0.1)


def test_neither_surroundings_nor_compensation_matter_where_nothing_is_mirrored() -> None:
    """A black surface mirrors nothing, and a gun set to 1 takes nothing off; alike, the two are one."""
    anywhere = np.array([260.0, 300.0, 380.0])
    of_black = surface_temperature(350.0, 0.95, 1.0, anywhere, 290.0)
    assert np.ptp(of_black) == pytest.approx(0, abs=1e-9)
    assert np.ptp(surface_temperature(350.0, 1.0, 0.6, 290.0, anywhere)) == pytest.approx(0, abs=1e-9)
    assert float(surface_temperature(350.0, 1.0, 1.0, 260.0, 380.0)) == pytest.approx(350.0, abs=1e-6)
    together = surface_temperature(350.0, 0.95, 0.6, anywhere, anywhere)
    assert np.array_equal(together, surface_temperature(350.0, 0.95, 0.6, anywhere))
    by_compensation = surface_temperature(350.0, 0.8, 0.6, 290.0, anywhere)
    assert np.all(np.diff(by_compensation) > 0)  # the more it takes off for them, the more the surface emits itself


def test_can_be_read_follows_what_is_mirrored_and_what_is_taken_off() -> None:
    """40 degC off metal of 0.2 cannot be where it mirrors 80 degC, can where it mirrors 20."""
    assert can_be_read(313.15, 0.95, 0.2, [353.15, 293.15], 293.15).tolist() == [False, True]
    assert can_be_read(293.15, 0.3, 0.2, 310.15, [293.15, 333.15]).tolist() == [False, True]


def test_the_fourth_power_shortcut_is_several_kelvin_off() -> None:
    reading, around, emissivity = 333.15, 293.15, 0.2
    shortcut = ((0.95 * reading**4 + (emissivity - 0.95) * around**4) / emissivity) ** 0.25
    assert abs(float(surface_temperature(reading, 0.95, emissivity, around)) - shortcut) > 3.0


@settings(max_examples=60, deadline=None)
@given(
    temperature=st.floats(250, 900),
    gun=st.floats(0.3, 1.0),
    surface=st.floats(0.05, 1.0),
    around=st.floats(250, 330),
    taken_off=st.floats(250, 330),
)
def test_reading_and_temperature_are_inverse(
    temperature: float, gun: float, surface: float, around: float, taken_off: float
) -> None:
    try:
        reading = expected_reading(temperature, gun, surface, around, taken_off)
    except OutOfRange:  # so cold a surface, so low a setting or so much taken off that the gun would read off its scale
        assert min(temperature, around) < taken_off or gun < surface
        return
    found = float(surface_temperature(reading, gun, surface, around, taken_off))
    assert found == pytest.approx(temperature, abs=1e-5)


def test_limits_and_laws() -> None:
    assert float(surface_temperature(400.0, 0.95, 0.95, 293.15)) == pytest.approx(400.0, abs=1e-7)
    assert float(surface_temperature(293.15, 0.95, 0.1, 293.15)) == pytest.approx(293.15, abs=1e-6)  # all alike
    by_emissivity = surface_temperature(350.0, 0.95, np.linspace(0.1, 1.0, 10), 293.15)
    assert np.all(np.diff(by_emissivity) < 0)  # a brighter mirror hides more
    by_reading = surface_temperature(np.linspace(300, 500, 10), 0.95, 0.3, 293.15)
    assert np.all(np.diff(by_reading) > 0)
    by_surroundings = surface_temperature(350.0, 0.95, 0.3, np.linspace(280, 340, 7))
    assert np.all(np.diff(by_surroundings) < 0)  # what is mirrored is not emitted


def test_shapes_and_gaps() -> None:
    found = surface_temperature(np.array([[330.0], [np.nan]]), 0.95, np.array([0.2, np.nan, 0.9]), 293.15)
    assert found.shape == (2, 3)
    assert np.isfinite(found).tolist() == [[True, False, True], [False, False, False]]
    assert np.ndim(surface_temperature(330.0, 0.95, 0.9, 293.15)) == 0
    assert np.isnan(band_radiance([np.nan, -5.0, 0.0])).all()


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"gun_emissivity": 0.0}, "gun_emissivity: got 0; must be above 0 and at most 1"),
        ({"gun_emissivity": 1.2}, "gun_emissivity: got 1.2"),
        ({"surface_emissivity": [0.5, -0.1]}, "surface_emissivity: got -0.1"),
        ({"reading": -10.0}, "reading: got -10 K; must be above 0 K"),
        ({"surroundings": 0.0}, "surroundings: got 0 K"),
        ({"compensated_for": 0.0}, "compensated_for: got 0 K"),
        ({"reading": 250.0, "surface_emissivity": 0.1}, "no surface of that emissivity can give it"),
        ({"band": (14e-6, 8e-6)}, "must be two rising wavelengths"),
    ],
)
def test_refusals(change: dict[str, Any], text: str) -> None:
    good: dict[str, Any] = {"reading": 330.0, "gun_emissivity": 0.95, "surface_emissivity": 0.3, "surroundings": 293.15}
    with pytest.raises(OutOfRange, match=re.escape(text)):
        surface_temperature(**(good | change))
