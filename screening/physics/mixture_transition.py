"""The glass transition of a polymer that holds a liquid."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def fox_transition(
    liquid_mass_fraction: ArrayLike, liquid_transition: ArrayLike, polymer_transition: ArrayLike
) -> FloatArray:
    """Return the glass transition of a mixture [K] by Fox: 1/Tg = w1/Tg1 + w2/Tg2.

    Holds for mixtures without strong specific bonds; it tends to be low by 10-20 K at small fractions of a small
    molecule.

    Parameters
    ----------
    liquid_mass_fraction : array_like
        w1 [1].
    liquid_transition, polymer_transition : array_like
        Glass transitions of the two [K].

    References
    ----------
    Fox, T. G. (1956). Bull. Am. Phys. Soc. 1, 123, from memory. Matches the equation as quoted on p. 134 of Coatings of
    Polymers and Plastics (2003, looked up: https://fliphtml5.com/quph/erws).

    Examples
    --------
    >>> round(float(fox_transition(0.10, 120.0, 378.0)), 1)
    311.1
    """
    w = np.asarray(liquid_mass_fraction, dtype=float)
    return 1 / (w / np.asarray(liquid_transition, dtype=float) + (1 - w) / np.asarray(polymer_transition, dtype=float))


def kelley_bueche_transition(
    liquid_volume_fraction: ArrayLike,
    liquid_transition: ArrayLike,
    polymer_transition: ArrayLike,
    liquid_expansion: ArrayLike = 1.0e-3,
    polymer_expansion: ArrayLike = 4.8e-4,
) -> FloatArray:
    """Return the glass transition of a mixture [K] from the free volumes that both bring.

    Tg = (a2 phi2 Tg2 + a1 phi1 Tg1) / (a2 phi2 + a1 phi1)

    Parameters
    ----------
    liquid_volume_fraction : array_like
        phi1 [1].
    liquid_transition, polymer_transition : array_like
        [K]
    liquid_expansion : array_like
        a1, volume expansion of the liquid, about 1e-3 [1/K].
    polymer_expansion : array_like
        a2, volume expansion of the polymer above less below its Tg, about 4.8e-4 [1/K].

    References
    ----------
    Kelley, F. N. & Bueche, F. (1961). J. Polym. Sci. 50, 549, from memory.
    """
    phi = np.asarray(liquid_volume_fraction, dtype=float)
    one = np.asarray(liquid_expansion, dtype=float) * phi
    two = np.asarray(polymer_expansion, dtype=float) * (1 - phi)
    return (one * liquid_transition + two * polymer_transition) / (one + two)


def gordon_taylor_transition(
    liquid_mass_fraction: ArrayLike, liquid_transition: ArrayLike, polymer_transition: ArrayLike, weight: ArrayLike
) -> FloatArray:
    """Return Tg = (w1 Tg1 + k w2 Tg2) / (w1 + k w2) [K]; `weight` k = Tg1/Tg2 gives Fox (Gordon & Taylor 1952)."""
    w = np.asarray(liquid_mass_fraction, dtype=float)
    k = np.asarray(weight, dtype=float)
    return (w * liquid_transition + k * (1 - w) * polymer_transition) / (w + k * (1 - w))
