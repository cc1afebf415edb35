"""The charges with which a cold engine may be started, and the peak pressures that they give."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import CHOKED, Case
from screening.judgement.cylinder.charge import evaporation_heat
from screening.judgement.cylinder.peaks import Peaks, peaks_of
from screening.judgement.draws.conditions import RICHEST, Conditions
from screening.physics.cylinder.cycle import CycleInputs, solve_cycle


@dataclass(frozen=True)
class Starts:
    """Peaks of each way of starting.

    `governed`: with the throttle open until the governor shuts it; `held`: with the throttle held nearly shut; `choked`: on
    the choke, None where the case is not started so.
    """

    governed: Peaks
    held: Peaks
    choked: Peaks | None


def solve_starts(case: Case, running: CycleInputs, draws: Conditions, breathed: FloatArray, tolerance: float) -> Starts:
    """Return the peaks of the charges of a start.

    Parameters
    ----------
    running : inputs of the run's cycle
    breathed : volumetric efficiency of the run, (n_draw,) [1]
    tolerance : change from cycle to cycle at which one counts as settled [1]
    """
    charges = starting_charges(case, running, draws, breathed)
    peaks = {name: peaks_of(charge, solve_cycle(charge, tolerance=tolerance)) for name, charge in charges.items()}
    return Starts(peaks["governed"], peaks["held"], peaks.get("choked"))


def starting_charges(
    case: Case, running: CycleInputs, draws: Conditions, breathed: FloatArray
) -> dict[str, CycleInputs]:
    """Return the cycles of a start by the names of `Starts`, at the governed speed between walls as cold as the air.

    A throttle held nearly shut lets in what the run breathes, but at least `least_held_charge`, on which it still fires.
    Parameters as in `solve_starts`.
    """
    cold = replace(
        running,
        fuel_mass_per_cycle=None,
        crown_temperature=draws["ambient"],
        head_temperature=draws["ambient"],
        liner_temperature=draws["ambient"],
    )
    charges = {
        "governed": replace(cold, volumetric_efficiency=np.maximum(draws["full_charge"], breathed)),
        "held": replace(cold, volumetric_efficiency=np.maximum(draws["least_held_charge"], breathed)),
    }
    if case.operation.start == CHOKED:
        mixture = np.minimum(draws["choked_mixture"], RICHEST)
        taken_in = draws["ambient"] + draws["intake_heating"]
        latent = evaporation_heat(case.fuel, mixture, taken_in, draws["coldest_charge"])
        charges["choked"] = replace(
            cold, volumetric_efficiency=draws["choked_charge"], equivalence_ratio=mixture, latent_heat=latent
        )
    return charges
