"""A liquid given by its place in Hansen space and its molar volume alone: enough to judge a contact by."""

from __future__ import annotations

import math
import re
from typing import Any

from screening.errors import CaseError, Fault
from screening.quantities import to_si
from screening.records.liquids.fuel import Fuel, Share
from screening.records.liquids.pure_liquids import Liquid, LiquidValue

HOW_WRITTEN = "dD 17.9, dP 11.9, dH 5.2, V 89"
"""The form: Hansen parameters [MPa^0.5] and molar volume [cm3/mol], in any order, a name and a colon before them or not."""
_FIGURE = re.compile(r"\b(?P<key>dD|dP|dH|V)\s*=?\s*(?P<number>-?\d+(?:[.,]\d+)?)(?![\w.])", re.IGNORECASE)
_LIMITS = {"dd": (10.0, 30.0), "dp": (0.0, 45.0), "dh": (0.0, 45.0), "v": (15.0, 2000.0)}
_SHOWN = {"dd": "dD", "dp": "dP", "dh": "dH", "v": "V"}
_PROPERTY = {"dd": "hansen_d", "dp": "hansen_p", "dh": "hansen_h", "v": "molar_volume"}
_NOT_GIVEN = (
    "density", "lower_heating_value", "latent_heat", "flash_point", "autoignition", "lower_flammability_limit",
    "upper_flammability_limit", "boiling_point", "enthalpy_of_formation_liquid", "enthalpy_of_formation_gas",
    "vapour_pressure",
)  # fmt: skip


def placed_liquid(text: str) -> Fuel | None:
    """Return the liquid that a text places, or None when the text is not written so.

    Nothing but its contact with polymers can be judged: it has no formula, so that it is no fuel for an engine here.

    Raises
    ------
    CaseError
        If a figure is missing, given twice or out of its range.

    Examples
    --------
    >>> placed_liquid("dD 17.9, dP 11.9, dH 5.2, V 89").hansen
    (17.9, 11.9, 5.2)
    """
    name, _, rest = text.rpartition(":")
    figures = [(m["key"].casefold(), float(m["number"].replace(",", "."))) for m in _FIGURE.finditer(rest)]
    if len(figures) < 2 or re.sub(r"[\s,;]", "", _FIGURE.sub("", rest)):
        return None
    given = dict(figures)
    faults = [
        Fault("fuel", f"{_SHOWN[key]} is missing; write for instance: {HOW_WRITTEN}")
        for key in _LIMITS
        if key not in given
    ]
    faults += [
        Fault("fuel", f"{_SHOWN[key]} is given twice") for key in given if [k for k, _ in figures].count(key) > 1
    ]
    for key, number in given.items():
        low, high = _LIMITS[key]
        if not low <= number <= high:
            unit = "cm3/mol" if key == "v" else "MPa^0.5"
            faults.append(Fault("fuel", f"{_SHOWN[key]} {number:g}: should be {low:g} to {high:g} {unit}"))
    if faults:
        raise CaseError(faults)
    return _fuel(name.strip() or f"own liquid ({_written(given)})", given)


def _written(given: dict[str, float]) -> str:
    return ", ".join(f"{_SHOWN[key]} {given[key]:g}" for key in _LIMITS)


def _fuel(name: str, given: dict[str, float]) -> Fuel:
    values = tuple(
        _value(_PROPERTY[key], number, "cm3/mol" if key == "v" else "MPa^0.5") for key, number in given.items()
    )
    liquid = Liquid(
        name=name, cas=None, kind="own liquid", carbon=0.0, hydrogen=0.0, oxygen=0.0, nitrogen=0.0, values=values
    )
    nothing: dict[str, Any] = dict.fromkeys(key for key in _NOT_GIVEN if key != "vapour_pressure")
    return Fuel(
        name=name,
        cas=None,
        kind="own liquid",
        components=(Share(liquid, 1.0, 1.0, 1.0),),
        carbon=0.0,
        hydrogen=0.0,
        oxygen=0.0,
        nitrogen=0.0,
        hansen=liquid.hansen,
        molar_volume=liquid.typical("molar_volume"),
        vapour_curve=None,
        source_pairs=(("hansen", "the user's own figures"), ("molar_volume", "the user's own figures")),
        reason_pairs=tuple((key, "only its place and its molar volume are given") for key in _NOT_GIVEN),
        **nothing,
    )


def _value(name: str, number: float, unit: str) -> LiquidValue:
    value = to_si(number, unit) if unit == "cm3/mol" else number
    si = "m3/mol" if unit == "cm3/mol" else unit
    return LiquidValue(name, value, value, value, si, math.nan, "", "the user's own figures", "given", "")
