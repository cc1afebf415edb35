"""One fuel as a text sheet and as a document: air, mixture, heat, volatility, solvent power, cautions."""

from __future__ import annotations

import math
from typing import Any

from screening.quantities import from_si
from screening.records.fuel import Fuel
from screening.records.fuels import mixture_setting

ROOM = 296.15
SHOWN: tuple[tuple[str, str, str, int], ...] = (
    ("density", "density at 20 °C", "kg/m3", 0),
    ("lower_heating_value", "lower heating value", "MJ/kg", 2),
    ("latent_heat", "heat of vaporisation at 25 °C", "kJ/kg", 0),
    ("boiling_point", "boiling point (a blend: first bubble)", "degC", 1),
    ("flash_point", "flash point", "degC", 0),
    ("autoignition", "lowest self-ignition", "degC", 0),
    ("lower_flammability_limit", "lower flammable limit in air", "%", 1),
    ("upper_flammability_limit", "upper flammable limit in air", "%", 1),
    ("molar_volume", "molar volume at 25 °C", "cm3/mol", 1),
)
"""What the sheet and the app show of a fuel: attribute, label, unit, digits."""
_PRINTED_UNIT = {"degC": "°C", "kg/m3": "kg/m³", "cm3/mol": "cm³/mol"}
MASS_NOTE = (
    "A carburettor meters mass, not moles: set it by the mass figure. A mole of fuel takes far more\n"
    "moles of air than a kilogram takes kilograms; one read for the other sets the mixture badly wrong."
)


def fuel_document(fuel: Fuel, reference: Fuel | None = None) -> dict[str, Any]:
    """Return everything the sheet shows, as plain numbers in the units of the keys; None where unknown."""
    document: dict[str, Any] = {
        "name": fuel.name,
        "cas": fuel.cas,
        "kind": fuel.kind,
        "note": fuel.note,
        "components": [
            {
                "name": share.component.name,
                "volume_fraction": share.volume_fraction,
                "mass_fraction": share.mass_fraction,
                "mole_fraction": share.mole_fraction,
            }
            for share in fuel.components
        ],
        "air_fuel_ratio": fuel.air_fuel_ratio,
        "oxygen_need_mol_mol": fuel.oxygen_need,
        "air_need_mol_mol": fuel.air_need,
        "molar_mass_g_mol": from_si(fuel.molar_mass, "g/mol"),
    }
    for name, _, unit, _ in SHOWN:
        document[f"{name} [{unit}]"] = _in_unit(getattr(fuel, name), unit)
    document |= {
        "energy_per_litre_MJ": _scaled(fuel.energy_per_volume, 1e-9),
        "energy_per_kg_stoichiometric_mixture_MJ": _scaled(fuel.energy_per_mixture, 1e-6),
        "energy_per_kg_air_MJ": _scaled(fuel.energy_per_air, 1e-6),
        "hansen_MPa05": None if fuel.hansen is None else list(fuel.hansen),
        "vapour_pressure_kPa_at_23_C": _vapour_pressure(fuel),
        "ranges_SI": {name: list(ends) for name, ends in fuel.ranges.items()},
        "sources": {name: fuel.source(name) for name in _sourced(fuel)},
        "unknown": {name: fuel.why_unknown(name) for name in fuel.unknown},
        "cautions": cautions(fuel),
    }
    if reference is not None and fuel.air_fuel_ratio > 0.0 and reference.air_fuel_ratio > 0.0:
        setting = mixture_setting(fuel, reference)
        document["against"] = {
            "name": reference.name,
            "fuel_mass_ratio": setting.fuel_mass_ratio,
            "fuel_mass_ratio_range": list(setting.fuel_mass_ratio_range),
            "jet_area_ratio": setting.jet_area_ratio,
        }
    return document


def fuel_sheet(fuel: Fuel, reference: Fuel | None = None) -> str:
    """Return the fuel as text for a terminal; with a reference, also how the carburettor must change."""
    heading = fuel.name + (f"  (CAS {fuel.cas})" if fuel.cas else "")
    blocks = [[heading, "=" * len(heading), *([fuel.note] if fuel.note else [])]]
    if len(fuel.components) > 1:
        blocks.append(_composition(fuel))
    blocks.append(_air(fuel))
    if reference is not None and fuel.air_fuel_ratio > 0.0 and reference.air_fuel_ratio > 0.0:
        blocks.append(_setting(fuel, reference))
    blocks += [_properties(fuel), ["Cautions", *(f"  - {caution}" for caution in cautions(fuel))]]
    if fuel.unknown:
        blocks.append(["Unknown", *(f"  {name}: {fuel.why_unknown(name)}" for name in fuel.unknown)])
    blocks.append(["Sources", *(f"  {name}: {fuel.source(name)}" for name in _sourced(fuel))])
    return "\n\n".join("\n".join(block) for block in blocks)


def cautions(fuel: Fuel) -> list[str]:
    """Return what to beware of, with the fuel's own numbers."""
    told: list[str] = []
    if fuel.air_fuel_ratio <= 0.0:
        return ["It does not burn."]
    if fuel.flash_point is None:
        told.append("Flash point unknown: treat it as highly flammable.")
    else:
        bound = " or lower" if len(fuel.components) > 1 and fuel.kind == "blend" else ""
        flash = f"flash point {from_si(fuel.flash_point, 'degC'):.0f} °C{bound}"
        if fuel.flash_point < ROOM:
            told.append(f"The vapour over it ignites at room temperature ({flash}): no sparks, hot parts or static.")
        else:
            told.append(f"It ignites when warmed ({flash}); a hot engine is warm enough.")
    if fuel.lower_flammability_limit is not None:
        told.append(f"Its vapour burns in air from {100 * fuel.lower_flammability_limit:.1f} % by volume.")
    told.append("Its vapour is heavier than air and gathers low down: air the room, keep the can shut.")
    if any(share.component.kind == "nitro" for share in fuel.components):
        told.append("A nitro compound carries its own oxygen: it can burn without air and may explode.")
    if any(share.component.kind == "ether" for share in fuel.components):
        told.append("Ethers form explosive peroxides in storage: use fresh, never distil or dry out.")
    if any(share.component.name == "methanol" for share in fuel.components):
        told.append("Methanol is poisonous through the skin and its flame cannot be seen in daylight.")
    return told


def _composition(fuel: Fuel) -> list[str]:
    width = max(len(share.component.name) for share in fuel.components)
    head = f"  {'':{width}}  by volume  by mass  by moles"
    rows = []
    for share in fuel.components:
        volume, mass, moles = (100 * part for part in share[1:])
        rows.append(f"  {share.component.name:{width}}  {volume:8.1f} %{mass:7.1f} %{moles:8.1f} %")
    return ["Composition", head, *rows]


def _air(fuel: Fuel) -> list[str]:
    """Return the air need by mass and by moles side by side."""
    spread = _range_text(fuel, "air_fuel_ratio", "1", 2)
    return [
        "Air for complete burning",
        f"  by mass   {fuel.air_fuel_ratio:7.2f} kg dry air per kg fuel{spread}",
        f"  by moles  {fuel.air_need:7.2f} mol dry air per mol fuel ({fuel.oxygen_need:.2f} mol O2)",
        *(f"  {line}" for line in MASS_NOTE.split("\n")),
    ]


def _setting(fuel: Fuel, reference: Fuel) -> list[str]:
    setting = mixture_setting(fuel, reference)
    low, high = setting.fuel_mass_ratio_range
    spread = f" ({low:.2f} to {high:.2f})" if high - low > 0.005 else ""
    lines = [
        f"Mixture against {reference.name}",
        f"  {setting.fuel_mass_ratio:.2f} times the fuel mass for the same air{spread}",
    ]
    if setting.jet_area_ratio is None:
        lines.append("  jet area: unknown without both densities")
    else:
        area = setting.jet_area_ratio
        told = f"  jet area x {area:.2f} (bore x {math.sqrt(area):.2f})"
        lines.append(f"{told} at the same pressure drop and flow coefficient")
    if fuel.energy_per_mixture is not None and reference.energy_per_mixture is not None:
        ratio = fuel.energy_per_mixture / reference.energy_per_mixture
        lines.append(f"  energy of a full charge of mixture: {100 * ratio:.0f} % of {reference.name}'s by mass")
    return lines


def _properties(fuel: Fuel) -> list[str]:
    lines = ["Properties"]
    for name, label, unit, digits in SHOWN:
        value = _in_unit(getattr(fuel, name), unit)
        told = "unknown" if value is None else f"{value:.{digits}f} {_PRINTED_UNIT.get(unit, unit)}"
        lines.append(f"  {label:41} {told}{_range_text(fuel, name, unit, digits)}")
    extra = (
        ("energy of a litre of liquid", fuel.energy_per_volume, 1e-9, "MJ/L"),
        ("energy of a kg of stoichiometric mixture", fuel.energy_per_mixture, 1e-6, "MJ/kg"),
        ("energy per kg of stoichiometric air", fuel.energy_per_air, 1e-6, "MJ/kg"),
    )
    lines += [
        f"  {label:41} {'unknown' if value is None else f'{value * scale:.2f} {unit}'}"
        for label, value, scale, unit in extra
    ]
    pressure = _vapour_pressure(fuel)
    lines.append(f"  {'vapour pressure at 23 °C':41} {'unknown' if pressure is None else f'{pressure:.2g} kPa'}")
    hansen = "unknown" if fuel.hansen is None else ", ".join(f"{part:.1f}" for part in fuel.hansen) + " MPa^0.5"
    lines.append(f"  {'Hansen parameters dD, dP, dH':41} {hansen}")
    return lines


def _range_text(fuel: Fuel, name: str, unit: str, digits: int) -> str:
    ends = fuel.ranges.get(name)
    if ends is None:
        return ""
    low, high = (f"{from_si(end, unit):.{digits}f}" for end in ends)
    return "" if low == high else f"  ({low} to {high})"


def _in_unit(value: float | None, unit: str) -> float | None:
    return None if value is None else from_si(value, unit)


def _scaled(value: float | None, scale: float) -> float | None:
    return None if value is None else value * scale


def _vapour_pressure(fuel: Fuel) -> float | None:
    """Return the vapour pressure at 23 degC [kPa], or None."""
    pressure = float(fuel.vapour_pressure(ROOM))
    return None if math.isnan(pressure) else pressure / 1000.0


def _sourced(fuel: Fuel) -> list[str]:
    return [name for name, _ in fuel.source_pairs if name not in fuel.unknown]
