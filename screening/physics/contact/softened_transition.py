"""Down to which temperature does a liquid soften a polymer that holds it?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def fox_transition(
    liquid_mass_fraction: ArrayLike, liquid_transition: ArrayLike, polymer_transition: ArrayLike
) -> FloatArray:
    """Return the glass transition of a mixture of a polymer and a liquid.

    Holds for mixtures without strong specific bonds; it tends to be low by 10-20 K at small fractions of a small
    molecule.

        1/Tg = w1/Tg1 + (1 - w1)/Tg2

    Parameters
    ----------
    liquid_mass_fraction : [1] w1
    liquid_transition : [K] Tg1
    polymer_transition : [K] Tg2

    Returns
    -------
    [K] the broadcast of all

    References
    ----------
    Fox, T. G. (1956), Bull. Am. Phys. Soc. 1, 123, from memory. Matches the equation as quoted on p. 134 of Coatings of
    Polymers and Plastics (2003, looked up: https://fliphtml5.com/quph/erws).

    Example
    -------
    >>> round(float(fox_transition(0.10, 120.0, 378.0)), 1)
    311.1
    """
    w = np.asarray(liquid_mass_fraction, dtype=float)
    return 1 / (w / np.asarray(liquid_transition, dtype=float) + (1 - w) / np.asarray(polymer_transition, dtype=float))
