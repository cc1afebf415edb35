"""Every formula answers in the units it says: with another metre, kilogram, second, kelvin and mole the answer scales.

The units stand in square brackets in the docstrings, of parameters, of what is returned and of the fields of records; a
formula that adds metres to seconds, or whose docstring names the wrong unit, gives something else in other units.
"""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from screening.physics.contact import crystals, diffusion, flory, hansen_distance, interaction, vapour
from screening.physics.contact.softened_transition import fox_transition
from screening.physics.curves import first_crossing, temperature_curve
from screening.physics.head.warm_up import FitRules, fit_first_order
from screening.physics.skirt import fit, growth, seizure
from screening.physics.skirt.ring_gap import ring_gap_needed
from screening.physics.skirt.skirt_warm_up import BoreWarmUp, SkirtWall, warm_skirt
from screening.physics.strength import (
    burst,
    crown_edge,
    default_strength,
    modulus,
    pin_boss,
    plate,
    pressed_fill,
    underside_tension,
)
from screening.physics.strength.conditioned import conditioned_strength
from screening.physics.strength.crown_section import CrownSection
from screening.physics.strength.measured_strength import measured_strength
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.strength_curve import StrengthCurve, temperature_at_strength

BASE = ("kg", "m", "s", "K", "mol", "any")
DIMENSION = {
    "1": (0, 0, 0, 0, 0, 0), "sr": (0, 0, 0, 0, 0, 0), "kg": (1, 0, 0, 0, 0, 0), "m": (0, 1, 0, 0, 0, 0),
    "s": (0, 0, 1, 0, 0, 0), "K": (0, 0, 0, 1, 0, 0), "mol": (0, 0, 0, 0, 1, 0), "N": (1, 1, -2, 0, 0, 0),
    "Pa": (1, -1, -2, 0, 0, 0), "MPa": (1, -1, -2, 0, 0, 0), "J": (1, 2, -2, 0, 0, 0), "W": (1, 2, -3, 0, 0, 0),
    "any unit": (0, 0, 0, 0, 0, 1), "unit of heights": (0, 0, 0, 0, 0, 1),
}  # fmt: skip


def scales(
    kg: float = 1.7, m: float = 2.3, s: float = 0.6, K: float = 1.4, mol: float | None = None
) -> dict[str, float]:
    """Return how many of the new units make an old one; the mole is such that the gas constant keeps its number."""
    return {"kg": kg, "m": m, "s": s, "K": K, "mol": kg * m**2 / s**2 / K if mol is None else mol, "any": 3.7}


PLAIN = scales()
ROOM = scales(K=1.0)  # reads 23 degC, a number of kelvin
ISO_75 = scales(kg=2.3 * 0.6**2, K=1.0)  # the two stresses of the test are numbers of pascal
TEST_LIQUIDS = scales(kg=2.3 * 0.6**2 * 1.4, mol=2.3**3)  # the largest test liquid is a number of m3/mol, beside R

GLASSY = default_strength.AmorphousShape(retained=0.35, gone_above=10.0)
CRYSTALLINE = default_strength.CrystallineShape(0.55, 0.28, 0.12, 0.06, glassy_span=120.0, decay=73.0)
CURVE = StrengthCurve([300.0, 380.0, 420.0], [60e6, 30e6, 0.0])
SECTION = CrownSection([0.0, 0.001, 0.005], [[420.0, 330.0, 300.0], [470.0, 390.0, 340.0]], CURVE, recession=0.0004)
PLATE = plate.Plate(0.024, 9.0)
WALL = SkirtWall(0.028, 0.003, 0.25, 1200.0, 1600.0)
BORE = BoreWarmUp(296.0, 420.0, 150.0)
SECONDS = np.arange(0.0, 901.0, 30.0)
READ = 350.0 - 57.0 * np.exp(-SECONDS / 150.0) + 0.3 * np.sin(SECONDS)
EVEN, DEPTH = np.full((2, 11), 1.0), np.linspace(0.0, 0.004, 11)

CALLS: list[tuple[Callable[..., Any], dict[str, Any], dict[str, float]]] = [
    (hansen_distance.hansen_distance_squared, {"liquid": [15.8, 8.8, 19.4], "polymer": [18.0, 5.0, 6.0]}, PLAIN),
    (hansen_distance.distance_ratio, {"distance_squared": 30.0, "radius": 8.0}, PLAIN),
    (interaction.regular_solution_term, {"distance_squared": 50.0, "molar_volume": 1e-4, "temperature": 300.0}, PLAIN),
    (interaction.interaction_without_radius, {"regular_term": 0.5}, PLAIN),
    (interaction.interaction_from_sphere, {"ratio": 1.3, "regular_term": 0.5}, PLAIN),
    (interaction.unlike_pair_term,
     {"dispersion": 15.0, "polymer_dispersion": 12.0, "molar_volume": 1e-4, "temperature": 300.0, "deviation": 0.1}, PLAIN),
    (interaction.volume_like_test_liquids, {"molar_volume": [1e-4, 4e-4]}, TEST_LIQUIDS),
    (interaction.interaction_of_untested_size,
     {"distance_squared": 50.0, "molar_volume": 4e-4, "temperature": 300.0}, TEST_LIQUIDS),
    (flory.network_potential, {"polymer_fraction": 0.7, "interaction": 0.5, "link_term": 0.02}, PLAIN),
    (flory.network_uptake, {"activity": 0.9, "interaction": 0.5, "link_term": 0.02}, PLAIN),
    (flory.interaction_of_uptake, {"uptake": 0.3, "link_term": 0.02}, PLAIN),
    (flory.volume_swell, {"uptake": 0.3}, PLAIN),
    (crystals.melting_point_in_liquid,
     {"melting_point": 411.0, "fusion_energy": 2.9e8, "molar_volume": 1.2e-4, "interaction": 0.3}, PLAIN),
    (diffusion.diffusion_at, {"coefficient": 1e-12, "activation": 6e4, "temperature": 330.0, "reference": 296.0}, PLAIN),
    (diffusion.penetration_depth, {"coefficient": 1e-12, "time": 1e4}, PLAIN),
    (diffusion.slab_filled_share, {"coefficient": 1e-12, "time": 1e4, "thickness": 3e-4}, PLAIN),
    (diffusion.half_time, {"coefficient": 1e-12, "thickness": 3e-4}, PLAIN),
    (diffusion.front_depth, {"velocity": 1e-8, "time": 1e3}, PLAIN),
    (fox_transition, {"liquid_mass_fraction": 0.1, "liquid_transition": 120.0, "polymer_transition": 378.0}, PLAIN),
    (vapour.mean_and_peak_activity, {"vapour_pressure": [0.0, 2e3, 5e3], "saturation_pressure": 8e3}, PLAIN),
    (vapour.compressed_vapour_pressure, {"peak": 1e5, "compression_ratio": 8.0}, PLAIN),
    (first_crossing.first_crossing, {"times": [1.0, 10.0, 100.0], "excess": [-3.0, -1.0, 2.0]}, PLAIN),
    (first_crossing.between, {"start": 1.0, "end": 9.0, "share": 0.3}, PLAIN),
    (temperature_curve.read_curve,
     {"temperature": 330.0, "knots": np.array([300.0, 400.0]), "heights": np.array([5.0, 2.0])}, PLAIN),
    (fit_first_order,
     {"time": SECONDS, "temperature": READ, "rules": FitRules(3.5, 2.0, 0.1, 2.0, 0.05, 2.0)}, PLAIN),
    (fit.print_diameter,
     {"bore_diameter": 0.056, "bore_strain": 0.001, "part_strain": 0.008, "swelling": 0.01, "running_clearance": 3e-5,
      "print_error": 2e-5}, PLAIN),
    (fit.diameter_range, {"diameters": np.linspace(0.055, 0.056, 11)}, PLAIN),
    (fit.crevice_volume, {"bore_diameter": 0.056, "land_diameter": 0.0554, "land_height": 0.006}, PLAIN),
    (fit.compression_with_crevice,
     {"compression_ratio": 8.0, "swept_volume": 98e-6, "extra_crevice": 0.3e-6, "density_ratio": 1.4}, PLAIN),
    (ring_gap_needed, {"bore_diameter": 0.056, "bore_strain": 0.001, "ring_strain": 0.002}, PLAIN),
    (growth.expansion_strain,
     {"temperature": 400.0, "reference": 293.0, "expansion": 9e-5, "expansion_hot": 2e-4, "transition": 380.0}, PLAIN),
    (growth.shared_growth, {"depth": DEPTH, "strain": EVEN * DEPTH, "modulus": EVEN * 1e9 * (1 + 300 * DEPTH)}, PLAIN),
    (seizure.radial_interference,
     {"part_diameter": 0.0559, "part_strain": 0.006, "bore_diameter": 0.056, "bore_strain": 0.001, "swelling": 0.002}, PLAIN),
    (seizure.seizure_time,
     {"times": [1.0, 10.0, 20.0], "interference": [-3e-5, -1e-5, 2e-5], "threshold": [5e-6]}, PLAIN),
    (warm_skirt,
     {"times": [10.0, 100.0], "wall": WALL, "bore": BORE, "oil_film": 1500.0, "crankcase_film": 90.0,
      "crankcase_temperature": 350.0, "initial": 296.0}, PLAIN),
    (burst.yielding_burst, {"strength": 35e6, "thickness": 6e-3, "radius": 21e-3, "edge_factor": 10.0}, PLAIN),
    (burst.cracking_burst, {"breaking_strength": 50e6, "thickness": 6e-3, "radius": 21e-3, "centre_factor": 0.9}, PLAIN),
    (pressed_fill.energy_in_liquid, {"volume": 3e-5, "pressure": 6e6, "bulk_modulus": 1.5e9}, PLAIN),
    (pressed_fill.energy_in_gas, {"volume": 3e-5, "pressure": 6e6, "outside": 1e5}, PLAIN),
    (crown_edge.belt_moment,
     {"belt_thickness": 4e-3, "belt_height": 10e-3, "wall_thickness": 3e-3, "radius": 22e-3, "belt_strength": 35e6}, PLAIN),
    (crown_edge.bending_limit, {"plastic_moment": [300.0, 100.0], "belt_moment": 200.0, "radius": 22e-3}, PLAIN),
    (crown_edge.edge_factor_at_load, {"load": [2e6, 9e6], "belt_moment": 200.0, "radius": 22e-3, "error": 0.9}, PLAIN),
    (crown_edge.centre_stress_factor,
     {"thickness": 6e-3, "radius": 22e-3, "belt_thickness": 4e-3, "belt_height": 10e-3, "wall_thickness": 3e-3}, PLAIN),
    (underside_tension.tension_of_bending,
     {"depth": DEPTH, "modulus": 3e9 * (1 + 300 * DEPTH[:, None]), "pressure": 2e6, "radius": 0.022,
      "centre_factor": 0.9}, PLAIN),
    (underside_tension.tension_of_warming,
     {"depth": DEPTH, "modulus": 3e9 * (1 + 300 * DEPTH[:, None]), "strain": 2e-3 - 0.5 * DEPTH[:, None],
      "belt_share": 0.25}, PLAIN),
    (default_strength.amorphous_strength, {"strength_23": 6e7, "glass_transition": 420.0, "shape": GLASSY}, ROOM),
    (default_strength.semicrystalline_strength,
     {"strength_23": 6e7, "glass_transition": 330.0, "melting_point": 490.0, "shape": CRYSTALLINE}, ROOM),
    (measured_strength, {"temperature": [330.0, 370.0], "share": [0.8, 0.4], "default": CURVE}, ROOM),
    (conditioned_strength, {"dry": CURVE, "share": 0.6, "felt_until": 365.0}, ROOM),
    (temperature_at_strength, {"curve": CURVE, "strength": 4e7}, PLAIN),
    (modulus.modulus_at_deflection_temperature, {"stress": 1.8e6, "modulus_23": 2.4e9}, PLAIN),
    (modulus.modulus_curve,
     {"modulus_23": 2.4e9, "deflection_180": 371.0, "deflection_045": 377.0, "end": 398.0}, ISO_75),
    (pin_boss.pin_boss_pressure,
     {"peak_pressure": 2.5e6, "bore": 0.056, "pin_diameter": 0.013, "boss_length": 0.014}, PLAIN),
    (pin_boss.pin_boss_limit,
     {"strength": 6e7, "bore": 0.056, "pin_diameter": 0.013, "boss_length": 0.014, "bearing_factor": 1.2}, PLAIN),
    (ring_land_time, {"straight_down": 20.0, "side_cooling": 0.3}, PLAIN),
    (plate.plastic_moment, {"section": SECTION}, PLAIN),
    (plate.limit_pressure, {"section": SECTION, "plate": PLATE}, PLAIN),
    (plate.crown_collapse_time, {"times": [1.0, 20.0], "section": SECTION, "plate": PLATE, "load": 2.5e6}, PLAIN),
]  # fmt: skip
WITHOUT = {
    "band_radiance": "Planck's law is made of constants of nature",
    "surface_temperature": "Planck's law",
    "can_be_read": "Planck's law",
    "expected_reading": "Planck's law",
    "printed_strength_factor": "shares alone",
    "refuse_outside_share": "returns nothing",
    "checked_knots": "hands on what it is given",
    "contiguous": "hands on what it is given",
    "section_history": "kernel of plastic_moment",
    "limit_history": "kernel of limit_pressure",
    "bracket_collapse": "kernel of crown_collapse_time",
}


@cache
def factor(unit: str, scale: tuple[float, ...]) -> float | None:
    """How the number of a quantity grows; None where the brackets hold no unit."""
    parts = [unit] if unit in DIMENSION else re.findall(r"[A-Za-z]+[\d.^]*|1|/|\(|\)", unit)
    result, sign, inside = 1.0, 1, False
    for part in parts:
        if part in "/()":
            sign, inside = (-1, inside) if part == "/" else (1 if part == ")" else sign, part == "(")
            continue
        name, power = re.fullmatch(r"(any unit|unit of heights|[A-Za-z]+|1)\^?([\d.]*)", part).groups()  # type: ignore[union-attr]
        if name not in DIMENSION:
            return None
        dimension = np.array(DIMENSION[name]) * float(power or 1) * sign
        result *= float(np.prod(np.array(scale) ** dimension))
        sign = sign if inside else 1
    return result


def part_of(doc: str, title: str) -> list[str]:
    """Lines of one part of a docstring."""
    found = re.search(rf"^{title}\n-+\n(.*?)(?:\n\n\w+\n-+\n|\Z)", doc, re.S | re.M)
    return found[1].splitlines() if found else []


def units_of(doc: str) -> dict[str, list[str]]:
    """Parameter or field -> the units in its brackets, in order."""
    units: dict[str, list[str]] = {}
    for line in part_of(doc, "Parameters"):
        entry = re.match(r"(\w+(?:, \w+)*) : \(?((?:\[[^\]]+\][, ]*)+)", line)
        for name in entry[1].split(", ") if entry else ():
            units[name] = re.findall(r"\[([^\]]+)\]", entry[2])  # type: ignore[index]
    return units


def scaled(value: Any, units: list[str], scale: dict[str, float]) -> Any:
    """The value in the new units; a record is scaled field by field by its docstring."""
    if isinstance(value, tuple | list) and value and dataclasses.is_dataclass(value[0]):
        return type(value)(scaled(item, units, scale) for item in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = units_of(inspect.getdoc(type(value)) or "")
        changes = {
            f.name: scaled(getattr(value, f.name), fields.get(f.name, []), scale) for f in dataclasses.fields(value)
        }
        return type(value)(**changes)
    if not units or value is None:
        return value
    by = [factor(unit, tuple(scale[name] for name in BASE)) for unit in units]
    assert None not in by, units
    return np.asarray(value, dtype=float) * (by[0] if len(by) == 1 else np.array(by, dtype=float))


def returned_units(doc: str) -> list[str]:
    """Units of what is returned: one, or one for each of several."""
    first = part_of(doc, "Returns")[0]
    inside = re.findall(r"\[([^\],]+)\]", first)
    ends = re.match(r"\((\w+, )+\w+\) \[([^\]]+)\]", first)
    if ends:
        return [ends[2]] * len(ends[0].split(") ")[0].split(","))
    return inside if first.startswith("(") else inside[:1]


def numbers(value: Any) -> list[np.ndarray]:
    if dataclasses.is_dataclass(value):
        return [item for f in dataclasses.fields(value) for item in numbers(getattr(value, f.name))]
    return [np.asarray(value, dtype=float)]


@pytest.mark.parametrize(("function", "arguments", "scale"), CALLS, ids=lambda value: getattr(value, "__name__", ""))
def test_answer_scales_with_the_units_it_says(
    function: Callable[..., Any], arguments: dict[str, Any], scale: dict[str, float]
) -> None:
    doc = inspect.getdoc(function) or ""
    units = units_of(doc)
    plain = function(**arguments)
    other = function(**{name: scaled(value, units.get(name, []), scale) for name, value in arguments.items()})
    if dataclasses.is_dataclass(plain):
        pairs = list(zip(numbers(scaled(plain, [], scale)), numbers(other), strict=True))
    else:
        several = returned_units(doc)
        assert several, "the docstring says no unit"
        values, others = (item if isinstance(item, tuple) else (item,) for item in (plain, other))
        pairs = [(scaled(a, [unit], scale), b) for a, b, unit in zip(values, others, several, strict=True)]
    tolerance = 1e-4 if function is fit_first_order else 1e-9  # the fit stops at a millionth of its parameters
    for expected, answer in pairs:
        np.testing.assert_allclose(answer, expected, rtol=tolerance, atol=1e-12)


def test_no_formula_is_left_out() -> None:
    there = set()
    for path in (Path(__file__).parents[2] / "screening" / "physics").rglob("*.py"):
        if path.parent.name in ("curves", "head", "strength", "skirt", "contact"):
            dotted = ".".join(path.relative_to(Path(__file__).parents[2]).with_suffix("").parts)
            module = importlib.import_module(dotted)
            there |= {
                name
                for name, item in vars(module).items()
                if getattr(item, "__module__", "") == dotted and callable(item) and not inspect.isclass(item)
            }
    named = {function.__name__ for function, _, _ in CALLS}
    assert {name for name in there if not name.startswith("_")} == named | set(WITHOUT)


def test_units_are_understood() -> None:
    """By hand: 1/K shrinks as kelvins grow; W/(m2 K) is kg/(s3 K); the root of MPa is that of kg/(m s2)."""
    scale = tuple(PLAIN[name] for name in BASE)
    assert factor("1/K", scale) == pytest.approx(1 / 1.4)
    assert factor("W/(m2 K)", scale) == pytest.approx(1.7 / 0.6**3 / 1.4)
    assert factor("MPa^0.5", scale) == pytest.approx((1.7 / 2.3 / 0.6**2) ** 0.5)
    assert factor("m3/mol", scale) == pytest.approx(2.3**3 / PLAIN["mol"])
    assert factor("n_draw", scale) is None
