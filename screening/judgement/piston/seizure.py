"""Skirt seizes: the warm skirt outgrows the warming bore and grips."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.growth import bore_strain, polymer_strain
from screening.physics.skirt.seizure import radial_interference, seizure_time
from screening.physics.skirt.skirt_warm_up import BoreWarmUp, SkirtWall, warm_skirt

_RINGS_ACROSS_WALL = 8  # against 64, the mean of a wall of 5 mm in the oil moves by 0.5 K at most, of 3 mm by 0.2 K


@dataclass(frozen=True)
class SkirtFit:
    """When the skirt seizes, and when a copy at the metal part's clearance would, (n_draw,) [s]."""

    seizes_at: FloatArray
    copy_seizes_at: FloatArray


def skirt_fit(
    case: Case, draws: Conditions, polymer: Polymer, times: FloatArray, skirt: FloatArray, drawn_size: float
) -> SkirtFit:
    """Return the fit of a skirt drawn at `drawn_size` [m], as warm as `skirt` (n_time, n_draw) [K].

    Where the case gives a cold clearance, the skirt has that instead. `times` (n_time,) [s] are those looked at.
    """
    grown, widened = polymer_strain(skirt, draws, polymer), bore_strain(case, bore_warm_up(draws).at(times), draws)

    def seizes(diameter: FloatArray) -> FloatArray:
        actual = diameter + draws["print_size_error"]
        interference = radial_interference(actual, grown, draws["bore"], widened)
        return seizure_time(times, interference, draws["seizure_interference"])

    clearance = case.piston.cold_clearance
    drawn = np.full(draws.n_draw, drawn_size) if clearance is None else draws["bore"] - clearance
    return SkirtFit(seizes(drawn), seizes(draws["bore"] * (1 - draws["metal_clearance_to_bore"])))


def bore_warm_up(draws: Conditions) -> BoreWarmUp:
    """Return the bore's warming from the air's temperature to the settled liner's."""
    return BoreWarmUp(draws["ambient"], draws["liner"], draws["bore_warm_up_time"])


def skirt_temperature(draws: Conditions, polymer: Polymer, times: FloatArray) -> FloatArray:
    """Return the skirt's mean temperature, warmed by the bore through the oil film, (n_time, n_draw) [K]."""
    wall = SkirtWall(
        draws["bore"] / 2,
        draws["skirt_wall"],
        polymer["thermal_conductivity"],
        polymer["density"] * draws["solid_share"],
        polymer["heat_capacity"],
    )
    return warm_skirt(
        times,
        wall,
        bore_warm_up(draws),
        draws["oil_film_conductance"],
        draws["crankcase_film"],
        draws["crankcase"],
        draws["ambient"],
        cells=_RINGS_ACROSS_WALL,
    ).mean_temperature
