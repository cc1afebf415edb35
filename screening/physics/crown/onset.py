"""A polymer heated faster decomposes hotter: a thermobalance's onset carried to the rate at which a crown's face warms."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import constants

from screening.arrays import FloatArray

_DOYLE = 1.052
"""Slope of Doyle's approximation, for E/(R T) of 20 to 60 (Doyle 1962; from memory)."""


def onset_at_rate(
    onset: ArrayLike, activation_energy: ArrayLike, rate: ArrayLike, measured_rate: ArrayLike = 10 / 60
) -> FloatArray:
    """Return the decomposition onset at another heating rate.

    One step of first order with a constant activation energy, E/(R T) between 20 and 60.

        1/T2 = 1/T1 - R ln(b2/b1)/(1.052 E)

    Parameters
    ----------
    onset : [K] T1, at the measured rate
    activation_energy : [J/mol] E
    rate : [K/s] b2
    measured_rate : [K/s] b1, usually 10 K/min

    Returns
    -------
    [K]

    References
    ----------
    Ozawa 1965; Flynn and Wall 1966 (from memory).

    Examples
    --------
    Polyamide 66, 410 degC at 10 K/min and 274 kJ/mol, at 10 K/s:

    >>> round(float(onset_at_rate(683.15, 274e3, 10.0)) - 273.15)
    470
    """
    t1, energy, fast, slow = (np.asarray(v, dtype=float) for v in (onset, activation_energy, rate, measured_rate))
    return 1 / (1 / t1 - constants.R * np.log(fast / slow) / (_DOYLE * energy))
