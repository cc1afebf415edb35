"""Conversions at the edge: exact where they are defined to be, inverse everywhere."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, strategies as st

from screening.quantities import ZERO_CELSIUS, from_si, known_units, si_unit, to_si


@pytest.mark.parametrize(
    ("value", "unit", "si", "kind"),
    [
        (0.0, "degC", 273.15, "K"),
        (32.0, "degF", 273.15, "K"),
        (212.0, "degF", 373.15, "K"),
        (-40.0, "degF", 233.15, "K"),
        (-40.0, "degC", 233.15, "K"),
        (3000.0, "rpm", 50.0, "1/s"),
        (98.0, "cc", 98e-6, "m3"),
        (1.0, "L", 1e-3, "m3"),
        (56.0, "mm", 0.056, "m"),
        (2.0, "h", 7200.0, "s"),
        (180.0, "deg", np.pi, "rad"),
        (1.0, "bar", 1e5, "Pa"),
        (2.4, "GPa", 2.4e9, "Pa"),
        (120.0, "J/g", 1.2e5, "J/kg"),
        (5.0, "%", 0.05, "1"),
        (70.0, "1e-6/K", 7e-5, "1/K"),
        (-12.0, "log10(m2/s)", -12.0, "log10(m2/s)"),
    ],
)
def test_known_conversions(value: float, unit: str, si: float, kind: str) -> None:
    assert to_si(value, unit) == pytest.approx(si, rel=1e-12)
    assert si_unit(unit) == kind


@given(value=st.floats(-1e6, 1e6), unit=st.sampled_from(known_units()))
def test_there_and_back(value: float, unit: str) -> None:
    assert from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("unit", known_units())
def test_si_units_convert_to_themselves(unit: str) -> None:
    kind = si_unit(unit)
    if kind in known_units():
        assert si_unit(kind) == kind
        assert to_si(3.7, kind) == 3.7


def test_arrays_keep_their_shape_and_gaps() -> None:
    celsius = np.array([[0.0, np.nan], [100.0, -273.15]])
    kelvin = to_si(celsius, "degC")
    assert kelvin == pytest.approx(celsius + ZERO_CELSIUS, nan_ok=True)
    assert from_si(kelvin, "degC") == pytest.approx(celsius, nan_ok=True)


def test_an_unknown_unit_is_an_error() -> None:
    for work in (lambda: to_si(1.0, "psi"), lambda: from_si(1.0, "psi"), lambda: si_unit("psi")):
        with pytest.raises(KeyError, match="psi"):
            work()
