"""At which temperature a liquid takes a polymer's crystals apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

FloatArray = NDArray[np.float64]


def melting_point_in_liquid(
    melting_point: ArrayLike,
    fusion_energy: ArrayLike,
    molar_volume: ArrayLike,
    interaction: ArrayLike,
    liquid_fraction: ArrayLike = 0.95,
) -> FloatArray:
    """Return the melting point of a polymer's crystals in a mixture with a liquid [K].

    1/T = 1/Tm + R / (H V1) (phi1 - chi phi1^2); never above Tm.

    Parameters
    ----------
    melting_point : array_like
        Tm of the dry polymer [K].
    fusion_energy : array_like
        H, heat of fusion of the perfect crystal per volume [J/m3].
    molar_volume : array_like
        V1 of the liquid [m3/mol].
    interaction : array_like
        chi [1].
    liquid_fraction : array_like
        phi1 [1]; near 1 for a part in a jar.

    References
    ----------
    Flory, P. J. (1953). Principles of Polymer Chemistry, ch. XIII (melting point lowered by a diluent), from memory.

    Examples
    --------
    Polyethylene (411 K, 2.9e8 J/m3) in xylene (123 cm3/mol), chi 0.3:

    >>> round(float(melting_point_in_liquid(411.0, 2.9e8, 123e-6, 0.3)))
    386
    """
    phi = np.asarray(liquid_fraction, dtype=float)
    drive = np.maximum(phi - np.asarray(interaction, dtype=float) * phi**2, 0.0)
    inverse = 1 / np.asarray(melting_point, dtype=float) + constants.R * drive / (
        np.asarray(fusion_energy, dtype=float) * np.asarray(molar_volume, dtype=float)
    )
    return 1 / inverse
