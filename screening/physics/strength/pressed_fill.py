"""How much energy waits in what presses on a crown, to throw its pieces when it bursts?"""

from __future__ import annotations

import math

OIL_BULK_MODULUS = 1.5e9
"""Bulk modulus of mineral oil [Pa]: 1.3 to 1.7 GPa (handbook, from memory)."""
ATMOSPHERE = 101325.0
"""Pressure outside [Pa]."""


def energy_in_liquid(volume: float, pressure: float, bulk_modulus: float = OIL_BULK_MODULUS) -> float:
    """Return the energy stored in a liquid by its own compression: p^2 V/(2 K).

    Holds for a small compression; walls and hoses that stretch store more.

    Parameters
    ----------
    volume : [m3]
    pressure : [Pa] over that outside
    bulk_modulus : [Pa] K

    Returns
    -------
    [J]

    References
    ----------
    Elastic energy of a linear medium.

    Examples
    --------
    30 mL of oil at 60 bar: by hand (6e6)^2 x 30e-6/(2 x 1.5e9) = 0.36 J.

    >>> round(energy_in_liquid(30e-6, 60e5), 2)
    0.36
    """
    return pressure**2 * volume / (2 * bulk_modulus)


def energy_in_gas(volume: float, pressure: float, outside: float = ATMOSPHERE) -> float:
    """Return the most work that a compressed gas can do as it expands: p V ln(p/p_outside), at constant temperature.

    Parameters
    ----------
    volume : [m3]
    pressure : [Pa], not less than `outside`
    outside : [Pa]

    Returns
    -------
    [J]

    References
    ----------
    Isothermal expansion of an ideal gas, an upper bound.

    Examples
    --------
    30 mL of air at 60 bar: by hand 6e6 x 30e-6 x ln(59.2) = 735 J, two thousand times what oil holds.

    >>> round(energy_in_gas(30e-6, 60e5))
    735
    """
    return pressure * volume * math.log(pressure / outside)
