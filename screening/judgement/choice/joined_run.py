"""One material's run put together from its parts."""

from __future__ import annotations

import numpy as np

from screening.judgement.choice.crown_history import CrownHistory, crown_history
from screening.judgement.piston.run import PartRun

FloatArray = np.ndarray


class JoinedRun:
    """A run while its parts come in; the heat of the first part stands for all in the charts."""

    def __init__(self) -> None:
        self._times: dict[str, list[FloatArray]] = {}
        self._copy_seizes_at: list[FloatArray] = []
        self._history: CrownHistory | None = None

    def add(self, part: PartRun) -> None:
        """Take in the next part."""
        for name, value in part.times.items():
            self._times.setdefault(name, []).append(value)
        if part.fit is not None:
            self._copy_seizes_at.append(part.fit.copy_seizes_at)
        if self._history is None and part.limit is not None:
            self._history = crown_history(part, part.limit)

    @property
    def times(self) -> dict[str, FloatArray]:
        """Mechanism -> the time at which it would end the run by itself, all parts, (n_draw,) [s] each."""
        return {name: np.concatenate(parts) for name, parts in self._times.items()}

    @property
    def copy_seizes_at(self) -> FloatArray:
        """The time at which a copy at the metal part's clearance would seize, all parts, (n_draw,) [s]; of a polymer only."""
        return np.concatenate(self._copy_seizes_at)

    @property
    def history(self) -> CrownHistory:
        """The crown's heat summed up, once the first part is in."""
        assert self._history is not None
        return self._history
