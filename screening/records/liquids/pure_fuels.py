"""One pure liquid seen as a fuel: per mass instead of per mole, with its heating value."""

from __future__ import annotations

from typing import Any

from screening.records.liquids.fuel import Fuel, Share
from screening.records.liquids.pure_liquids import Liquid
from screening.stoichiometry import lower_heating_value

# Property of a Fuel -> property of its liquids.
_SIMPLE = {
    "density": "density",
    "molar_volume": "molar_volume",
    "flash_point": "flash_point",
    "autoignition": "autoignition",
    "lower_flammability_limit": "lower_flammability_limit",
    "upper_flammability_limit": "upper_flammability_limit",
    "enthalpy_of_formation_liquid": "enthalpy_of_formation_liquid",
    "enthalpy_of_formation_gas": "enthalpy_of_formation_gas",
    "latent_heat": "heat_of_vaporisation",
    "boiling_point": "boiling_point",
}


def pure_fuel(liquid: Liquid) -> Fuel:
    """Return one pure liquid as a fuel."""
    values: dict[str, Any] = {}
    ranges: list[tuple[str, float, float]] = []
    sources: dict[str, str] = {}
    for name, of_liquid in _SIMPLE.items():
        value = liquid.value(of_liquid)
        scale = 1.0 / liquid.molar_mass if name == "latent_heat" else 1.0
        values[name] = None if value is None else value.typical * scale
        if value is not None:
            sources[name] = value.origin()
            if value.low < value.high:
                ranges.append((name, value.low * scale, value.high * scale))
    hansen = _hansen(liquid, sources, ranges)
    heat = _heating_value(liquid, sources, ranges)
    sources |= {name: "from the formula; dry air with 20.95 % oxygen" for name in ("air_fuel_ratio", "oxygen_need")}
    sources["molar_mass"] = "from the formula; standard atomic weights"
    if liquid.vapour is not None:
        sources["vapour_pressure"] = (
            f"{liquid.vapour_source}; fitted from {liquid.vapour.low:.0f} to {liquid.vapour.high:.0f} K"
        )
    properties = {"hansen": hansen, "lower_heating_value": heat, "vapour_pressure": liquid.vapour, **values}
    reasons = [(name, f"no published value for {liquid.name}") for name, value in properties.items() if value is None]
    return Fuel(
        name=liquid.name,
        cas=liquid.cas,
        kind="liquid",
        components=(Share(liquid, 1.0, 1.0, 1.0),),
        carbon=liquid.carbon,
        hydrogen=liquid.hydrogen,
        oxygen=liquid.oxygen,
        nitrogen=liquid.nitrogen,
        lower_heating_value=heat,
        hansen=hansen,
        vapour_curve=liquid.vapour,
        range_pairs=tuple(ranges),
        source_pairs=tuple(sources.items()),
        reason_pairs=tuple(reasons),
        **values,
    )


def _hansen(
    liquid: Liquid, sources: dict[str, str], ranges: list[tuple[str, float, float]]
) -> tuple[float, float, float] | None:
    if liquid.hansen is None:
        return None
    values = [liquid.value(f"hansen_{axis}") for axis in "dph"]
    parts = [value for value in values if value is not None]
    sources["hansen"] = "; ".join(dict.fromkeys(part.origin() for part in parts))
    ranges += [(part.name, part.low, part.high) for part in parts if part.low < part.high]
    return liquid.hansen


def _heating_value(liquid: Liquid, sources: dict[str, str], ranges: list[tuple[str, float, float]]) -> float | None:
    """Return the lower heating value [J/kg]: a stated one, or that of the enthalpy of formation."""
    stated = liquid.value("lower_heating_value")
    if stated is not None:
        sources["lower_heating_value"] = stated.origin()
        return stated.typical
    formation = liquid.value("enthalpy_of_formation_liquid")
    if formation is None:
        return None
    sources["lower_heating_value"] = f"from the liquid's enthalpy of formation: {formation.origin()}"
    atoms = (liquid.carbon, liquid.hydrogen, liquid.oxygen, liquid.nitrogen)
    low, typical, high = (
        lower_heating_value(*atoms, enthalpy) for enthalpy in (formation.low, formation.typical, formation.high)
    )
    if low < high:
        ranges.append(("lower_heating_value", low, high))
    return typical
