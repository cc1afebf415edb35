"""TR-BDF2, the two-stage step by which crowns are marched: its constants and the formulas of its stages.

A trapezoidal rule leads to the stage at `GAMMA` of the step, a backward difference over beginning and stage to the end.
It is of second order and L-stable; with this `GAMMA` both stages have the same matrix.

References
----------
Bank et al. 1985, IEEE Trans. Electron Devices 32, 1992; Hosea & Shampine 1996, Appl. Numer. Math. 20, 21 (as a
Runge-Kutta method): both from memory.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from numba import njit

GAMMA = 2.0 - math.sqrt(2.0)
"""Where in a step its stage lies."""
DIAGONAL = GAMMA / 2.0
"""What each stage's own rate weighs in it, as a share of the step."""
WEIGHT = math.sqrt(2.0) / 4.0
"""What the rates at beginning and stage weigh at the end."""


class Weights(NamedTuple):
    """What beginning, stage and end of a step weigh in a moment within it [1]."""

    begin: float
    stage: float
    end: float


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def before_stage(begin: float, rate: float, step: float) -> float:
    """What the stage starts from: its value is this + DIAGONAL step times its own rate."""
    return begin + DIAGONAL * step * rate


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def before_end(begin: float, rate: float, stage_rate: float, step: float) -> float:
    """What the end starts from: its value is this + DIAGONAL step times its own rate."""
    return begin + WEIGHT * step * (rate + stage_rate)


@njit(cache=True, nogil=True, error_model="numpy")
def to_stage(step: float, before: float) -> float:
    """How far to go on from the beginning for a guess of the stage, in ways from the stage before, whose step took `before`."""
    return float(GAMMA * step / ((1.0 - GAMMA) * before))


@njit(cache=True, nogil=True, error_model="numpy")
def weights_at(share: float) -> Weights:
    """Weights at `share` of a step, on a parabola through beginning, stage and end."""
    early = (share - GAMMA) * (share - 1.0) / GAMMA
    middle = share * (share - 1.0) / (GAMMA * (GAMMA - 1.0))
    return Weights(early, middle, share * (share - GAMMA) / (1.0 - GAMMA))
