"""Does the hot piston still run free in the hot bore, and what diameter must be printed?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import RING, Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.mechanisms import carried_temperature
from screening.judgement.piston.stiffness import stiffness_curve, stiffness_through
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.skirt.fit import print_diameter, ring_gap_needed
from screening.physics.skirt.growth import expansion_strain, shared_growth
from screening.physics.skirt.seizure import radial_interference, seizure_time
from screening.physics.skirt.skirt_warm_up import BoreWarmUp, SkirtWall, warm_skirt

FloatArray = np.ndarray
_SKIRT_CELLS, _SKIRT_GROWTH = 8, 0.2  # its mean temperature then moves by less than 0.1 K on refining either


@dataclass(frozen=True)
class Fit:
    """When the skirt seizes, and when a copy at the metal part's clearance would, (n_draw,) [s].

    `skirt_temperature` (n_time, n_draw) [K] is its mean.
    """

    seizes_at: FloatArray
    copy_seizes_at: FloatArray
    skirt_temperature: FloatArray


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
    return Fit(seizes(drawn), seizes(draws["bore"] * (1 - draws["metal_clearance_to_bore"])), skirt)


def land_sizes(
    case: Case, draws: Conditions, polymer: Polymer, heat: CrownHeat, until: FloatArray
) -> FloatArray | None:
    """Return the diameter to print so that the crown land stays clear of the bore, one a draw, (n_draw,) [m].

    The land heats within seconds while the bore is still cold, so every moment up to `until` (n_draw,) [s] is looked at.
    `draws`, `polymer` and `until` are those of the first draws of `heat`. The hot layers are held by what is still stiff
    beneath them. None where the polymer has no modulus against temperature, or the land is metal.
    """
    curve = stiffness_curve(polymer)
    if curve is None or land_is_metal(case):
        return None
    few = slice(0, draws.n_draw)
    hot, depth = carried_temperature(heat, few), heat.depth if heat.depth.ndim == 1 else heat.depth[:, few]
    stiff = stiffness_through(case, curve, depth, hot)
    grown = shared_growth(depth, np.where(stiff > 0, _skirt_strain(hot, draws, polymer), 0.0), stiff)
    bore = BoreWarmUp(draws["ambient"], draws["liner"], draws["bore_warm_up_time"]).at(heat.times)
    sizes = print_diameter(
        draws["bore"],
        _bore_strain(case, bore, draws),
        np.maximum(grown, 0.0),
        0.0,
        draws["running_clearance_to_bore"] * draws["bore"],
        draws["print_size_error"],
    )
    return np.fmin.reduce(np.where(heat.times[:, None] <= until, sizes, np.nan), axis=0)


def land_is_metal(case: Case) -> bool:
    """Return whether the top ring sits in metal, so that the crown land is not printed."""
    return case.piston.build in ("metal cap", "metal crown on polymer skirt")


def ring_gaps(case: Case, draws: Conditions) -> FloatArray:
    """Return the cold end gap at which the hot top ring just does not butt, (n_draw,) [m].

    The ring heats before the bore: the worse of a bore still cold and one as warm as it gets counts.
    """
    ring, hotter = draws[f"{RING}.thermal_expansion"], draws["ring_above_bore"]
    warmed = draws["liner"] - draws["ambient"]
    settled = ring_gap_needed(draws["bore"], _bore_strain(case, draws["liner"], draws), ring * (warmed + hotter))
    return np.maximum(settled, ring_gap_needed(draws["bore"], 0.0, ring * hotter))


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
