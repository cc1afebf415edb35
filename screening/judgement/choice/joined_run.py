"""One material's run put together from its parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.choice.crown_history import CrownHistory, crown_history
from screening.judgement.piston import ends
from screening.judgement.piston.load import StartOutcome
from screening.judgement.piston.run import PartRun
from screening.judgement.piston.seizure import SkirtFit


class JoinedRun:
    """A run while its parts come in, in any order; the heat of the first part stands for all in the charts.

    `bursts_at` is what a print's bare crown bursts at cold, as in `Story`, once it is known.
    """

    def __init__(self) -> None:
        self._times: dict[int, Mapping[str, FloatArray]] = {}
        self._starts: dict[int, StartOutcome] = {}
        self._start_load: dict[int, FloatArray] = {}
        self._thickness: dict[int, FloatArray] = {}
        self._fit: SkirtFit | None = None
        self.bursts_at: tuple[float, ...] | None = None
        self._history: CrownHistory | None = None

    def add(self, part: PartRun, start: int) -> None:
        """Take in the part whose first draw is number `start`."""
        self._times[start] = part.times
        self._starts[start] = part.start
        self._start_load[start] = part.load.start_pressure
        self._thickness[start] = np.atleast_1d(part.heat.depth[-1])
        if start == 0 and part.limit is not None:
            self._history = crown_history(part, part.limit)

    @property
    def times(self) -> dict[str, FloatArray]:
        """Mechanism -> the time at which it would end the run by itself, all parts, (n_draw,) [s] each."""
        parts = [self._times[start] for start in sorted(self._times)]
        times = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
        return times if self._fit is None else times | {ends.SEIZURE: self._fit.seizes_at}

    def take_fit(self, fit: SkirtFit) -> None:
        """Take in when the skirt seizes, once all parts are in and its size is settled."""
        self._fit = fit

    @property
    def start(self) -> StartOutcome:
        """How the start fares, all parts."""
        parts = [self._starts[start] for start in sorted(self._starts)]
        return StartOutcome(
            np.concatenate([part.lasts for part in parts]), np.concatenate([part.held_breaks for part in parts])
        )

    @property
    def start_load(self) -> FloatArray:
        """The start's highest pressure on the crown, all parts, (n_draw,) [Pa]."""
        return np.concatenate([self._start_load[start] for start in sorted(self._start_load)])

    @property
    def copy_seizes_at(self) -> FloatArray:
        """The time at which a copy at the metal part's clearance would seize, all parts, (n_draw,) [s]; of a polymer only."""
        assert self._fit is not None
        return self._fit.copy_seizes_at

    @property
    def history(self) -> CrownHistory:
        """The crown's heat summed up, once the first part is in; its thickness is that of all draws."""
        assert self._history is not None
        return replace(self._history, thickness=float(np.median(np.concatenate([*self._thickness.values()]))))
