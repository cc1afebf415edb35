"""What compression ratio does a compression gauge in the plug hole speak for?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.cylinder.volume import piston_travel


def compression_ratio_by_gauge(
    gauge_pressure: ArrayLike,
    air_pressure: ArrayLike,
    filling: ArrayLike,
    exponent: ArrayLike,
    intake_closing: ArrayLike,
    stroke: ArrayLike,
    rod_length: ArrayLike,
) -> FloatArray:
    """Return the geometric compression ratio of a cylinder from the pressure that a gauge keeps when it is cranked.

    Holds for a warm engine cranked with the throttle open, the decompressor off, and a gauge whose valve stands at its plug
    end, so that its hose adds no room. Heat lost to the walls and gas lost past the rings are in the exponent.

        p_gauge + p_air = f p_air r_e^n;  r_e = 1 + (r - 1) x/s, so  r = 1 + (r_e - 1) s/x, x from `piston_travel`

    Parameters
    ----------
    gauge_pressure : [Pa] above the air's
    air_pressure : [Pa]
    filling : [1] f, pressure in the cylinder when the intake valve closes over the air's
    exponent : [1] n, of the compression while cranking
    intake_closing : after top dead centre [rad]
    stroke : [m] s
    rod_length : between centres [m]

    Returns
    -------
    [1], the broadcast of all; NaN where an argument is NaN

    Raises
    ------
    OutOfRange : a pressure of the air, filling or exponent not above 0, a valve that closes at top dead centre, a rod no longer
        than the crank's throw, or a reading no higher than what the cylinder held before it was compressed

    References
    ----------
    Polytropic compression: Heywood 1988, chapter 9 (from memory). Effective ratio from the closing of the intake, and the
    same power law for the gauge: Compression ratio, open encyclopaedia (looked up).

    Example
    -------
    9.6 bar on the gauge in air of 1 bar, the valve closing 40 degrees after bottom dead centre; by hand the piston is 0.913
    of its stroke down there and 10.6^(1/1.25) = 6.61, so that 1 + 5.61/0.913 is

    >>> round(float(compression_ratio_by_gauge(9.6e5, 1e5, 1.0, 1.25, np.radians(580), 0.040, 0.070)), 2)
    7.15
    """
    gauge, air, fill, power = (
        np.asarray(value, dtype=float) for value in (gauge_pressure, air_pressure, filling, exponent)
    )
    for name, value in (("air_pressure", air), ("filling", fill), ("exponent", power)):
        if np.any(value <= 0):
            raise OutOfRange(f"{name}: got {np.min(value):g}; must be above 0")
    left = piston_travel(intake_closing, stroke, rod_length) / np.asarray(stroke, dtype=float)
    if np.any(left <= 0):
        raise OutOfRange("intake_closing: the valve closes at top dead centre, so nothing is compressed")
    rise = (gauge + air) / (fill * air)
    if np.any(rise <= 1):
        raise OutOfRange(
            f"gauge_pressure: got {np.min(gauge):g} Pa; must be above what the cylinder held before it was compressed"
        )
    return np.asarray(1 + (rise ** (1 / power) - 1) / left)
