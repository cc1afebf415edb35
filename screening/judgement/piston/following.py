"""A crown that burns is followed no further than until something has ended its run: receding is dear to compute."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.piston.collapse import time_of_collapse
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat

WINDOW = 1.7
"""A crown that burns is followed on to so many times what is computed of it, again and again until something has ended it
(the project's own choice)."""


class FollowedRun:
    """Whether each draw of a run still goes on, by what has been computed of its crown.

    `follow` is handed to the solver, which asks it after each stretch. What one stretch has settled is kept, so that no
    moment is asked twice:

    - `collapses` (n_draw,) [s], the crown's collapse so far, inf while it carries its load;
    - `carried` (n_draw,) [s], up to where the load was carried, inf where nothing more is to be asked.

    Parameters
    ----------
    draws, stack, load : of the run
    ended_otherwise : what does not wait for the crown's heat ends each draw here, (n_draw,) [s]
    shown : so many of the first draws are followed to the horizon whatever ends them
    """

    def __init__(
        self, draws: Conditions, stack: CrownStack, load: Load, ended_otherwise: FloatArray, shown: int
    ) -> None:
        self._draws, self._stack, self._load = draws, stack, load
        self._ended_otherwise, self._shown = ended_otherwise, shown
        self.collapses = np.full(draws.n_draw, np.inf)
        self.carried = np.full(draws.n_draw, -np.inf)

    def follow(self, heat: CrownHeat) -> FloatArray:
        """Return the time up to which each draw is to be computed next, (n_draw,) [s]; 0 where it is over."""
        self.collapses = self._collapse(heat, 0.0, self.carried)
        ended = np.fmin(self.collapses, self._ended_otherwise)
        wanted = np.where(ended <= heat.followed, 0.0, WINDOW * np.maximum(heat.followed, heat.times[1]))
        wanted[: self._shown] = heat.times[-1]
        goes_on = (wanted > heat.followed) & np.isinf(self.collapses)
        self.carried = np.where(goes_on, heat.followed, np.inf)
        return wanted

    def collapse(self, heat: CrownHeat, lost: FloatArray) -> FloatArray:
        """Return the crown's collapse in the finished heat, where the fuel takes `lost` (n_draw,) [m] of it, (n_draw,) [s].

        Where it takes some, the whole run is asked again.
        """
        return self._collapse(heat, lost, np.where(lost > 0, -np.inf, self.carried))

    def _collapse(self, heat: CrownHeat, lost: FloatArray | float, carried: FloatArray) -> FloatArray:
        later = time_of_collapse(self._draws, self._stack, heat, self._load, lost, carried)
        return np.minimum(self.collapses, later)
