"""The case in words: each input as given, or what stands in for it, and the range it is counted with."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.case.case_file import case_schema
from screening.judgement.case.sections import unit_of_key
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import property_units
from screening.quantities import from_si
from screening.records.tables.surfaces import find_surface

Row = tuple[str, str, str]
SECTIONS = ("engine", "piston", "operation", "head", "printer")
LEFT_OPEN, AS_GIVEN, COMPUTED = "left open", "as given", "computed"
_SIGNS = {"1": "", "degC": "°C", "deg": "°", "cc": "cm³", "um": "µm"}


def case_rows(case: Case, conditions: Conditions) -> list[Row]:
    """Return a row an input: what it is, what the case gives, and what it is counted with (5th to 95th percentile).

    An input that is left open and that nothing has to stand in for has no row.
    """
    document = case.to_dict()
    rows = [
        ("fuel", _liquid(document["fuel"]), AS_GIVEN),
        (
            "reference fuel",
            _liquid(document["reference_fuel"]) if "reference_fuel" in document else LEFT_OPEN,
            AS_GIVEN if "reference_fuel" in document else case.reference_fuel.name,
        ),
    ]
    for section in SECTIONS:
        given = document.get(section, {})
        fields: Mapping[str, Any] = case_schema()["properties"][section]["properties"]
        for key, field in fields.items():
            counted = _counted(case, conditions, section, key)
            if key in given or counted:
                told = _told(key, given[key]) if key in given else LEFT_OPEN
                rows.append((_label(field["description"]), told, counted or AS_GIVEN))
    if np.isfinite(conditions["burned_volume_flow"]).all():
        rows.append(("fuel burned a minute", COMPUTED, _range(60 * conditions["burned_volume_flow"], "mL")))
    else:
        rows.append(("share of a full charge breathed", COMPUTED, _range(conditions["volumetric_efficiency"], "1")))
    rows.append(("outside of the head, from the gun's reading", COMPUTED, _range(conditions["head_surface"], "degC")))
    return rows + _own_rows(document)


def _counted(case: Case, conditions: Conditions, section: str, key: str) -> str:
    """Return what an input is counted with; nothing where that is just what was given, or where it plays no part."""
    unit, name = unit_of_key(key), _stem(key)
    if section == "head" and key == "surface":
        return f"{find_surface(case.head.surface).name}, emissivity {_range(conditions['emissivity'], '1')}"
    if name in conditions.values:
        drawn = conditions[name]
        fixed = float(np.ptp(drawn)) <= 1e-9 * float(np.abs(drawn).max())
        return "" if fixed and case.is_given(section, key) else _range(drawn, unit)
    if case.is_given(section, key):
        return ""
    value = getattr(getattr(case, section), name, None)
    if value is None or isinstance(value, tuple) or name == "warmed_metal":  # counts only where it was weighed
        return ""
    return _told(key, from_si(value, unit) if _is_number(value) else value)


def _range(values: np.ndarray, unit: str) -> str:
    low, middle, high = (float(from_si(v, unit)) for v in np.quantile(values, (0.05, 0.5, 0.95)))
    sign = f" {unit_sign(unit)}".rstrip()
    same = digits(low) == digits(high)
    return f"{digits(middle)}{sign}" if same else f"{digits(low)} to {digits(high)}{sign}, median {digits(middle)}"


def _told(key: str, value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if _is_number(value):
        return f"{digits(value)} {unit_sign(unit_of_key(key))}".rstrip()
    if key == "crown_layers":
        return "; ".join(f"{row['material']} {digits(row['thickness_mm'])} mm" for row in value) or "none"
    if key == "log":
        return _log(value)
    return str(value)


def _log(log: str | Mapping[str, str]) -> str:
    if isinstance(log, str):
        return f"a log of {len(log.splitlines())} lines, in the case file"
    return f"the bundled log {log['bundled']}" if "bundled" in log else f"a file with digest {log['digest'][:16]}"


def _liquid(entry: str | Mapping[str, Any]) -> str:
    if isinstance(entry, str):
        return entry
    return f"{entry['name']}, a liquid of the case's own ({_keys({k: v for k, v in entry.items() if k != 'name'})})"


def _own_rows(document: Mapping[str, Any]) -> list[Row]:
    rows = [
        (
            f"soak test of {soak['material']}",
            f"{_liquid(soak['fluid'])}: {_keys({k: v for k, v in soak.items() if k not in ('material', 'fluid')})}",
            "weighs in the contact with the fuel",
        )
        for soak in document.get("soak_tests", ())
    ]
    for own in document.get("own_materials", ()):
        told = f"{own['name']}, based on {own['based_on']}: {_values(own['values'])}"
        rows.append((f"material of the case's own, {own['id']}", told, AS_GIVEN))
    if "probe" in document:
        rows.append(("probe in a crown", _keys(document["probe"]), "told, not counted"))
    return rows


def _keys(entry: Mapping[str, Any]) -> str:
    parts = []
    for key, value in entry.items():
        shown = ", ".join(digits(v) for v in value) if isinstance(value, list) else _told(key, value)
        parts.append(f"{_stem(key).replace('_', ' ')} {shown}")
    return "; ".join(parts)


def _values(values: Mapping[str, Any]) -> str:
    units, parts = property_units(), []
    for name, value in values.items():
        ends = [value["low"], value["typical"], value["high"]] if isinstance(value, Mapping) else [value]
        shown = ", ".join(digits(end) for end in ends)
        parts.append(f"{name.replace('_', ' ')} {shown} {unit_sign(units[name])}".rstrip())
    return "; ".join(parts)


def _stem(key: str) -> str:
    """Return a key without its unit."""
    unit = unit_of_key(key)
    return key.removesuffix({"W/(m2 K)": "_W_m2K", "degC": "_C", "1": ""}.get(unit, f"_{unit}"))


def _label(description: str) -> str:
    return re.split(r" \[|[:;]", description)[0].removeprefix("id of ")


def unit_sign(unit: str) -> str:
    """Return a unit as it is printed; nothing for a pure number."""
    return _SIGNS[unit] if unit in _SIGNS else unit.replace("m2", "m²").replace("m3", "m³")


def digits(number: float) -> str:
    """Return a number to three figures, a large one whole."""
    return f"{number:,.0f}" if abs(number) >= 1000 else f"{number:.3g}"


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
