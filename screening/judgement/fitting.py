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
_SKIRT_CELLS, _SKIRT_GROWTH = 8, 0.2  # its mean temperature then moves by less than 0.1 K on refining either


@dataclass(frozen=True)
class Fit:
    """When the skirt seizes, and when a copy at the metal part's clearance would, (n_draw,) [s]."""

    seizes_at: FloatArray
    copy_seizes_at: FloatArray


def print_sizes(case: Case, draws: Conditions, polymer: Polymer) -> FloatArray:
    """Return the diameter to print so that the settled piston runs free, one a draw, (n_draw,) [m].

    The skirt is then between the bore's temperature and the crankcase's, by the conductances to either.
    """
    oil, beneath = draws["oil_film_conductance"], draws["crankcase_film"]
    settled = (oil * draws["liner"] + beneath * draws["crankcase"]) / (oil + beneath)
    return print_diameter(
        draws["bore"],
        _bore_strain(case, draws["liner"], draws),
        np.maximum(_skirt_strain(settled, draws, polymer), 0.0),
        0.0,
        draws["running_clearance_to_bore"] * draws["bore"],
        draws["print_size_error"],
    )


def fit_of_polymer(case: Case, draws: Conditions, polymer: Polymer, times: FloatArray, drawn_size: float) -> Fit:
    """Return the fit of a skirt drawn at `drawn_size` [m], heated by the warming bore through the oil film."""
    wall = SkirtWall(
        draws["bore"] / 2,
        draws["skirt_wall"],
        polymer["thermal_conductivity"],
        polymer["density"] * draws["solid_share"],
        polymer["heat_capacity"],
    )
    bore = BoreWarmUp(draws["ambient"], draws["liner"], draws["bore_warm_up_time"])
    skirt = warm_skirt(
        times,
        wall,
        bore,
        draws["oil_film_conductance"],
        draws["crankcase_film"],
        draws["crankcase"],
        draws["ambient"],
        cells=_SKIRT_CELLS,
        growth=_SKIRT_GROWTH,
    ).mean_temperature
    grown = _skirt_strain(skirt, draws, polymer)
    bore_strain = _bore_strain(case, bore.at(times), draws)
    limit = draws["seizure_interference"]

    def seizes(diameter: FloatArray) -> FloatArray:
        actual = diameter + draws["print_size_error"]
        return seizure_time(times, radial_interference(actual, grown, draws["bore"], bore_strain), limit)

    clearance = case.piston.cold_clearance
    drawn = np.full(draws.n_draw, drawn_size) if clearance is None else draws["bore"] - clearance
    return Fit(seizes(drawn), seizes(draws["bore"] * (1 - draws["metal_clearance_to_bore"])))


def _skirt_strain(temperature: FloatArray, draws: Conditions, polymer: Polymer) -> FloatArray:
    return expansion_strain(
        temperature,
        draws["ambient"],
        polymer["thermal_expansion"],
        polymer.values.get("thermal_expansion_hot", np.full(draws.n_draw, np.nan)),
        polymer["glass_transition"],
    )


def _bore_strain(case: Case, temperature: FloatArray, draws: Conditions) -> FloatArray:
    return draws[f"{case.piston.bore_material}.thermal_expansion"] * (temperature - draws["ambient"])
