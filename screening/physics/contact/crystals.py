"""At which temperature does a liquid take a polymer's crystals apart?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import constants

from screening.arrays import FloatArray


def melting_point_in_liquid(
    melting_point: ArrayLike,
    fusion_energy: ArrayLike,
    molar_volume: ArrayLike,
    interaction: ArrayLike,
    liquid_fraction: ArrayLike = 0.95,
) -> FloatArray:
    """Return the melting point of a polymer's crystals in a mixture with a liquid, never above that of the dry polymer.

    Holds for large, perfect crystals and one chi at all temperatures.

        1/T = 1/Tm + R/(H V1) (phi1 - chi phi1^2)

    Parameters
    ----------
    melting_point : [K] Tm of the dry polymer
    fusion_energy : [J/m3] H, heat of fusion of the perfect crystal per volume
    molar_volume : [m3/mol] V1 of the liquid
    interaction : [1] chi
    liquid_fraction : [1] phi1; near 1 for a part in a jar

    Returns
    -------
    [K] the broadcast of all

    References
    ----------
    Flory, P. J. (1953), Principles of Polymer Chemistry, ch. XIII (melting point lowered by a diluent), from memory.

    Example
    -------
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
