"""A thermobalance's onset carried to the rate at which a crown's face warms."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import constants
from scipy.integrate import quad
from scipy.optimize import brentq

from screening.physics.crown.onset import onset_at_rate


@pytest.mark.parametrize(
    ("onset", "energy", "expected"), [(410.0, 274e3, 470.0), (318.0, 157e3, 400.0), (444.0, 295e3, 505.0)]
)
def test_onsets_of_polyamide_acetal_and_polycarbonate(onset: float, energy: float, expected: float) -> None:
    """Activation energies of open fire-modelling data for PA66, POM and PC; 10 K/min carried to 10 K/s, reckoned by hand."""
    assert float(onset_at_rate(onset + 273.15, energy, 10.0, 10 / 60)) - 273.15 == pytest.approx(expected, abs=1.0)


@pytest.mark.parametrize("energy", [157e3, 200e3, 295e3])
def test_shift_is_that_of_the_reaction_integrated(energy: float) -> None:
    """One step of first order, dx/dT = A/b e^(-E/RT) (1 - x): the same share is gone at T1 (10 K/min) and T2 (10 K/s) where the
    temperature integrals are in the ratio of the rates. Doyle's straight line is good to 3 K here."""
    first = 680.0

    def reacted(end: float) -> float:
        return quad(lambda t: np.exp(-energy / constants.R * (1 / t - 1 / first)), 300.0, end, limit=200)[0]

    exact = brentq(lambda t: reacted(t) / reacted(first) - 60.0, first, first + 150)
    assert float(onset_at_rate(first, energy, 10.0, 10 / 60)) == pytest.approx(exact, abs=3.0)


def test_the_measured_rate_shifts_nothing_and_a_faster_one_more() -> None:
    shifts = onset_at_rate(680.0, 200e3, np.array([1 / 6, 3.0, 10.0, 20.0]), 1 / 6) - 680.0
    assert shifts[0] == pytest.approx(0.0, abs=1e-9)
    assert np.all(np.diff(shifts) > 0)
