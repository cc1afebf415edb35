"""What a case says arrives, in SI, where physics is called: a row a key, with the number worked out by hand.

A key of the schema that no row watches and that is not left out with a reason makes a test here fail.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import numpy as np
import pytest
from judgement.spied_cases import CASES, LOG, calls_of
from judgement.spies import Argument, Call, argument

from screening.judgement.case.case_file import case_schema

PI = np.pi
REVOLUTIONS = 2710 / 60
ICE = 273.15
STROKE_OF_97_CC = (4 * 97e-6 / (PI * 1.25**2)) ** (1 / 3)
"""V = pi/4 (1.25 s)^2 s with the table's typical bore over stroke."""
WITHIN_BELT = (0.061 / 2 - 0.0039 - 0.0023 - 0.0005) * 0.72
"""Half the bore less wall, ring groove and the table's clearance behind the ring; of it webs leave the table's share [m]."""
FUEL_A_CYCLE = 2 * 83e-6 / 611 * 811 / REVOLUTIONS
"""83 mL in 611 s of 811 kg/m3, a charge every other revolution [kg]."""
FORMED_SPIRIT = 27.1e6 * 0.046069 + 2 * -393.51e3 + 3 * -241.83e3 + 613e3 * 0.046069
"""C2H6O + 3 O2 -> 2 CO2 + 3 H2O (vapour): heating value and products' enthalpies of formation, and evaporating it [J/mol]."""
ALCOHOLS_VAPOUR = 0.9 / (1 + 3 / 0.2095 / 1.09) * (100500 * 0.37 * 0.75 * 1.1) * 7.9**1.3
"""Ethanol takes 3 O2 of 20.95 % in air; a tenth of the charge is burned gas; p V^1.3 from the filled cylinder on [Pa]."""
STROKE_LEFT = (1 + np.cos(np.radians(40))) / 2 + 1.75 - np.sqrt(1.75**2 - np.sin(np.radians(40)) ** 2 / 4)
"""Of the stroke when the intake closes 40 degrees after bottom dead centre, on a rod of 1.75 strokes."""
GAUGED = 1 + (((8.3 + 1.005) / (0.98 * 1.005)) ** (1 / 1.23) - 1) / STROKE_LEFT
"""8.3 bar above air of 1.005 bar, from a cylinder filled to 0.98 of it, by an exponent of 1.23: about 6.7."""


class Arrives(NamedTuple):
    """`value` of `key` in one of the cases arrives as `expected` [SI] in an argument of a function; why it must.

    Without a number after the function's name (see `Spies.of`) it arrives in every call, after "any" in one at least.
    """

    case: str
    key: str
    value: Any
    function: str
    argument: Argument
    expected: float
    why: str
    within: float = 1e-6

    @property
    def name(self) -> str:
        """What a run of the tests calls this row."""
        place = self.argument if isinstance(self.argument, str) else "read"
        return f"{self.case}-{self.key}-{self.function.replace(' ', '')}-{place}"


def hansen(axis: int) -> Callable[[Call], Any]:
    """Return what reads one of the three Hansen parameters of all liquids of a call."""
    return lambda call: np.reshape(call["liquid"], (-1, 3))[:, axis]


ROWS = [
    # the engine
    Arrives("given", "engine.bore_mm", 61, "solve_cycle", "inputs.bore", 0.061, "the cylinder"),
    Arrives("given", "engine.bore_mm", 61, "crown_collapse_time #-1", "plate.radius", WITHIN_BELT, "crown as a plate"),
    Arrives("given", "engine.bore_mm", 61, "tension_of_bending", "radius", WITHIN_BELT, "brittle crown"),
    Arrives("given", "engine.bore_mm", 61, "centre_stress_factor #-1", "radius", WITHIN_BELT / 0.72, "the belt that holds it"),
    Arrives("given", "engine.bore_mm", 61, "pin_boss_limit", "bore", 0.061, "the gas presses on the whole bore"),
    Arrives("given", "engine.bore_mm", 61, "print_diameter", "bore_diameter", 0.061, "skirt and land must fit it"),
    Arrives("given", "engine.bore_mm", 61, "print_diameter", "running_clearance", 0.061 * 0.001, "a thousandth of it"),
    Arrives("given", "engine.bore_mm", 61, "radial_interference", "bore_diameter", 0.061, "the skirt seizes in it"),
    Arrives("given", "engine.bore_mm", 61, "warm_skirt", "wall.outer_radius", 0.0305, "the skirt's wall"),
    Arrives("given", "engine.bore_mm", 61, "crevice_volume", "bore_diameter", 0.061, "gap around the land"),
    Arrives("given", "engine.bore_mm", 61, "ring_gap_needed", "bore_diameter", 0.061, "the ring lies in it"),
    Arrives("given", "engine.bore_mm", 61, "drained_at_rim", "radius", 0.0305, "the metal piston's crown"),
    Arrives("given", "engine.stroke_mm", 43, "solve_cycle", "inputs.stroke", 0.043, "the cylinder"),
    Arrives("given", "engine.stroke_mm", 43, "swept_volume", "stroke", 0.043, "wherever the swept volume counts"),
    Arrives("given", "engine.rod_length_mm", 83, "solve_cycle", "inputs.rod_length", 0.083, "the piston's motion"),
    Arrives("given", "engine.compression_ratio", 7.3, "solve_cycle", "inputs.compression_ratio", 7.3, "the cylinder"),
    Arrives("given", "engine.compression_ratio", 7.3, "compression_with_crevice", "compression_ratio", 7.3, "what is left"),
    Arrives("capped", "engine.compression_gauge_bar", 8.3, "compression_ratio_by_gauge", "gauge_pressure", 8.3e5, "in Pa"),
    Arrives("capped", "engine.compression_gauge_bar", 8.3, "solve_cycle", "inputs.compression_ratio", GAUGED, "of the cycle"),
    Arrives("throttled", "engine.compression_ratio", 7.9, "compressed_vapour_pressure", "compression_ratio", 7.9, "vapour"),
    Arrives("given", "engine.speed_rpm", 2710, "solve_cycle", "inputs.speed", REVOLUTIONS, "revolutions a second"),
    Arrives("given", "engine.speed_rpm", 2710, "surface_swing", "cycle_frequency", REVOLUTIONS / 2, "a cycle is two turns"),
    Arrives("throttled", "engine.displacement_cc", 97, "solve_cycle", "inputs.stroke", STROKE_OF_97_CC, "cubic centimetres"),
    Arrives("throttled", "engine.displacement_cc", 97, "solve_cycle", "inputs.bore", 1.25 * STROKE_OF_97_CC, "the same"),
    Arrives("capped", "engine.warmed_metal_kg", 2.3, "weighed_by_log",
            lambda call: 1e3 * float(call["returned"][1].told.values["middle"]),
            2.3 * 880 * 123 / (60 / np.log(4 / 3)), "m c (T_settled - T_ambient)/tau, to the tenth of a kilowatt", 0.05),
    # the piston
    Arrives("capped", "piston.build", "metal cap", "drained_at_rim #-1", "conductivity", 42, "a cap of steel has the ring"),
    Arrives("capped", "piston.build", "metal cap", "heat_crown #-1", lambda call: call["layers"][0].ring_conductance > 0, 1,
            "the ring cools the cap"),
    Arrives("throttled", "piston.build", "coated crown", "heat_crown #-1", "layers.0.ring_conductance", 0, "no ring in it"),
    Arrives("given", "piston.build", "all polymer", "heat_crown #-1", lambda call: len(call["layers"]), 1, "nothing on it"),
    Arrives("given", "piston.crown_thickness_mm", 6.7, "heat_crown #-1", "layers.-1.thickness", 0.0067, "the polymer"),
    Arrives("given", "piston.crown_thickness_mm", 6.7, "centre_stress_factor", "thickness", 0.0067, "a brittle crown's bending"),
    Arrives("throttled", "piston.crown_layers.material", "zirconia_sprayed", "heat_crown #-1", "layers.0.density", 5200,
            "the table's zirconia"),
    Arrives("throttled", "piston.crown_layers.thickness_mm", 0.41, "heat_crown #-1", "layers.0.thickness", 0.00041, "coat"),
    Arrives("capped", "piston.crown_layers.thickness_mm", 5.3, "drained_at_rim #-1", "thickness", 0.0053, "the cap's rim"),
    Arrives("given", "piston.pin_diameter_mm", 14.5, "pin_boss_limit", "pin_diameter", 0.0145, "it bears on the pin"),
    Arrives("given", "piston.both_bosses_length_mm", 27.3, "pin_boss_limit", "boss_length", 0.0273 / 2, "one of two bosses"),
    Arrives("given", "piston.cold_clearance_mm", 0.37, "radial_interference #0", "part_diameter", 0.061 - 0.00037 + 0.00002,
            "the skirt as it was made, and 0.02 mm of the printer's"),
    Arrives("given", "piston.skirt_wall_mm", 3.9, "warm_skirt", "wall.thickness", 0.0039, "the skirt's wall"),
    Arrives("given", "piston.skirt_wall_mm", 3.9, "centre_stress_factor", "wall_thickness", 0.0039, "it holds the crown"),
    Arrives("given", "piston.ring_depth_mm", 2.3, "centre_stress_factor", "belt_thickness", 0.0039 + 0.0023 / 2 + 0.0005,
            "wall, half the groove's depth and the clearance behind the ring"),
    Arrives("given", "piston.webs", "at the pin bosses", "edge_factor_at_load #-1", "radius", WITHIN_BELT, "a shorter span"),
    Arrives("given", "piston.ring_groove_depth_mm", 4.6, "crevice_volume", "land_height", 0.0046, "the land's height"),
    Arrives("given", "piston.ring_groove_depth_mm", 4.6, "time_to_reach", "depth", 0.0046, "where the land is read"),
    Arrives("given", "piston.bore_material", "cast_iron", "print_diameter #0",
            lambda call: call["bore_strain"][-1] / (calls_of("given").of("warm_skirt")[0]["bore"].settled - (31 + ICE)), 10.8e-6,
            "cast iron grows by 10.8e-6 a kelvin", 1e-3),
    Arrives("given", "piston.print_direction", "crown upright", "printed_strength_factor", "across_layers", 1, "pulled apart"),
    Arrives("throttled", "piston.print_direction", None, "printed_strength_factor", "across_layers", 0, "flat if left out"),
    Arrives("throttled", "piston.polyamide_state", "conditioned", "conditioned_strength", "share", 51.7 / 83, "as the table has it"),
    Arrives("given", "piston.solid_share", 0.93, "printed_strength_factor", "infill", 0.93, "voids carry nothing"),
    Arrives("given", "piston.solid_share", 0.93, "heat_crown #-1", "layers.-1.conductivity", 0.93 * 0.187, "nor heat"),
    Arrives("given", "piston.solid_share", 0.93, "heat_crown #-1", "layers.-1.density", 0.93 * 1043, "nor store any"),
    Arrives("given", "piston.solid_share", 0.93, "warm_skirt", "wall.density", 0.93 * 1043, "nor in the skirt"),
    # the fuel
    Arrives("throttled", "fuel", "ethanol", "solve_cycle", "inputs.chemistry.carbon", 2, "by name"),
    Arrives("given", "fuel.formula", "C2H6O", "solve_cycle", "inputs.chemistry.carbon", 2, "atoms of carbon"),
    Arrives("given", "fuel.formula", "C2H6O", "solve_cycle", "inputs.chemistry.hydrogen", 6, "atoms of hydrogen"),
    Arrives("given", "fuel.formula", "C2H6O", "solve_cycle", "inputs.chemistry.oxygen", 1, "atoms of oxygen"),
    Arrives("given", "fuel.formula", "C2H6O", "solve_cycle", "inputs.chemistry.nitrogen", 0, "atoms of nitrogen"),
    Arrives("given", "fuel.density_kg_m3", 811, "solve_cycle #0", "inputs.fuel_mass_per_cycle", FUEL_A_CYCLE, "volume to mass"),
    Arrives("given", "fuel.lower_heating_value_MJ_kg", 27.1, "solve_cycle", "inputs.chemistry.enthalpy_of_formation",
            FORMED_SPIRIT, "the energy it brings, as a vapour", 1e-3),
    Arrives("capped", "fuel.enthalpy_of_formation_kJ_mol", -239, "solve_cycle", "inputs.chemistry.enthalpy_of_formation",
            -239e3 + 1170e3 * 0.032042, "of the liquid, and evaporating it", 1e-3),
    Arrives("given", "fuel.latent_heat_kJ_kg", 613, "solve_cycle", "inputs.latent_heat", 613e3, "it cools the charge"),
    Arrives("given", "fuel.hansen", [15.3, 8.1, 18.7], "hansen_distance_squared any", hansen(0), 15.3, "dispersion"),
    Arrives("given", "fuel.hansen", [15.3, 8.1, 18.7], "hansen_distance_squared any", hansen(1), 8.1, "polar"),
    Arrives("given", "fuel.hansen", [15.3, 8.1, 18.7], "hansen_distance_squared any", hansen(2), 18.7, "bonds"),
    # how it is run
    Arrives("given", "operation.burned_mL", 83, "solve_cycle #0", "inputs.fuel_mass_per_cycle", FUEL_A_CYCLE, "once in two"),
    Arrives("given", "operation.burn_duration_s", 611, "solve_cycle #1", "inputs.fuel_mass_per_cycle", FUEL_A_CYCLE, "seconds"),
    Arrives("throttled", "operation.throttle", 0.37, "solve_cycle #0", "inputs.volumetric_efficiency", 0.37 * 0.75, "of full"),
    Arrives("throttled", "operation.throttle", 0.37, "compressed_vapour_pressure", "peak", ALCOHOLS_VAPOUR, "vapour", 5e-3),
    Arrives("given", "operation.equivalence_ratio", 1.17, "gas_that_floods", "equivalence_ratio", 1.17, "crown gas beside it"),
    Arrives("given", "operation.start", "held", "highest_peak #1",
            lambda call: call["mean_peak"] / calls_of("given").of("solve_cycle #3")[0]["returned"].peak_pressure, 1,
            "the start's peaks are those of a throttle held nearly shut"),
    Arrives("capped", "operation.start", "choke", "solve_cycle any", "inputs.equivalence_ratio", 1.4, "rich on the choke"),
    Arrives("throttled", "operation.spark_before_top_deg", 23, "solve_cycle", "inputs.combustion_start", np.radians(-23),
            "the burn begins with the spark"),
    Arrives("given", "operation.equivalence_ratio", 1.17, "solve_cycle", "inputs.equivalence_ratio", 1.17, "the mixture"),
    Arrives("given", "operation.ambient_C", 31, "solve_cycle", "inputs.ambient_temperature", 31 + ICE, "the air breathed"),
    Arrives("given", "operation.ambient_C", 31, "solve_cycle #2", "inputs.crown_temperature", 31 + ICE, "cold at the start"),
    Arrives("given", "operation.ambient_C", 31, "heat_crown", "initial", 31 + ICE, "the crown starts cold"),
    Arrives("given", "operation.ambient_C", 31, "warm_skirt", "initial", 31 + ICE, "so does the skirt"),
    Arrives("given", "operation.ambient_C", 31, "warm_skirt", "bore.start", 31 + ICE, "and the bore"),
    Arrives("given", "operation.ambient_C", 31, "expansion_strain", "reference", 31 + ICE, "sizes are measured cold"),
    Arrives("throttled", "operation.ambient_C", 27, "surface_temperature", "compensated_for", 27 + ICE, "the gun's own"),
    Arrives("throttled", "operation.ambient_C", 27, "can_be_read", "compensated_for", 27 + ICE, "the gun's own"),
    Arrives("throttled", "operation.ambient_C", 27, "surface_temperature", "surroundings", 27 + ICE, "the head mirrors it"),
    Arrives("capped", "operation.ambient_C", 28, "surface_temperature", "compensated_for", 28 + ICE, "beside a log as well"),
    Arrives("given", "operation.ambient_C", 31, "exposure_state #1", "returned.temperature", 31 + ICE, "a cold start"),
    Arrives("given", "operation.target_run_s", 4321, "heat_crown", "times.-1", 4321, "followed so long"),
    Arrives("given", "operation.crankcase_C", 77, "heat_crown", "back.temperature", 77 + ICE, "under the crown"),
    Arrives("given", "operation.crankcase_C", 77, "warm_skirt", "crankcase_temperature", 77 + ICE, "inside the skirt"),
    Arrives("given", "operation.crankcase_C", 77, "exposure_state #3", "returned.temperature", 77 + ICE, "the sump"),
    Arrives("given", "operation.crankcase_film_W_m2K", 113, "heat_crown", "back.coefficient", 113, "under the crown"),
    Arrives("given", "operation.crankcase_film_W_m2K", 113, "warm_skirt", "crankcase_film", 113, "inside the skirt"),
    # the head
    Arrives("given", "head.reading_C", 171, "surface_temperature", "reading", 171 + ICE, "what the gun shows"),
    Arrives("given", "head.gun_emissivity", 0.93, "surface_temperature", "gun_emissivity", 0.93, "as the gun is set"),
    Arrives("given", "head.gun_compensates_for_C", 23, "surface_temperature", "compensated_for", 23 + ICE, "as it is set"),
    Arrives("given", "head.gun_compensates_for_C", 23, "can_be_read", "compensated_for", 23 + ICE, "as it is set"),
    Arrives("given", "head.surroundings_C", 67, "surface_temperature", "surroundings", 67 + ICE, "what the head mirrors"),
    Arrives("given", "head.surroundings_C", 67, "can_be_read", "surroundings", 67 + ICE, "what the head mirrors"),
    Arrives("given", "head.surface", "matt_black_paint", "surface_temperature",
            lambda call: np.median(call["surface_emissivity"]), 0.95, "the paint's emissivity", 0.01),
    Arrives("capped", "head.log", LOG, "fit_first_order", "temperature.0", 28 + ICE, "in kelvin"),
    Arrives("capped", "head.log", LOG, "fit_first_order #0", "time.-1", 19 * 60, "in seconds"),
    Arrives("throttled", "head.log.bundled", "petrol_baseline_log", "fit_first_order", "temperature.0", 19.7 + ICE, "its text"),
    # the printer
    Arrives("given", "printer.nozzle_C", 287, "judge_printability", "printer.nozzle", 287 + ICE, "against the nozzle's need"),
    Arrives("given", "printer.bed_C", 93, "judge_printability", "printer.bed", 93 + ICE, "against the bed's need"),
    Arrives("given", "printer.chamber_C", 47, "judge_printability", "printer.chamber", 47 + ICE, "against the chamber's need"),
    Arrives("given", "printer.hardened_nozzle", True, "judge_printability", "printer.hardened_nozzle", 1, "abrasive fillers"),
    Arrives("given", "printer.dryer", True, "judge_printability", "printer.dryer", 1, "wet filament"),
    Arrives("given", "printer.annealing_oven_C", 133, "judge_printability", "printer.annealing_oven", 133 + ICE, "annealing"),
    # soak tests; what masses and sizes come to is in test_soak_tests_reach_the_outcome.py
    Arrives("given", "soak_tests.temperature_C", 37, "diffusion_at any", "temperature", 37 + ICE, "how fast it soaked"),
    Arrives("given", "soak_tests.time_h", 19, "slab_filled_share any", "time", 19 * 3600, "how long it soaked"),
    Arrives("given", "soak_tests.size_before_mm", 4.7, "slab_filled_share any", "thickness", 0.0047, "how thick it was"),
]  # fmt: skip
LIQUID = ("fuel", "reference_fuel", "soak_tests.fluid")
"""Where a liquid may stand; all are read by one function, so what is watched of one is watched of all."""
ELSEWHERE = {
    "soak_tests.material": "test_soak_tests_reach_the_outcome.py",
    "soak_tests.fluid": "test_soak_tests_reach_the_outcome.py",
    "soak_tests.mass_before_g": "test_soak_tests_reach_the_outcome.py",
    "soak_tests.mass_after_g": "test_soak_tests_reach_the_outcome.py",
    "soak_tests.size_after_mm": "test_soak_tests_reach_the_outcome.py",
    "soak_tests.outcome": "test_soak_tests_reach_the_outcome.py",
    "own_materials.id": "test_own_values_reach_physics.py",
    "own_materials.based_on": "test_own_values_reach_physics.py",
    "own_materials.values": "test_own_values_reach_physics.py",
    "reference_fuel": "test_reference_fuel_reaches_the_jet.py",
}
"""Keys that a file beside this one watches."""
FEEDS_NOTHING = {
    "format": "says that it is a case",
    "version": "says how it is to be read",
    "title": "read by people alone",
    "notes": "read by people alone",
    "engine.strokes": "four is all it may be",
    "fuel.name": "read by people alone",
    "fuel.flash_point_C": "a caution of the fuel: no computation",
    "fuel.boiling_point_C": "shown among the fuel's properties: without a vapour curve no computation takes it",
    "head.log.digest": "names a log that is elsewhere: refused until it is there",
    "head.log.name": "names a log that is elsewhere",
    "soak_tests.note": "read by people alone",
    "own_materials.name": "read by people alone",
    "probe.kind": "kept, and said not to narrow anything yet",
    "probe.temperature_C": "kept, and said not to narrow anything yet",
    "probe.uncertainty_K": "kept, and said not to narrow anything yet",
    "probe.depth_mm": "kept, and said not to narrow anything yet",
    "probe.time_s": "kept, and said not to narrow anything yet",
}


def leaves(schema: dict[str, Any], where: str = "") -> Iterator[str]:
    """Yield the keys of a schema that hold values, their sections before them."""
    ways = schema.get("oneOf", [schema])
    for way in ways:
        if "properties" in way:
            for key, inner in way["properties"].items():
                yield from leaves(inner, f"{where}.{key}" if where else key)
        elif way.get("type") == "array" and "properties" in way["items"]:
            yield from leaves(way["items"], where)
        else:
            yield where


def of_any_liquid(key: str) -> str:
    """Return the key of a liquid's own value as that of the fuel's."""
    home = next((home for home in LIQUID if key.startswith(f"{home}.")), "")
    return f"fuel{key[len(home) :]}" if home else key


def value_in(document: Any, key: str) -> Any:
    """Return what a case holds under a key; of a list its first row."""
    for step in key.split("."):
        document = document[0] if isinstance(document, list) else document
        document = document.get(step) if isinstance(document, dict) else None
    return document


@pytest.mark.parametrize("row", ROWS, ids=[row.name for row in ROWS])
def test_what_the_case_says_arrives(row: Arrives) -> None:
    assert value_in(CASES[row.case][0], row.key) == row.value
    arrived = [argument(call, row.argument) for call in calls_of(row.case).of(row.function.removesuffix(" any"))]
    right = [one.size > 0 and np.allclose(one, row.expected, rtol=row.within, atol=0) for one in arrived]
    enough = any(right) if row.function.endswith(" any") else all(right)
    assert enough, (
        f"{row.key} should arrive as {row.expected} ({row.why}); got {[np.unique(one)[:3] for one in arrived]}"
    )


@pytest.mark.parametrize("name", sorted(CASES))
def test_case_is_screened_to_its_end(name: str) -> None:
    assert calls_of(name).ended


def test_no_key_of_the_schema_is_forgotten() -> None:
    keys = {of_any_liquid(key) for key in leaves(copy.deepcopy(case_schema()))}
    watched = {row.key for row in ROWS} | set(ELSEWHERE) | set(FEEDS_NOTHING)
    assert keys - watched == set(), "a key that feeds a computation needs a row, one that feeds none a reason"
    assert watched - keys == set(), "a key that is no more"


def test_what_is_watched_feeds_something() -> None:
    assert {row.key for row in ROWS} & set(FEEDS_NOTHING) == set()
