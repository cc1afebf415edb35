"""The case in words: each input as given, or what stands in for it, and the range it is counted with."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.case.case_file import case_schema
from screening.judgement.case.section_values import unit_of_key
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import property_units
from screening.quantities import to_si
from screening.records.tables.surfaces import find_surface
from screening.report.parts.figures import digits, in_unit, unit_sign, with_unit
from screening.sentences import TRADE, Units

Row = tuple[str, str, str]
_SECTIONS = ("engine", "piston", "operation", "head", "printer")
LEFT_OPEN, AS_GIVEN, COMPUTED = "left open", "as given", "computed"


def case_rows(case: Case, conditions: Conditions, units: Units = TRADE) -> list[Row]:
    """Return a row an input: its title, what the case gives, and what it is counted with (5th to 95th percentile).

    An input that is left open and that nothing has to stand in for has no row.

    Parameters
    ----------
    case : Case
    conditions : Conditions
        The draws of the case's inputs.
    units : Units
        Unit of the temperatures.

    Returns
    -------
    list of (str, str, str)
        In the order of the case file.
    """
    document = case.to_dict()
    reference = document.get("reference_fuel")
    rows: list[Row] = [
        ("fuel", _liquid(document["fuel"], units), AS_GIVEN),
        ("reference fuel", LEFT_OPEN, case.reference_fuel.name)
        if reference is None
        else ("reference fuel", _liquid(reference, units), AS_GIVEN),
    ]
    for section in _SECTIONS:
        given = document.get(section, {})
        fields: Mapping[str, Any] = case_schema()["properties"][section]["properties"]
        for key, field in fields.items():
            counted = _counted(case, conditions, section, key, units)
            if key in given or counted:
                entry = _entry(key, given[key], units) if key in given else LEFT_OPEN
                rows.append((field["title"], entry, counted or AS_GIVEN))
    return [*rows, *_computed_rows(conditions, units), *_rows_beside(document, units)]


def _computed_rows(conditions: Conditions, units: Units) -> list[Row]:
    """Rows that follow from the inputs: fuel burned or air breathed, and the head's temperature."""
    if np.isfinite(conditions["burned_volume_flow"]).all():
        a_minute = _range(60 * conditions["burned_volume_flow"], "mL", units)
        charge = ("fuel burned a minute", COMPUTED, a_minute)
    else:
        breathed = _range(conditions["volumetric_efficiency"], "1", units)
        charge = ("share of a full charge breathed", COMPUTED, breathed)
    head = _range(conditions["head_surface"], "degC", units)
    return [charge, ("outside of the head, from the gun's reading", COMPUTED, head)]


def _counted(case: Case, conditions: Conditions, section: str, key: str, units: Units) -> str:
    """Value that an input is counted with; empty where it is the given one, or where it plays no part."""
    unit, name = unit_of_key(key), _stem(key)
    if section == "head" and key == "surface":
        emissivity = _range(conditions["emissivity"], "1", units)
        return f"{find_surface(case.head.surface).name}, emissivity {emissivity}"
    if name in conditions.values:
        drawn = conditions[name]
        fixed = float(np.ptp(drawn)) <= 1e-9 * float(np.abs(drawn).max())
        return "" if fixed and case.is_given(section, key) else _range(drawn, unit, units)
    if case.is_given(section, key):
        return ""
    value = getattr(getattr(case, section), name, None)
    if value is None or isinstance(value, tuple):
        return ""
    return with_unit(in_unit(value, unit, units), unit, units) if _is_number(value) else _entry(key, value, units)


def _range(values: np.ndarray, unit: str, units: Units) -> str:
    low, middle, high = (digits(in_unit(float(v), unit, units)) for v in np.quantile(values, (0.05, 0.5, 0.95)))
    sign = f" {unit_sign(unit, units)}".rstrip()
    return f"{middle}{sign}" if low == high else f"{low} to {high}{sign}, median {middle}"


def _entry(key: str, value: Any, units: Units) -> str:
    """Value of a key of the case in words; temperatures of the case are in °C."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if _is_number(value):
        unit = unit_of_key(key)
        return with_unit(units.degrees(to_si(value, unit)) if unit == "degC" else value, unit, units)
    if key == "crown_layers":
        return "; ".join(f"{row['material']} {digits(row['thickness_mm'])} mm" for row in value) or "none"
    if key == "log":
        return _log(value)
    return str(value)


def _log(log: str | Mapping[str, str]) -> str:
    if isinstance(log, str):
        return f"a log of {len(log.splitlines())} lines, in the case file"
    return f"the bundled log {log['bundled']}" if "bundled" in log else f"a file with digest {log['digest'][:16]}"


def _liquid(entry: str | Mapping[str, Any], units: Units) -> str:
    if isinstance(entry, str):
        return entry
    rest = {key: value for key, value in entry.items() if key != "name"}
    return f"{entry['name']}, a liquid of the case's own ({_entries(rest, units)})"


def _rows_beside(document: Mapping[str, Any], units: Units) -> list[Row]:
    """Return the rows of the builder's own tests and runs, of materials that the case describes itself, and of the probe."""
    rows = []
    for soak in document.get("soak_tests", ()):
        rest = {key: value for key, value in soak.items() if key not in ("material", "fluid")}
        entry = f"{_liquid(soak['fluid'], units)}: {_entries(rest, units)}"
        rows.append((f"soak test of {soak['material']}", entry, "weighs in the contact with the fuel"))
    for section, name in (("cold_proofs", "cold proof of"), ("runs", "run with")):
        for row in document.get(section, ()):
            rest = {key: value for key, value in row.items() if key != "material"}
            rows.append((f"{name} {row['material']}", _entries(rest, units), "weighs the draws"))
    for material in document.get("own_materials", ()):
        entry = f"{material['name']}, based on {material['based_on']}: {_values(material['values'], units)}"
        rows.append((f"material of the case's own, {material['id']}", entry, AS_GIVEN))
    if "probe" in document:
        rows.append(("probe in a crown", _entries(document["probe"], units), "told, not counted"))
    return rows


def _entries(entry: Mapping[str, Any], units: Units) -> str:
    parts = []
    for key, value in entry.items():
        words = ", ".join(digits(v) for v in value) if isinstance(value, list) else _entry(key, value, units)
        parts.append(f"{_stem(key).replace('_', ' ')} {words}")
    return "; ".join(parts)


def _values(values: Mapping[str, Any], units: Units) -> str:
    tabled, parts = property_units(), []
    for name, value in values.items():
        unit = tabled[name]
        ends = [value["low"], value["typical"], value["high"]] if isinstance(value, Mapping) else [value]
        if unit == "degC":
            ends = [units.degrees(to_si(end, unit)) for end in ends]
        figures = ", ".join(digits(end) for end in ends)
        parts.append(f"{name.replace('_', ' ')} {figures} {unit_sign(unit, units)}".rstrip())
    return "; ".join(parts)


def _stem(key: str) -> str:
    """Return a key without its unit."""
    unit = unit_of_key(key)
    return key.removesuffix({"W/(m2 K)": "_W_m2K", "degC": "_C", "1": ""}.get(unit, f"_{unit}"))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
