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
