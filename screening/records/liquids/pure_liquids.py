"""Pure liquids: the curated rows of `materials_data` first, the open handbook tables for all others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import pandas as pd

from screening import stoichiometry
from screening.errors import CaseError, Fault, UnknownName
from screening.quantities import si_unit, to_si
from screening.records.liquids import open_tables
from screening.records.liquids.value_choice import (
    Choice,
    choose,
    choose_first,
    choose_flash_point,
    reconcile_enthalpies,
)
from screening.records.liquids.vapour_pressure import VapourCurve
from screening.records.tables.package import read_table

OPEN_TABLES_SOURCE = "open tables of the chemicals package"

_VALUE_TEMPERATURE = {
    "density": open_tables.DENSITY_TEMPERATURE,
    "molar_volume": open_tables.STANDARD_TEMPERATURE,
    "heat_of_vaporisation": open_tables.STANDARD_TEMPERATURE,
    "enthalpy_of_formation_liquid": open_tables.STANDARD_TEMPERATURE,
    "enthalpy_of_formation_gas": open_tables.STANDARD_TEMPERATURE,
}


@dataclass(frozen=True)
class LiquidValue:
    """One property of one liquid in SI, with its spread, the temperature [K] at which it holds and where it comes from."""

    name: str
    low: float
    typical: float
    high: float
    unit: str
    temperature: float = field(compare=False)  # NaN where it has none, and NaN equals nothing
    method: str
    source: str
    how: str
    note: str = ""

    def origin(self) -> str:
        """Return method, source and how it was read, as one phrase."""
        read_from = f"{self.method} ({self.source}; {self.how})" if self.method else f"{self.source} ({self.how})"
        return f"{read_from}: {self.note}" if self.note else read_from


@dataclass(frozen=True)
class Liquid:
    """One pure liquid of carbon, hydrogen, oxygen and nitrogen; atoms are per molecule."""

    name: str
    cas: str | None
    kind: str
    carbon: float
    hydrogen: float
    oxygen: float
    nitrogen: float
    values: tuple[LiquidValue, ...]
    vapour: VapourCurve | None = None
    vapour_source: str = ""
    groups: tuple[tuple[str, int], ...] = ()

    @property
    def molar_mass(self) -> float:
        """Molar mass [kg/mol], from the formula."""
        return stoichiometry.molar_mass(self.carbon, self.hydrogen, self.oxygen, self.nitrogen)

    @property
    def hansen(self) -> tuple[float, float, float] | None:
        """Hansen parameters dD, dP, dH [MPa^0.5], or None where they are not published."""
        d, p, h = (self.typical(f"hansen_{axis}") for axis in "dph")
        return None if d is None or p is None or h is None else (d, p, h)

    def value(self, name: str) -> LiquidValue | None:
        """Return the value of a property, or None where none is published."""
        return next((value for value in self.values if value.name == name), None)

    def typical(self, name: str) -> float | None:
        """Return the typical value of a property in SI, or None where none is published."""
        value = self.value(name)
        return None if value is None else value.typical


def find_liquid(name: str) -> Liquid:
    """Return the liquid with exactly this name or CAS number.

    Raises
    ------
    UnknownName
        If no table holds the name; the message offers near ones. There is no near match of a value.
    CaseError
        If the liquid holds an element other than C, H, O and N.
    """
    index = curated_names()
    key = fold(name)
    if key in index:
        return curated_liquids()[index[key]]
    identity = open_tables.identify(name)
    if identity is None:
        raise UnknownName("fuel", name, known_liquids())
    if identity.cas in index:
        return curated_liquids()[index[identity.cas]]
    return liquid_from_open_tables(identity)


def fold(name: str) -> str:
    """Return a name as it is compared: without case and doubled spaces."""
    return " ".join(name.casefold().split())


def known_liquids() -> tuple[str, ...]:
    """Return the names of the curated liquids."""
    return tuple(curated_liquids())


@lru_cache(maxsize=1)
def curated_names() -> Mapping[str, str]:
    """Return folded name, other name or CAS number -> name of a curated liquid."""
    index: dict[str, str] = {}
    for row in read_table("fuels").to_dict("records"):
        others = [other for other in row["other_names"].split(";") if other.strip()]
        for key in (row["name"], row["cas"], *others):
            if key:
                index[fold(key)] = row["name"]
    return index


@lru_cache(maxsize=1)
def curated_liquids() -> Mapping[str, Liquid]:
    """Return name -> curated liquid."""
    values = read_table("fuel_properties")
    curves = read_table("vapour_pressures").set_index("fuel")
    rows: dict[str, list[LiquidValue]] = {}
    for item in values.to_dict("records"):
        rows.setdefault(item["fuel"], []).append(_value(item))
    liquids: dict[str, Liquid] = {}
    for row in read_table("fuels").to_dict("records"):
        name, atoms = row["name"], stoichiometry.formula_atoms(row["formula"])
        curve = curves.loc[name] if name in curves.index else None
        liquids[name] = Liquid(
            name=name,
            cas=row["cas"] or None,
            kind=row["kind"],
            carbon=atoms.get("C", 0.0),
            hydrogen=atoms.get("H", 0.0),
            oxygen=atoms.get("O", 0.0),
            nitrogen=atoms.get("N", 0.0),
            values=tuple(rows.get(name, ())),
            vapour=None if curve is None else _curve(curve),
            vapour_source="" if curve is None else f"{curve['method']} ({curve['source']}; {curve['how']})",
            groups=_groups(row["unifac_groups"]),
        )
    return liquids


def _value(row: Mapping[Any, Any]) -> LiquidValue:
    low, typical, high = (to_si(row[end], row["unit"]) for end in ("low", "typical", "high"))
    return LiquidValue(
        row["property"],
        low,
        typical,
        high,
        si_unit(row["unit"]),
        to_si(row["temperature_C"], "degC"),
        row["method"],
        row["source"],
        row["how"],
        row["note"],
    )


def _curve(row: pd.Series) -> VapourCurve:
    numbers = (row[key] for key in ("c1", "c2", "c3", "c4", "c5", "c6"))
    coefficients = tuple(float(number) for number in numbers if pd.notna(number))
    return VapourCurve(row["equation"], coefficients, float(row["low_K"]), float(row["high_K"]))


def _groups(text: str) -> tuple[tuple[str, int], ...]:
    """Return UNIFAC groups written as `CH3 1; CH2 1; OH 1`."""
    pieces = [piece.rsplit(" ", 1) for piece in text.split(";") if piece.strip()]
    return tuple((name.strip(), int(count)) for name, count in pieces)


def refuse_other_elements(name: str, atoms: Mapping[str, float]) -> None:
    """Raise CaseError when a fuel holds more than carbon, hydrogen, oxygen and nitrogen."""
    others = ", ".join(sorted(set(atoms) - set(stoichiometry.ATOMIC_MASS)))
    if others:
        why = f"{name} holds {others}; only fuels of carbon, hydrogen, oxygen and nitrogen are covered"
        raise CaseError([Fault("fuel", why)])


@lru_cache(maxsize=256)
def liquid_from_open_tables(identity: open_tables.Identity) -> Liquid:
    """Return a liquid with what the open tables hold of it, disagreements weighed by `value_choice`."""
    atoms = dict(identity.atoms)
    refuse_other_elements(identity.name, atoms)
    measured = open_tables.candidates(identity)
    chosen = chosen_values(measured)
    curves = open_tables.vapour_curves(identity.cas)
    method = next(iter(curves), "")
    return Liquid(
        name=identity.name,
        cas=identity.cas,
        kind="",
        carbon=atoms.get("C", 0.0),
        hydrogen=atoms.get("H", 0.0),
        oxygen=atoms.get("O", 0.0),
        nitrogen=atoms.get("N", 0.0),
        values=tuple(_open_value(name, choice) for name, choice in chosen.items()),
        vapour=curves.get(method),
        vapour_source=f"{method} ({OPEN_TABLES_SOURCE}; looked up)" if method else "",
    )


def place_choice(name: str, values: Mapping[str, float]) -> Choice | None:
    """Return the choice among candidates for a Hansen parameter, of which Hansen's own list comes first, or another."""
    return choose_first(values) if name.startswith("hansen") else choose(values)


def chosen_values(measured: Mapping[str, Mapping[str, float]]) -> dict[str, Choice]:
    """Return property -> the value chosen among the candidates of the open tables."""
    special = ("enthalpy_of_formation_liquid", "enthalpy_of_formation_gas", "flash_point")
    chosen = {name: place_choice(name, values) for name, values in measured.items() if name not in special}
    heat, boiling = chosen["heat_of_vaporisation"], chosen["boiling_point"]
    liquid, gas = reconcile_enthalpies(measured[special[0]], measured[special[1]], heat.typical if heat else None)
    flash = choose_flash_point(measured["flash_point"], boiling.typical if boiling else None)
    chosen |= {special[0]: liquid, special[1]: gas, "flash_point": flash}
    return {name: choice for name, choice in chosen.items() if choice is not None}


def _open_value(name: str, choice: Choice) -> LiquidValue:
    temperature = _VALUE_TEMPERATURE.get(name, float("nan"))
    return LiquidValue(
        name,
        choice.low,
        choice.typical,
        choice.high,
        open_tables.SI_UNIT[name],
        temperature,
        choice.method,
        OPEN_TABLES_SOURCE,
        "looked up",
        choice.note,
    )
