"""Cases whose every number can be told from every other, and what physics is called with when they are screened."""

from __future__ import annotations

from contextlib import suppress
from functools import lru_cache
from typing import Any

from judgement.spies import Spies, all_typical

from screening.errors import ScreeningError
from screening.judgement.case.case_file import load_case
from screening.judgement.choice.printability import judge_printability
from screening.judgement.choice.screening import screen
from screening.judgement.contact.exposures import exposure_state
from screening.judgement.cylinder.calibration import weighed_by_log
from screening.physics.contact.diffusion import diffusion_at, penetration_depth, slab_filled_share
from screening.physics.contact.flory import network_uptake, volume_swell
from screening.physics.contact.hansen_distance import hansen_distance_squared
from screening.physics.contact.interaction import unlike_pair_term
from screening.physics.contact.softened_transition import fox_transition
from screening.physics.contact.vapour import compressed_vapour_pressure
from screening.physics.crown.conduction import heat_crown
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.crown.disc import drained_at_rim
from screening.physics.crown.heat_capacity import with_fusion, with_heat_capacity_curve
from screening.physics.crown.onset import onset_at_rate
from screening.physics.crown.swing import surface_swing
from screening.physics.cylinder.compression_gauge import compression_ratio_by_gauge
from screening.physics.cylinder.crown_gas import gas_that_floods
from screening.physics.cylinder.cycle import solve_cycle
from screening.physics.cylinder.cyclic_peaks import highest_peak
from screening.physics.cylinder.volume import swept_volume
from screening.physics.head.thermometry import can_be_read, surface_temperature
from screening.physics.head.warm_up import fit_first_order
from screening.physics.skirt.fit import compression_with_crevice, crevice_volume, print_diameter
from screening.physics.skirt.growth import expansion_strain, shared_growth
from screening.physics.skirt.ring_gap import ring_gap_needed
from screening.physics.skirt.seizure import radial_interference
from screening.physics.skirt.skirt_warm_up import warm_skirt
from screening.physics.strength.conditioned import conditioned_strength
from screening.physics.strength.crown_edge import centre_stress_factor, edge_factor_at_load
from screening.physics.strength.default_strength import amorphous_strength, semicrystalline_strength
from screening.physics.strength.modulus import modulus_curve
from screening.physics.strength.pin_boss import pin_boss_limit
from screening.physics.strength.plate import crown_collapse_time
from screening.physics.strength.printed import printed_strength_factor
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.underside_tension import tension_of_bending, tension_of_warming

Document = dict[str, Any]
DRAWS = 12
BEGIN: Document = {"format": "polymer-piston-case", "version": 1}
PLASTIC = {
    "id": "workshop_plastic",
    "name": "a workshop's plastic",
    "based_on": "abs",
    "values": {
        "density": 1043,
        "thermal_conductivity": 0.187,
        "heat_capacity": 1391,
        "glass_transition": 107,
        "tensile_strength": 41,
        "tensile_modulus": 2.17,
        "elongation_at_break": 3.1,
        "thermal_expansion": 88,
        "thermal_expansion_hot": 143,
        "deflection_temperature_045": 97,
        "deflection_temperature_180": 89,
        "decomposition_onset": 367,
        "char_yield": 0.063,
        "gasification_heat": 2.83,
        "activation_energy": 187,
        "air_need_of_gas": 11.3,
        "layer_adhesion": 0.71,
        "diffusion_liquid": -12.3,
        "diffusion_activation": 61,
    },
}
NYLON = {
    "id": "workshop_nylon",
    "name": "a workshop's nylon",
    "based_on": "pa66",
    "values": {
        "glass_transition": 53,
        "melting_point": 251,
        "heat_of_fusion": 71,
        "crystallinity": 0.37,
        "density": 1127,
    },
}
SPIRIT = {
    "name": "workshop spirit",
    "formula": "C2H6O",
    "density_kg_m3": 811,
    "lower_heating_value_MJ_kg": 27.1,
    "latent_heat_kJ_kg": 613,
    "hansen": [15.3, 8.1, 18.7],
    "flash_point_C": 14,
    "boiling_point_C": 79,
}
WOOD_SPIRIT = {"name": "wood spirit", "formula": "CH4O", "density_kg_m3": 797, "lower_heating_value_MJ_kg": 19.7}
GIVEN: Document = BEGIN | {
    "title": "all given",
    "engine": {"bore_mm": 61, "stroke_mm": 43, "rod_length_mm": 83, "compression_ratio": 7.3, "speed_rpm": 2710},
    "piston": {
        "build": "all polymer",
        "crown_thickness_mm": 6.7,
        "pin_diameter_mm": 14.5,
        "both_bosses_length_mm": 27.3,
        "cold_clearance_mm": 0.37,
        "skirt_wall_mm": 3.9,
        "ring_groove_depth_mm": 4.6,
        "bore_material": "cast_iron",
        "print_direction": "crown upright",
        "solid_share": 0.93,
        "webs": "at the pin bosses",
        "ring_depth_mm": 2.3,
    },
    "fuel": SPIRIT,
    "reference_fuel": WOOD_SPIRIT,
    "operation": {
        "burned_mL": 83,
        "burn_duration_s": 611,
        "equivalence_ratio": 1.17,
        "ambient_C": 31,
        "target_run_s": 4321,
        "crankcase_C": 77,
        "crankcase_film_W_m2K": 113,
        "start": "held",
    },
    "head": {
        "reading_C": 171,
        "gun_emissivity": 0.93,
        "gun_compensates_for_C": 23,
        "surroundings_C": 67,
        "surface": "matt_black_paint",
    },
    "printer": {
        "nozzle_C": 287,
        "bed_C": 93,
        "chamber_C": 47,
        "hardened_nozzle": True,
        "dryer": True,
        "annealing_oven_C": 133,
    },
    "soak_tests": [
        {
            "material": "workshop_plastic",
            "fluid": "ethanol",
            "temperature_C": 37,
            "time_h": 19,
            "size_before_mm": 4.7,
            "size_after_mm": 4.9,
        }
    ],
    "own_materials": [PLASTIC],
}
"""All that a case can give of a piston all of polymer on a measured burn."""
THROTTLED: Document = BEGIN | {
    "engine": {"displacement_cc": 97, "compression_ratio": 7.9},
    "piston": {
        "build": "coated crown",
        "crown_layers": [{"material": "zirconia_sprayed", "thickness_mm": 0.41}],
        "polyamide_state": "conditioned",
    },
    "fuel": "ethanol",
    "operation": {
        "throttle": 0.37,
        "equivalence_ratio": 1.09,
        "ambient_C": 27,
        "crankcase_C": 81,
        "spark_before_top_deg": 23,
    },
    "head": {"log": {"bundled": "petrol_baseline_log"}, "surface": "matt_black_paint"},
    "own_materials": [NYLON],
}
"""A coated crown in an engine of which the displacement, the throttle and a bundled log are known."""
LOG = "time_s,temperature_C\n" + "".join(f"{60 * k},{151 - 123 * 0.75**k:.3f}\n" for k in range(20))
CAPPED: Document = BEGIN | {
    "engine": {"bore_mm": 61, "stroke_mm": 43, "compression_gauge_bar": 8.3, "warmed_metal_kg": 2.3},
    "piston": {"build": "metal cap", "crown_layers": [{"material": "steel", "thickness_mm": 5.3}]},
    "fuel": {"name": "another spirit", "formula": "CH4O", "density_kg_m3": 803, "latent_heat_kJ_kg": 1170,
             "enthalpy_of_formation_kJ_mol": -239},
    "operation": {"burned_mL": 150, "burn_duration_s": 600, "equivalence_ratio": 1.1, "ambient_C": 28,
                  "start": "choke"},
    "head": {"log": LOG, "surface": "matt_black_paint"},
}  # fmt: skip
"""A capped crown with the text of a log and the weighed mass of what warmed."""
CASES = {"given": (GIVEN, "workshop_plastic"), "throttled": (THROTTLED, "workshop_nylon"), "capped": (CAPPED, "pa66")}
WATCHED = (
    solve_cycle, compression_ratio_by_gauge, heat_crown, surface_swing, can_be_read, surface_temperature, fit_first_order, crown_collapse_time,
    centre_stress_factor, edge_factor_at_load, tension_of_bending, tension_of_warming, onset_at_rate, gas_that_floods,
    highest_peak, modulus_curve, pin_boss_limit, ring_land_time, print_diameter, ring_gap_needed,
    crevice_volume, swept_volume, compression_with_crevice, radial_interference, warm_skirt, expansion_strain,
    shared_growth, printed_strength_factor, conditioned_strength, amorphous_strength, semicrystalline_strength, with_heat_capacity_curve,
    with_fusion, drained_at_rim, hansen_distance_squared, unlike_pair_term, diffusion_at, penetration_depth,
    slab_filled_share, network_uptake, volume_swell, fox_transition, compressed_vapour_pressure, judge_printability,
    exposure_state, weighed_by_log,
)  # fmt: skip
"""The functions of physics that a screening calls, and the two of judgement that end a key's way beside it."""


@lru_cache(maxsize=8)
def calls_of(name: str) -> Spies:
    """Return what was called when one of `CASES` was screened with everything else at its typical value."""
    document, material = CASES[name]
    with all_typical() as patch:
        spies = Spies(patch, *WATCHED)
        spies.method(patch, CrownHeat, "time_to_reach")
        # a case that is refused half-way has still called what it called: the rows say which number was wrong
        with suppress(ScreeningError):
            spies.ended = bool(screen(load_case(document), DRAWS, materials=[material]).stories)
    return spies
