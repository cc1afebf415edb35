"""How long a run is followed, when it is looked at, and how finely its crown is computed."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.conduction import Follow, heat_crown
from screening.physics.crown.crown_heat import CrownHeat

HORIZON = 3600.0
"""A run is followed at least this long [s] (the project's own choice)."""
SHOWN = 50
"""Draws that are followed to the horizon and kept for the charts and the time of each mechanism by itself."""
CELLS, STEPS = 48, 32
"""Grid of the crown. Against 160 cells, 144 steps and four times the looks lives move by 0.13 % (median), 1.3 % (95th) and
3.9 % (99th percentile); by 0.9 % and 2.6 % without lives under 0.3 s and those at which the start's load goes. The looks
are the larger part of it: with as many cells and steps as that, 1 % and 1.7 %."""
_FIRST_LOOK, _LOOKS = 0.05, 72


def horizon_of(case: Case) -> float:
    """Return the time to which a run is followed [s]: `HORIZON`, or the wanted run where that is longer."""
    return max(HORIZON, case.operation.target_run)


def output_times(horizon: float) -> FloatArray:
    """Return the times at which the crown is looked at, geometric to the horizon [s], (n_time,) [s]."""
    return np.concatenate([[0.0], np.geomspace(_FIRST_LOOK, horizon, _LOOKS)])


def heated(case: Case, draws: Conditions, stack: CrownStack, follow: Follow | None = None) -> CrownHeat:
    """Return the heat of a crown that is as cold as the air at the start; `follow` as in `heat_crown`."""
    return heat_crown(
        stack.layers,
        stack.film,
        stack.back,
        draws["ambient"],
        output_times(horizon_of(case)),
        stack.decomposition,
        cells=CELLS,
        steps=STEPS,
        follow=follow,
    )
