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
    """One way of starting: the highest peak of its cycles over the crankcase's pressure, (n_draw,) [Pa].

    It lasts until `lasts` (n_draw,) [s]; in that time the crown is heated as in running: the film of a full charge at the
    mean speed of the run-up is as strong (see tests/judgement/cylinder/test_charge.py). `pressure` is what a brittle crown
    feels; `pressure_to_flow` is it over the gain of yield strength in a stroke of milliseconds, since a few dozen strokes
    give the plastic no time to flow.
    """

    pressure: FloatArray
    pressure_to_flow: FloatArray
    lasts: FloatArray


@dataclass(frozen=True)
class StartOutcome:
    """How long the start lasts, (n_draw,) [s], and whether one with the throttle held nearly shut would break it, (n_draw,)."""

    lasts: FloatArray
    held_breaks: NDArray[np.bool_]


@dataclass(frozen=True)
class Load:
    """What the crown must carry, over the crankcase's pressure.

    `running` is the highest peak of 100 s of cycles, (n_draw,) [Pa]; `start` the start of the case; `held` the same start
    with the throttle held nearly shut, which stands beside it in the answer.
    """

    running: FloatArray
    start: Start
    held: Start


def crown_load(case: Case, draws: Conditions, gas: GasSide) -> Load:
    """Return the load of the crown: the highest peak of the cycles that come, none above what its charge can give.

    The drawn burn is this engine's mean cycle, and the scatter from cycle to cycle is counted once, by the drawn variation
    (see `screening.physics.cylinder.cyclic_peaks.highest_peak`). How it is started where the case does not say: governed.
    """
    below, a_second = draws["ambient_pressure"], draws["speed"] / 2
    running = gas.peaks.highest_of(RUNNING_SECONDS * a_second, draws["running_variation"]) - below

    def start(lasts: FloatArray, *charges: Peaks) -> Start:
        highest = [peaks.highest_of(lasts * a_second, draws["start_variation"]) - below for peaks in charges]
        pressure = np.max(highest, axis=0)
        return Start(pressure, pressure / draws["start_rate_gain"], lasts)

    opens = draws["start_lasts"]
    held = start(opens, gas.starts.held)
    if case.operation.start == HELD:
        return Load(running, held, held)
    if case.operation.start == CHOKED and gas.starts.choked is not None:
        # a governed opening follows: the worse of the two counts for the whole start
        return Load(running, start(draws["choke_lasts"] + opens, gas.starts.choked, gas.starts.governed), held)
    return Load(running, start(opens, gas.starts.governed), held)
