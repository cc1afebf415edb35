"""Do the pin bosses carry the peak load when warm?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def pin_boss_pressure(
    peak_pressure: ArrayLike, bore: ArrayLike, pin_diameter: ArrayLike, boss_length: ArrayLike
) -> FloatArray:
    """Return the mean bearing pressure of the piston pin in its two bosses.

    Holds for a pin that bears evenly; a bending pin loads the inner edges about half as much again. The
    piston's inertia, which relieves the pin at firing, is left out.

        p_boss = p_peak (pi B^2/4)/(2 d L)

    Parameters
    ----------
    peak_pressure : [Pa] gauge, (n_draw,)
    bore : [m] B, above 0, (n_draw,)
    pin_diameter : [m] d, above 0, (n_draw,)
    boss_length : [m] L, of ONE boss, above 0, (n_draw,)

    Returns
    -------
    [Pa] (n_draw,)

    Raises
    ------
    OutOfRange : a length of 0 or less

    Example
    -------
    >>> round(float(pin_boss_pressure(2.5e6, 0.056, 0.013, 0.014)) / 1e6, 2)
    16.92
    """
    load, diameter, pin, length = (np.asarray(v, dtype=float) for v in (peak_pressure, bore, pin_diameter, boss_length))
    if np.any(diameter <= 0) or np.any(pin <= 0) or np.any(length <= 0):
        raise OutOfRange("bore, pin_diameter and boss_length must be above 0")
    return np.asarray(load * np.pi * diameter**2 / 4.0 / (2.0 * pin * length))


def pin_boss_limit(
    strength: ArrayLike,
    bore: ArrayLike,
    pin_diameter: ArrayLike,
    boss_length: ArrayLike,
    bearing_factor: ArrayLike = 1.0,
) -> FloatArray:
    """Return the cylinder pressure at which the bosses yield under the pin.

    Holds as `pin_boss_pressure`, of which it is the inverse at the boss's strength.

        p = b sigma 2 d L/(pi B^2/4)

    Parameters
    ----------
    strength : [Pa] sigma, at the boss's temperature, (n_time, n_draw) or (n_draw,)
    bore : [m] B, above 0, (n_draw,)
    pin_diameter : [m] d, above 0, (n_draw,)
    boss_length : [m] L, of ONE boss, above 0, (n_draw,)
    bearing_factor : [1] b, bearing over tensile yield, 1 (plain) to about 1.5 (held in all round)

    Returns
    -------
    [Pa] the shape of `strength`

    Raises
    ------
    OutOfRange : a length of 0 or less

    Example
    -------
    >>> round(float(pin_boss_limit(60e6, 0.056, 0.013, 0.014, 1.2)) / 1e6, 2)
    10.64
    """
    one = pin_boss_pressure(1.0, bore, pin_diameter, boss_length)
    return np.asarray(strength, dtype=float) * np.asarray(bearing_factor, dtype=float) / one
