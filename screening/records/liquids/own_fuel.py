"""A liquid that the user describes: checked once, with every fault said at once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from screening import stoichiometry
from screening.errors import CaseError, Fault, nearest_names
from screening.quantities import to_si
from screening.records.liquids.fuel import Fuel
from screening.records.liquids.pure_fuels import pure_fuel
from screening.records.liquids.pure_liquids import Liquid, LiquidValue

# key -> (property of the liquid, unit, lowest, highest); the keys carry their units.
_NUMBERS: dict[str, tuple[str, str, float, float]] = {
    "density_kg_m3": ("density", "kg/m3", 300.0, 2000.0),
    "lower_heating_value_MJ_kg": ("lower_heating_value", "MJ/kg", 5.0, 60.0),
    "enthalpy_of_formation_kJ_mol": ("enthalpy_of_formation_liquid", "kJ/mol", -2000.0, 1000.0),
    "latent_heat_kJ_kg": ("latent_heat", "kJ/kg", 50.0, 2500.0),
    "flash_point_C": ("flash_point", "degC", -100.0, 300.0),
    "boiling_point_C": ("boiling_point", "degC", -50.0, 500.0),
}
_HANSEN = (0.0, 45.0)
_KEYS = ("name", "formula", "hansen", *_NUMBERS)
_ORIGIN = "the user's own liquid"


def own_fuel(given: Mapping[str, Any], where: str = "fuel") -> Fuel:
    """Return a fuel from figures of the user's; `where` is the key it stands under, for the messages.

    Needed: `name`, `formula` (such as C5H8O), `density_kg_m3`. Wanted: `lower_heating_value_MJ_kg` or
    `enthalpy_of_formation_kJ_mol` (liquid, 298.15 K), `latent_heat_kJ_kg` (298.15 K), `hansen`
    [dD, dP, dH in MPa^0.5], `flash_point_C`, `boiling_point_C`. What is left out stays unknown; the
    vapour pressure always does.

    Raises
    ------
    CaseError
        Lists every fault at once.
    """
    faults: list[Fault] = []
    for key in given:
        if key not in _KEYS:
            near = nearest_names(str(key), _KEYS)
            hint = f"; nearest known: {', '.join(near)}" if near else f"; known: {', '.join(_KEYS)}"
            faults.append(Fault(f"{where}.{key}", f"unknown key{hint}"))
    name = given.get("name")
    if not isinstance(name, str) or not name.strip():
        faults.append(Fault(f"{where}.name", "is missing: a text that names the liquid"))
    atoms = _atoms(given.get("formula"), where, faults)
    numbers = {key: _number(given[key], key, where, faults) for key in _NUMBERS if key in given}
    if "density_kg_m3" not in given:
        faults.append(Fault(f"{where}.density_kg_m3", "is missing: the density at 20 degC [kg/m3]"))
    if {"lower_heating_value_MJ_kg", "enthalpy_of_formation_kJ_mol"} <= set(given):
        faults.append(Fault(where, "give lower_heating_value_MJ_kg or enthalpy_of_formation_kJ_mol, not both"))
    hansen = _hansen(given.get("hansen"), where, faults)
    if faults:
        raise CaseError(faults)
    return pure_fuel(_liquid(str(name).strip(), atoms, numbers, hansen))


def _atoms(formula: object, where: str, faults: list[Fault]) -> Mapping[str, float]:
    if not isinstance(formula, str) or not formula.strip():
        faults.append(Fault(f"{where}.formula", "is missing: a formula such as C5H8O"))
        return {}
    try:
        atoms = stoichiometry.formula_atoms(formula.strip())
    except ValueError as error:
        faults.append(Fault(f"{where}.formula", str(error)))
        return {}
    others = sorted(set(atoms) - set(stoichiometry.ATOMIC_MASS))
    if others:
        faults.append(Fault(f"{where}.formula", f"{formula} holds {', '.join(others)}; only C, H, O and N are covered"))
    elif stoichiometry.oxygen_need(atoms.get("C", 0), atoms.get("H", 0), atoms.get("O", 0)) <= 0.0:
        faults.append(Fault(f"{where}.formula", f"{formula} needs no air: it is not a fuel"))
    return atoms


def _number(value: object, key: str, where: str, faults: list[Fault]) -> float:
    _, unit, low, high = _NUMBERS[key]
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not low <= value <= high:
        faults.append(Fault(f"{where}.{key}", f"got {value!r}, should be a number from {low:g} to {high:g} {unit}"))
        return math.nan
    return to_si(float(value), unit)


def _hansen(value: object, where: str, faults: list[Fault]) -> tuple[float, ...]:
    if value is None:
        return ()
    low, high = _HANSEN
    parts = list(value) if isinstance(value, (list, tuple)) else []
    numbers = [
        float(part)
        for part in parts
        if isinstance(part, (int, float)) and not isinstance(part, bool) and low <= part <= high
    ]
    if len(parts) == len(numbers) == 3:
        return tuple(numbers)
    faults.append(
        Fault(
            f"{where}.hansen",
            f"got {value!r}, should be three numbers dD, dP, dH from {low:g} to {high:g} MPa^0.5",
        )
    )
    return ()


def _liquid(name: str, atoms: Mapping[str, float], numbers: Mapping[str, float], hansen: tuple[float, ...]) -> Liquid:
    """Return the checked figures as a liquid; per mole where tables are per mole."""
    carbon, hydrogen, oxygen, nitrogen = (atoms.get(symbol, 0.0) for symbol in "CHON")
    mass = stoichiometry.molar_mass(carbon, hydrogen, oxygen, nitrogen)
    values = {_NUMBERS[key][0]: value for key, value in numbers.items()}
    if "latent_heat" in values:
        values["heat_of_vaporisation"] = values.pop("latent_heat") * mass
    values["molar_volume"] = mass / values["density"]
    if "lower_heating_value" in values:
        values["enthalpy_of_formation_liquid"] = stoichiometry.enthalpy_of_formation(
            carbon, hydrogen, oxygen, nitrogen, values["lower_heating_value"]
        )
    if {"enthalpy_of_formation_liquid", "heat_of_vaporisation"} <= set(values):
        values["enthalpy_of_formation_gas"] = values["enthalpy_of_formation_liquid"] + values["heat_of_vaporisation"]
    values |= {f"hansen_{axis}": part for axis, part in zip("dph", hansen, strict=False)}
    rows = tuple(
        LiquidValue(key, value, value, value, "", math.nan, "", _ORIGIN, "given with the case")
        for key, value in values.items()
    )
    return Liquid(name, None, "own", carbon, hydrogen, oxygen, nitrogen, rows)
