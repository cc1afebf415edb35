"""The pressure that a crown must carry, running and at the start."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import CHOKED, HELD, Case
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.cylinder.peaks import Peaks
from screening.judgement.draws.conditions import Conditions

RUNNING_SECONDS = 100.0
"""Running, the crown must carry the highest of so many seconds' cycles (the project's choice: longer than nearly all lives,
and the highest of ten times as many is only 1 to 2 bar higher)."""


@dataclass(frozen=True)
class Start:
    """One stage of a start: the highest peak of its cycles over the crankcase's pressure, (n_draw,) [Pa].

    It lasts until `lasts` (n_draw,) [s]; in that time the crown is heated as in running: the film of a full charge at the
    mean speed of the run-up is as strong (see tests/judgement/cylinder/test_charge.py). `pressure` is what a brittle crown
    feels; `pressure_to_flow` is it over the gain of yield strength in a stroke of milliseconds, since a few dozen strokes
    give the plastic no time to flow.
    """

    pressure: FloatArray
    pressure_to_flow: FloatArray
    lasts: FloatArray

    def taken(self, part: slice | NDArray[np.intp]) -> Start:
        """Return the start of some draws."""
        return Start(self.pressure[part], self.pressure_to_flow[part], self.lasts[part])


@dataclass(frozen=True)
class StartOutcome:
    """How long the start lasts, (n_draw,) [s], and whether one with the throttle held nearly shut would break it, (n_draw,)."""

    lasts: FloatArray
    held_breaks: NDArray[np.bool_]


@dataclass(frozen=True)
class Load:
    """What the crown must carry, over the crankcase's pressure.

    `running` is the highest peak of 100 s of cycles, (n_draw,) [Pa]; `stages` are those of the case's start, one after the
    other, each until it `lasts`; `held` is a start with the throttle held nearly shut, which stands beside it in the answer.
    """

    running: FloatArray
    stages: tuple[Start, ...]
    held: Start

    @property
    def start_lasts(self) -> FloatArray:
        """When the start is over, (n_draw,) [s]."""
        return self.stages[-1].lasts

    @property
    def start_pressure(self) -> FloatArray:
        """The highest peak of the start, (n_draw,) [Pa]."""
        return np.asarray(np.max([stage.pressure for stage in self.stages], axis=0))

    def pressure_at(self, times: FloatArray) -> FloatArray:
        """Return the highest peak that a brittle crown feels at some times (n_time,) [s], (n_time, n_draw) [Pa].

        At the start the run's counts too, where it is the higher.
        """
        return self._at(times, [stage.pressure for stage in self.stages])

    def pressure_to_flow_at(self, times: FloatArray) -> FloatArray:
        """Return the same over the gain of yield strength in short strokes, while the start lasts."""
        return self._at(times, [stage.pressure_to_flow for stage in self.stages])

    def _at(self, times: FloatArray, pressures: list[FloatArray]) -> FloatArray:
        now = np.broadcast_to(self.running, (times.size, self.running.size))
        for stage, pressure in zip(reversed(self.stages), reversed(pressures), strict=True):
            now = np.where(times[:, None] < stage.lasts, np.maximum(pressure, self.running), now)
        return now

    def taken(self, part: slice | NDArray[np.intp]) -> Load:
        """Return the loads of some draws."""
        return Load(self.running[part], tuple(stage.taken(part) for stage in self.stages), self.held.taken(part))


def crown_load(case: Case, draws: Conditions, gas: GasSide) -> Load:
    """Return the load of the crown: the highest peak of the cycles that come, none above what its charge can give.

    The drawn burn is this engine's mean cycle, and the scatter from cycle to cycle is counted once, by the drawn variation
    (see `screening.physics.cylinder.cyclic_peaks.highest_peak`). How it is started where the case does not say: governed. On
    the choke the governed opening follows when the engine is taken off it.
    """
    below, a_second = draws["ambient_pressure"], draws["speed"] / 2
    running = gas.peaks.highest_of(RUNNING_SECONDS * a_second, draws["running_variation"]) - below

    def stage(peaks: Peaks, begins: FloatArray, lasts: FloatArray) -> Start:
        pressure = peaks.highest_of((lasts - begins) * a_second, draws["start_variation"]) - below
        return Start(pressure, pressure / draws["start_rate_gain"], lasts)

    opens, at_once = draws["start_lasts"], np.zeros(draws.n_draw)
    held = stage(gas.starts.held, at_once, opens)
    if case.operation.start == HELD:
        return Load(running, (held,), held)
    if case.operation.start == CHOKED and gas.starts.choked is not None:
        off = draws["choke_lasts"]
        choked = stage(gas.starts.choked, at_once, off)
        return Load(running, (choked, stage(gas.starts.governed, off, off + opens)), held)
    return Load(running, (stage(gas.starts.governed, at_once, opens),), held)
