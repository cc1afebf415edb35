"""The words for what a liquid does to a material, and the limits of swelling between them.

ISO 175 leaves the limits to the user; these are the project's own choice.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

NONE, SLIGHT, SWELLS, STRESS_CRACKS, SWELLS_STRONGLY, DISSOLVES = range(6)
WORDS = ("none", "slight", "swells", "stress cracks", "swells strongly", "dissolves")
"""Outcome words by severity."""
UNKNOWN = "unknown"
"""Where neither evidence nor parameters exist."""
ATTACKED = WORDS[SWELLS:]
"""Words of what does not stand the liquid."""
LINES = (0.01, 0.05, 0.15)
"""Volume swell [1] from which the words are slight, swells, swells strongly."""
FALLS_APART = 4.0
"""Swell [1] beyond which a polymer without links or crystals no longer holds together: it counts as dissolved."""
SWELL_OF_WORD = {
    "none": (0.0, LINES[0]),
    "slight": LINES[:2],
    "swells": LINES[1:],
    "stress cracks": (0.02, FALLS_APART),
    "swells strongly": (LINES[2], 20.0),
    "dissolves": (FALLS_APART, math.inf),
}
"""Lowest and highest volume swell [1] that a word stands for."""


def swell_level(swell: ArrayLike) -> NDArray[np.intp]:
    """Return the place in `WORDS` of a volume swell [1], same shape; one that is not known counts as none.

    >>> [WORDS[i] for i in swell_level([0.0, 0.01, 0.05, 0.15, np.inf])]
    ['none', 'slight', 'swells', 'swells strongly', 'swells strongly']
    """
    level = np.searchsorted(LINES, np.nan_to_num(swell, nan=0.0, posinf=1e9), side="right")
    return np.array([NONE, SLIGHT, SWELLS, SWELLS_STRONGLY])[level]
