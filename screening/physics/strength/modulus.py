"""How stiff is the polymer when it is hot, from its deflection temperatures?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.temperature_curve import checked_knots, read_curve
from screening.quantities import ROOM_TEMPERATURE

DEFLECTION_STRAIN = 0.002
"""Increase of outer-fibre strain that ends an ISO 75 test [1] (0.2 %)."""


@dataclass(frozen=True)
class ModulusCurve:
    """Modulus against temperature; flat below the first knot, nothing above the last.

    Parameters
    ----------
    temperature : [K] (n_knot,) or (n_knot, n_draw), rising
    modulus : [Pa] (n_knot,) or (n_knot, n_draw)
    """

    temperature: FloatArray
    modulus: FloatArray

    def __post_init__(self) -> None:
        knots, heights = checked_knots(self.temperature, self.modulus, "modulus")
        object.__setattr__(self, "temperature", knots)
        object.__setattr__(self, "modulus", heights)

    def at(self, temperature: ArrayLike) -> FloatArray:
        """Return the modulus [Pa] at `temperature` [K], shape (..., n_draw)."""
        return read_curve(temperature, self.temperature, self.modulus)


def modulus_at_deflection_temperature(stress: ArrayLike, modulus_23: ArrayLike) -> FloatArray:
    """Return the modulus of a bar at its deflection temperature under load.

    Holds for ISO 75 flatwise bars: the end point is a fixed *increase* of 0.2 % in outer-fibre strain after
    the load is on, so the strain the load made cold adds to it.

        E = s/(0.002 + s/E_23)

    Parameters
    ----------
    stress : [Pa] flexural stress of the test, 1.80e6 or 0.45e6
    modulus_23 : [Pa] modulus at 23 degC, (n_draw,)

    Returns
    -------
    [Pa] (n_draw,), a creep modulus over the minutes of the test

    Raises
    ------
    OutOfRange : a stress or modulus of 0 or less

    References
    ----------
    ISO 75-1 (2013/2020), flexural strain increase of 0.2 %; ISO 75-2 methods A (1.80 MPa) and B (0.45 MPa);
    from memory.

    Example
    -------
    >>> round(float(modulus_at_deflection_temperature(1.80e6, 2.4e9)) / 1e9, 3)
    0.655
    """
    load, cold = np.asarray(stress, dtype=float), np.asarray(modulus_23, dtype=float)
    if np.any(load <= 0) or np.any(cold <= 0):
        raise OutOfRange("stress and modulus_23 must be above 0")
    return np.asarray(load / (DEFLECTION_STRAIN + load / cold))


def modulus_curve(
    modulus_23: ArrayLike,
    deflection_180: ArrayLike,
    deflection_045: ArrayLike,
    end: ArrayLike,
) -> ModulusCurve:
    """Return modulus against temperature through the pair of deflection temperatures.

    Holds as a straight-line guide for buckling and for how layers share their growth; it is not a strength.

        E(23 degC) = E_23, E(HDT 1.80 MPa) = 1.80/(0.002 + 1.80/E_23), E(HDT 0.45 MPa) likewise, E(end) = 0

    Parameters
    ----------
    modulus_23 : [Pa] (n_draw,)
    deflection_180 : [K] deflection temperature at 1.80 MPa, (n_draw,); below 23 degC it counts as 23 degC
    deflection_045 : [K] deflection temperature at 0.45 MPa, (n_draw,); below the other it counts as the other
    end : [K] where stiffness is gone: the melting point, or for an amorphous polymer about Tg + 20 K

    Returns
    -------
    ModulusCurve of 4 knots

    References
    ----------
    As `modulus_at_deflection_temperature`; straight lines between the knots are the project's choice.

    Example
    -------
    >>> round(float(modulus_curve(2.4e9, 371.15, 377.15, 398.15).at(371.15)) / 1e9, 3)
    0.655
    """
    cold, high, low, gone = np.broadcast_arrays(
        *(np.asarray(v, dtype=float) for v in (modulus_23, deflection_180, deflection_045, end))
    )
    first = np.maximum(high, ROOM_TEMPERATURE)
    second = np.maximum(low, first)
    heights = [
        cold,
        modulus_at_deflection_temperature(1.80e6, cold),
        modulus_at_deflection_temperature(0.45e6, cold),
        0.0 * cold,
    ]
    knots = np.stack([np.full_like(first, ROOM_TEMPERATURE), first, second, np.maximum(gone, second)])
    return ModulusCurve(knots, np.stack(heights))
