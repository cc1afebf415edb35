"""Pump fuels and surrogates: a stated composition, with the range of what is sold under the name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from screening.quantities import to_si
from screening.records.liquids.fuel import Fuel
from screening.records.liquids.pure_liquids import fold
from screening.records.tables.package import read_table


@dataclass(frozen=True)
class PumpFuelRow:
    """One row of `fluids.csv` in SI: composition by volume, and ranges of what is sold."""

    name: str
    composition: str
    ranges: tuple[tuple[str, float, float], ...]
    flash_point: float | None
    autoignition: float | None
    source: str
    how: str
    note: str


def pump_fuel_row(name: str) -> PumpFuelRow | None:
    """Return the row with exactly this name (but for case), or None."""
    return _rows().get(fold(name))


def pump_fuel_names() -> tuple[str, ...]:
    """Return the usual names of all pump fuels and surrogates."""
    return tuple(dict.fromkeys(row.name for row in _rows().values()))


@lru_cache(maxsize=1)
def _rows() -> Mapping[str, PumpFuelRow]:
    by_name: dict[str, PumpFuelRow] = {}
    for row in read_table("fluids").to_dict("records"):
        ends = {
            name: (to_si(row[f"{name}_low"], unit), to_si(row[f"{name}_high"], unit))
            for name, unit in (
                ("air_fuel_ratio", "1"),
                ("density", "kg/m3"),
                ("lower_heating_value", "MJ/kg"),
                ("vapour_pressure_at_310_K", "kPa"),
            )
            if np.isfinite(row.get(f"{name}_low", np.nan))
        }
        pressures = (row["vapour_pressure_low"], row["vapour_pressure_high"])
        if np.isfinite(pressures[0]):
            ends["vapour_pressure_at_310_K"] = (to_si(pressures[0], "kPa"), to_si(pressures[1], "kPa"))
        entry = PumpFuelRow(
            row["name"],
            row["composition"],
            tuple((name, low, high) for name, (low, high) in ends.items()),
            _kelvin(row["flash_point"]),
            _kelvin(row["autoignition"]),
            row["source"],
            row["how"],
            row["note"],
        )
        for key in (row["name"], *row["other_names"].split(";")):
            if key.strip():
                by_name[fold(key)] = entry
    return by_name


def _kelvin(celsius: float) -> float | None:
    return to_si(celsius, "degC") if np.isfinite(celsius) else None


def pump_fuel(row: PumpFuelRow, mixed: Fuel) -> Fuel:
    """Return the mixed surrogate with the name, the ranges and the cautions of what is sold."""
    origin = f"{row.source} ({row.how})"
    stated = {"flash_point": row.flash_point, "autoignition": row.autoignition}
    stated = {name: value for name, value in stated.items() if value is not None}
    kept = () if row.ranges else mixed.range_pairs
    ranges = {name: (low, high) for name, low, high in kept}
    ranges |= {name: (low, high) for name, low, high in row.ranges}
    origins = dict(mixed.source_pairs) | {name: f"as sold; {origin}" for name in stated}
    origins |= {
        name: f"composition {row.composition} from {origin}; {text}"
        for name, text in origins.items()
        if name not in stated
    }
    return replace(
        mixed,
        flash_point=stated.get("flash_point", mixed.flash_point),
        autoignition=stated.get("autoignition", mixed.autoignition),
        range_pairs=tuple((name, low, high) for name, (low, high) in ranges.items()),
        source_pairs=tuple(origins.items()),
        reason_pairs=tuple(pair for pair in mixed.reason_pairs if pair[0] not in stated),
        note=row.note,
    )
