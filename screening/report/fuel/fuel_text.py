"""One fuel as a text sheet and as a document: air, mixture, heat, volatility, solvent power, cautions."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable
from typing import Any

from screening.quantities import ROOM_TEMPERATURE, from_si
from screening.records.liquids.find_fuel import mixture_setting
from screening.records.liquids.fuel import Fuel
from screening.report.fuel.fuel_rows import (
    NO_FUEL,
    SHOWN,
    burns,
    composition,
    means,
    property_cells,
    range_text,
    remark,
)
from screening.report.parts.terminal import text_table
from screening.sentences import TRADE, Temperature, Text, Units, sentence, worded

_NO_MIXTURE = "It does not burn: by itself it runs no engine, and there is no mixture to set."
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
        "burns": burns(fuel),
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
        document[f"{name} [{unit}]"] = _in_unit(getattr(fuel, name), unit) if means(fuel, name) else None
    energies = {
        "energy_per_litre_MJ": _scaled(fuel.energy_per_volume, 1e-9),
        "energy_per_kg_stoichiometric_mixture_MJ": _scaled(fuel.energy_per_mixture, 1e-6),
        "energy_per_kg_air_MJ": _scaled(fuel.energy_per_air, 1e-6),
    }
    document |= {name: value if burns(fuel) else None for name, value in energies.items()}
    document |= {
        "hansen_MPa05": None if fuel.hansen is None else list(fuel.hansen),
        "vapour_pressure_kPa_at_23_C": _vapour_pressure(fuel),
        "ranges_SI": {name: list(ends) for name, ends in fuel.ranges.items()},
        "sources": {name: fuel.source(name) for name in _sourced(fuel)},
        "unknown": {name: fuel.why_unknown(name) for name in fuel.unknown},
        "cautions": [worded(caution) for caution in cautions(fuel)],
    }
    if reference is not None and burns(fuel) and burns(reference):
        setting = mixture_setting(fuel, reference)
        document["against"] = {
            "name": reference.name,
            "fuel_mass_ratio": setting.fuel_mass_ratio,
            "fuel_mass_ratio_range": list(setting.fuel_mass_ratio_range),
            "jet_area_ratio": setting.jet_area_ratio,
        }
    return document


def fuel_sheet(fuel: Fuel, reference: Fuel | None = None, units: Units = TRADE) -> str:
    """Return the fuel as text in the units chosen; with a reference, also how the carburettor must change."""
    heading = fuel.name + (f"  (CAS {fuel.cas})" if fuel.cas else "")
    notes = [*([] if burns(fuel) else [_NO_MIXTURE]), *([fuel.note] if fuel.note else [])]
    blocks = [[heading, "=" * len(heading), *notes]]
    if len(fuel.components) > 1:
        rows = composition(fuel)
        table = text_table(list(rows[0]), [[worded(cell) for cell in row.values()] for row in rows])
        blocks.append(["Composition", textwrap.indent(table, "  ")])
    if burns(fuel):
        blocks.append(_air(fuel))
    if reference is not None and burns(fuel) and burns(reference):
        blocks.append(_setting(fuel, reference))
    cells = [(worded(label, units), worded(cell, units)) for label, cell in property_cells(fuel)]
    properties = [f"  {label:41} {cell}" for label, cell in cells if cell != NO_FUEL]
    blocks += [
        ["Properties", *properties],
        ["Cautions", *_wrapped(f"- {worded(caution, units)}" for caution in cautions(fuel))],
    ]
    unknown = [name for name in fuel.unknown if means(fuel, name)]
    if unknown:
        blocks.append(["Unknown", *_wrapped(f"{_words(name)}: {fuel.why_unknown(name)}" for name in unknown)])
    blocks.append(["Sources", *_wrapped(f"{_words(name)}: {fuel.source(name)}" for name in _sourced(fuel))])
    return "\n\n".join("\n".join(block) for block in blocks)


def _wrapped(texts: Iterable[str]) -> list[str]:
    return [line for text in texts for line in textwrap.wrap(text, 100, initial_indent="  ", subsequent_indent="    ")]


def _words(name: str) -> str:
    labels = {shown: worded(label) for shown, label, _, _ in SHOWN}
    return labels.get(name, name.replace("_", " ")).split(" at ")[0]


def cautions(fuel: Fuel) -> list[Text]:
    """Hazards of a fuel, with its numbers."""
    told: list[Text] = []
    if not burns(fuel):
        return ["It does not burn."]
    if fuel.flash_point is None:
        told.append("Flash point unknown: treat it as highly flammable.")
    else:
        frame = (
            "The vapour over it ignites at room temperature (flash point {flash}{remark}): no sparks, hot parts or static."
            if fuel.flash_point < ROOM_TEMPERATURE
            else "It ignites when warmed (flash point {flash}{remark}); a hot engine is warm enough."
        )
        told.append(sentence(frame, flash=Temperature(fuel.flash_point), remark=remark(fuel, "flash_point")))
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


def _air(fuel: Fuel) -> list[str]:
    """Return the air need by mass and by moles side by side."""
    spread = range_text(fuel, "air_fuel_ratio", "1", 2)
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


def _in_unit(value: float | None, unit: str) -> float | None:
    return None if value is None else from_si(value, unit)


def _scaled(value: float | None, scale: float) -> float | None:
    return None if value is None else value * scale


def _vapour_pressure(fuel: Fuel) -> float | None:
    """Return the vapour pressure at 23 degC [kPa], or None."""
    pressure = float(fuel.vapour_pressure(ROOM_TEMPERATURE))
    return None if math.isnan(pressure) else pressure / 1000.0


def _sourced(fuel: Fuel) -> list[str]:
    return [name for name, _ in fuel.source_pairs if name not in fuel.unknown and means(fuel, name)]
