"""How fast does a decomposing crown recede?"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from screening.errors import NotBuiltYet


class Ablation(NamedTuple):
    """Decomposition as plain arrays `(n_draw,)`."""

    onset: np.ndarray  # [K]
    heat: np.ndarray  # latent heat per volume of polymer [J/m3]
    char: np.ndarray  # resistance of char per depth receded [m2 K/W per m]


def recede_block(*_: Any) -> None:
    """March draws whose top layer decomposes."""
    raise NotBuiltYet("recession of a decomposing crown")
