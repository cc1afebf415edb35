"""The pressure that a crown must carry, running and at the start."""

from __future__ import annotations

from dataclasses import dataclass

from screening.arrays import FloatArray
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions

PEAKS_OVER_MEAN = 3.0
"""Running, the crown must carry the mean peak pressure plus this many standard deviations (the project's own choice)."""
START_PEAKS_OVER_MEAN = 2.0
"""The same for the start: the highest of some 25 cycles lies two standard deviations up (order statistics)."""


@dataclass(frozen=True)
class Load:
    """Pressures (n_draw,) [Pa] over the crankcase's: `running`, and at the start with the throttle open.

    The throttle is open for `start_lasts`, until the governor shuts it. In that time the crown is heated as in running:
    the film of a full charge at the mean speed of the run-up is as strong (see tests/judgement/cylinder/test_charge.py).
    `starting` is what a brittle crown feels; `starting_flow` is it over the gain of yield strength in a stroke of
    milliseconds, since a few dozen strokes give the plastic no time to flow.
    """

    running: FloatArray
    starting: FloatArray
    starting_flow: FloatArray


def crown_load(draws: Conditions, gas: GasSide) -> Load:
    """Return the pressure that the crown must carry: mean peak with its cyclic variation, less the air's beneath.

    p = p_peak (1 + z v) - p_below, with v the cyclic variation of the peak and z = `PEAKS_OVER_MEAN` in running,
    `START_PEAKS_OVER_MEAN` on the full charge of the start.
    """
    below, variation = draws["ambient_pressure"], draws["pressure_variation"]
    starting = gas.full_charge_pressure * (1 + START_PEAKS_OVER_MEAN * variation) - below
    running = gas.peak_pressure * (1 + PEAKS_OVER_MEAN * variation) - below
    return Load(running, starting, starting / draws["start_rate_gain"])
