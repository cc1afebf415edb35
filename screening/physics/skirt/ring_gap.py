"""How wide must the cold end gap of the top ring be so that its ends do not butt when it is hot?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def ring_gap_needed(bore_diameter: ArrayLike, bore_strain: ArrayLike, ring_strain: ArrayLike) -> FloatArray:
    """Return the cold end gap at which the ends of a hot metal ring just do not butt.

    Holds for a ring that follows the bore and is of one temperature; with less gap it jams in the bore.

        g = pi D_b (e_r - e_b), never below 0

    Parameters
    ----------
    bore_diameter : [m] D_b, cold, (n_draw,)
    bore_strain, ring_strain : [1] e_b, e_r, growth from cold to hot, (n_draw,)

    Returns
    -------
    [m] (n_draw,), measured with the ring in the cold bore

    References
    ----------
    The growth of a ring's circumference less that of the bore it lies in.

    Example
    -------
    An iron ring 60 K above an iron bore of 56 mm, both 11e-6/K:

    >>> round(1e3 * float(ring_gap_needed(0.056, 11e-6 * 100, 11e-6 * 160)), 3)
    0.116
    """
    bore = np.asarray(bore_diameter, dtype=float)
    growth = np.asarray(ring_strain, dtype=float) - np.asarray(bore_strain, dtype=float)
    return np.asarray(np.pi * bore * np.maximum(growth, 0.0))
