"""The compression ratio that a gauge speaks for: by hand, back from the cylinder's own volumes, and within what it may be."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from screening.errors import OutOfRange
from screening.physics.cylinder.compression_gauge import compression_ratio_by_gauge
from screening.physics.cylinder.volume import cylinder_volume

AIR = 1.005e5
ENGINE: dict[str, Any] = {"intake_closing": np.radians(580.0), "stroke": 0.042, "rod_length": 0.0735}


def cranked(ratio: float, exponent: float, filling: float, closing: float, stroke: float, rod: float) -> float:
    """Return the gauge pressure [Pa] of a cylinder whose gas follows p V^n from the intake's closing on."""
    at_closing, least = (float(cylinder_volume(angle, 0.056, stroke, rod, ratio)) for angle in (closing, 0.0))
    return float(filling * AIR * (at_closing / least) ** exponent - AIR)


def test_a_reading_by_hand() -> None:
    """8 bar above air of 1.005 bar, n 1.25, filled to 0.98: 9.005/0.9849 = 9.143, to the power 0.8 5.873.

    40 degrees after bottom dead centre, rod 1.75 strokes: (1 + cos 40)/2 + 1.75 - sqrt(1.75^2 - sin^2 40/4) = 0.9128 of the
    stroke is left, so 1 + 4.873/0.9128 = 6.339.
    """
    assert float(compression_ratio_by_gauge(8e5, AIR, 0.98, 1.25, **ENGINE)) == pytest.approx(6.339, abs=0.002)


def test_a_worked_example_of_the_trade() -> None:
    """Dynamic ratio 7.5, exponent 1.3, air of 14.7 psi: 201.8 psi absolute, 187.1 psi on the gauge.

    Open encyclopaedia, Compression ratio (looked up). With the valve closing at bottom dead centre the ratio is 7.5 itself.
    """
    psi = 6894.757
    found = compression_ratio_by_gauge(187.1 * psi, 14.7 * psi, 1.0, 1.3, np.pi, 0.042, 0.0735)
    assert float(found) == pytest.approx(7.5, abs=0.01)


@settings(max_examples=150, deadline=None)
@given(
    ratio=st.floats(3.0, 20.0),
    exponent=st.floats(1.02, 1.4),
    filling=st.floats(0.8, 1.05),
    closing=st.floats(540.0, 620.0),
    rod=st.floats(1.4, 2.5),
)
def test_the_ratio_comes_back(ratio: float, exponent: float, filling: float, closing: float, rod: float) -> None:
    angle, length = np.radians(closing), 0.042 * rod
    gauge = cranked(ratio, exponent, filling, angle, 0.042, length)
    found = compression_ratio_by_gauge(gauge, AIR, filling, exponent, angle, 0.042, length)
    assert float(found) == pytest.approx(ratio, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(gauge=st.floats(3e5, 20e5), exponent=st.floats(1.05, 1.39), closing=st.floats(550.0, 610.0))
def test_the_ratio_lies_between_no_heat_lost_and_all_of_it(gauge: float, exponent: float, closing: float) -> None:
    """Air that loses nothing (1.4) needs the least compression, air held as cold as it came (1) the most."""
    least, found, most = (
        float(compression_ratio_by_gauge(gauge, AIR, 1.0, n, np.radians(closing), 0.042, 0.0735))
        for n in (1.4, exponent, 1.0)
    )
    assert 1 < least < found < most
    at_bottom = float(compression_ratio_by_gauge(gauge, AIR, 1.0, exponent, np.pi, 0.042, 0.0735))
    assert found > at_bottom > 1


def test_a_higher_reading_is_a_higher_ratio_and_units_do_not_matter() -> None:
    readings = np.linspace(3e5, 20e5, 18)
    assert np.all(np.diff(compression_ratio_by_gauge(readings, AIR, 0.98, 1.23, **ENGINE)) > 0)
    in_bar_and_mm = compression_ratio_by_gauge(8.0, 1.005, 0.98, 1.25, ENGINE["intake_closing"], 42.0, 73.5)
    assert float(in_bar_and_mm) == pytest.approx(float(compression_ratio_by_gauge(8e5, AIR, 0.98, 1.25, **ENGINE)))
    assert np.isnan(compression_ratio_by_gauge([np.nan, 8e5], AIR, 0.98, 1.23, **ENGINE)).tolist() == [True, False]


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"gauge_pressure": -5e3}, "gauge_pressure: got -5000 Pa; must be above what the cylinder held"),
        ({"air_pressure": 0.0}, "air_pressure: got 0; must be above 0"),
        ({"exponent": 0.0}, "exponent: got 0; must be above 0"),
        ({"filling": -0.1}, "filling: got -0.1; must be above 0"),
        ({"intake_closing": 2 * np.pi}, "closes at top dead centre"),
        ({"rod_length": 0.02}, "must be longer than half the stroke"),
    ],
)
def test_refusals(change: dict[str, float], text: str) -> None:
    good = {"gauge_pressure": 8e5, "air_pressure": AIR, "filling": 0.98, "exponent": 1.23, **ENGINE}
    with pytest.raises(OutOfRange, match=text):
        compression_ratio_by_gauge(**(good | change))
