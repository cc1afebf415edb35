"""A brittle plastic stands more in bending than in a tensile bar, and less the more of it is under stress."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def flexural_to_tensile(modulus: ArrayLike) -> FloatArray:
    """Return the ratio of the strength in three-point bending to that of a tensile bar of the same size.

    Two-parameter Weibull flaws through the volume; linear elastic to the break.

        q = (2 (m + 1)^2)^(1/m)

    Parameters
    ----------
    modulus : [1] m, Weibull's modulus

    Returns
    -------
    [1]

    References
    ----------
    Weil and Daniel 1964 (from memory); Whitney and Knight 1980.

    Examples
    --------
    >>> flexural_to_tensile([10, 15, 20, 30]).round(2)
    array([1.73, 1.52, 1.4 , 1.29])
    """
    m = np.asarray(modulus, dtype=float)
    return (2 * (m + 1) ** 2) ** (1 / m)


def size_factor(stressed: ArrayLike, of_the_bar: ArrayLike, modulus: ArrayLike) -> FloatArray:
    """Return the share of a bar's strength that a larger stressed face keeps.

        z = (A/A_bar)^(-1/m)

    Parameters
    ----------
    stressed, of_the_bar : [m2] A, highly stressed area of the part and of the bar that was tested
    modulus : [1] m, Weibull's modulus

    Returns
    -------
    [1]

    References
    ----------
    Weibull 1939 (from memory).

    Examples
    --------
    An underside of 170 mm2 against a bar's 40:

    >>> size_factor(170e-6, 40e-6, [10, 15, 20, 30]).round(3)
    array([0.865, 0.908, 0.93 , 0.953])
    """
    part, bar, m = (np.asarray(v, dtype=float) for v in (stressed, of_the_bar, modulus))
    return (part / bar) ** (-1 / m)
