"""One material's run put together from its parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.choice.crown_history import CrownHistory, crown_history
from screening.judgement.piston.run import PartRun


class JoinedRun:
    """A run while its parts come in, in any order; the heat of the first part stands for all in the charts."""

    def __init__(self) -> None:
        self._times: dict[int, Mapping[str, FloatArray]] = {}
        self._copy_seizes_at: dict[int, FloatArray] = {}
        self._thickness: dict[int, FloatArray] = {}
        self._history: CrownHistory | None = None

    def add(self, part: PartRun, start: int) -> None:
        """Take in the part whose first draw is number `start`."""
        self._times[start] = part.times
        self._thickness[start] = np.atleast_1d(part.heat.depth[-1])
        if part.fit is not None:
            self._copy_seizes_at[start] = part.fit.copy_seizes_at
        if start == 0 and part.limit is not None:
            self._history = crown_history(part, part.limit)

    @property
    def times(self) -> dict[str, FloatArray]:
        """Mechanism -> the time at which it would end the run by itself, all parts, (n_draw,) [s] each."""
        parts = [self._times[start] for start in sorted(self._times)]
        return {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}

    @property
    def copy_seizes_at(self) -> FloatArray:
        """The time at which a copy at the metal part's clearance would seize, all parts, (n_draw,) [s]; of a polymer only."""
        return np.concatenate([self._copy_seizes_at[start] for start in sorted(self._copy_seizes_at)])

    @property
    def history(self) -> CrownHistory:
        """The crown's heat summed up, once the first part is in; its thickness is that of all draws."""
        assert self._history is not None
        return replace(self._history, thickness=float(np.median(np.concatenate([*self._thickness.values()]))))
