"""Does the hot piston still run free in the hot bore, and what diameter must be printed?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.judgement.case import Case
from screening.judgement.conditions import Conditions
from screening.judgement.polymer import Polymer
from screening.physics.fit import print_diameter
from screening.physics.seizure import radial_interference, seizure_time
from screening.physics.skirt import BoreWarmUp, SkirtWall, warm_skirt
from screening.physics.thermal_growth import expansion_strain

FloatArray = np.ndarray
_SKIRT_CELLS = 8  # its mean temperature then moves by less than 0.1 K on refining


@dataclass(frozen=True)
class Fit:
    """Skirt and bore, (n_draw,): diameter to print [m], when the skirt seizes [s], when a copy at the metal part's
    clearance would [s], and the skirt's temperature [K] at the end of the wanted run."""

    print_diameter: FloatArray
    seizes_at: FloatArray
    copy_seizes_at: FloatArray
    skirt_temperature: FloatArray


def fit_of_polymer(case: Case, draws: Conditions, polymer: Polymer, times: FloatArray) -> Fit:
    """Return the fit of a printed skirt, heated by the warming bore through the oil film."""
    n_draw = draws.n_draw
    wall = SkirtWall(
        draws["bore"] / 2,
        draws["skirt_wall"],
        polymer["thermal_conductivity"],
        polymer["density"] * draws["solid_share"],
        polymer["heat_capacity"],
    )
    bore = BoreWarmUp(draws["ambient"], draws["liner"], draws["bore_warm_up_time"])
    heat = warm_skirt(
        times,
        wall,
        bore,
        draws["oil_film_conductance"],
        draws["crankcase_film"],
        draws["crankcase"],
        draws["ambient"],
        cells=_SKIRT_CELLS,
    )
    skirt = heat.mean_temperature
    grown = expansion_strain(
        skirt,
        draws["ambient"],
        polymer["thermal_expansion"],
        polymer.values.get("thermal_expansion_hot", np.full(n_draw, np.nan)),
        polymer["glass_transition"],
    )
    bore_strain = _bore_strain(case, bore.at(times), draws)
    end = int(np.searchsorted(times, case.operation.target_run))
    end = min(end, times.size - 1)
    hottest = np.argmax(grown[: end + 1] - bore_strain[: end + 1], axis=0)
    column = np.arange(n_draw)
    printed = print_diameter(
        draws["bore"],
        bore_strain[hottest, column],
        grown[hottest, column],
        0.0,
        draws["running_clearance_to_bore"] * draws["bore"],
        draws["print_size_error"],
    )
    clearance = case.piston.cold_clearance
    # without a stated clearance the piston is printed to the diameter that one draw in twenty would find too large
    drawn_size = np.quantile(printed, 0.05) if clearance is None else draws["bore"] - clearance
    part = drawn_size + draws["print_size_error"]
    copied = draws["bore"] * (1 - draws["metal_clearance_to_bore"]) + draws["print_size_error"]
    limit = draws["seizure_interference"]

    def seizes(diameter: FloatArray) -> FloatArray:
        return seizure_time(times, radial_interference(diameter, grown, draws["bore"], bore_strain), limit)

    return Fit(printed, seizes(part), seizes(copied), skirt[end])


def _bore_strain(case: Case, temperature: FloatArray, draws: Conditions) -> FloatArray:
    return draws[f"{case.piston.bore_material}.thermal_expansion"] * (temperature - draws["ambient"])
