"""Partly burned gas of one draw from its tables, compiled: the equation of state of the cycle's kernel."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

NODE = np.dtype([("burned_energy", np.float64), ("burned_constant", np.float64), ("fresh_energy", np.float64)])
"""Energy [J/kg] and gas constant [J/(kg K)] of burned gas, energy of fresh mixture, at one pressure and temperature."""


class MixtureTable(NamedTuple):
    """Tables of one draw: `sheet` (n_pressure, n_temperature) of `NODE`; `fresh_constant` is that of the fresh mixture."""

    temperature: float
    temperature_step: float
    log_pressure: float
    log_pressure_step: float
    fresh_constant: float
    sheet: NDArray[np.void]


class Sheets(NamedTuple):
    """The gas tables of one fuel as the kernel takes them; see `GasTables`."""

    equivalence_ratio: NDArray[np.float64]
    temperature: NDArray[np.float64]
    log_pressure: NDArray[np.float64]
    burned_energy: NDArray[np.float64]
    burned_gas_constant: NDArray[np.float64]
    air_energy: NDArray[np.float64]
    fuel_energy: NDArray[np.float64]
    air_gas_constant: float
    fuel_gas_constant: float


class Mixture(NamedTuple):
    """Energy [J/kg] and gas constant [J/(kg K)] of partly burned gas, with their slopes a kelvin."""

    energy: float
    heat_capacity: float
    gas_constant: float
    gas_constant_slope: float


@njit(cache=True, error_model="numpy")
def mixture_table(ratio: float, fuel: float, sheets: Sheets) -> MixtureTable:
    """Tables at one equivalence ratio and fuel mass fraction."""
    ratios = sheets.equivalence_ratio
    k = min(max(int(np.searchsorted(ratios, ratio)) - 1, 0), ratios.size - 2)
    f = (ratio - ratios[k]) / (ratios[k + 1] - ratios[k])
    energy, constant = sheets.burned_energy, sheets.burned_gas_constant
    sheet: Any = np.empty((sheets.log_pressure.size, sheets.temperature.size), NODE)
    for j in range(sheets.log_pressure.size):
        for i in range(sheets.temperature.size):
            sheet[j, i].burned_energy = (1.0 - f) * energy[k, j, i] + f * energy[k + 1, j, i]
            sheet[j, i].burned_constant = (1.0 - f) * constant[k, j, i] + f * constant[k + 1, j, i]
            sheet[j, i].fresh_energy = (1.0 - fuel) * sheets.air_energy[i] + fuel * sheets.fuel_energy[i]
    return MixtureTable(
        sheets.temperature[0],
        sheets.temperature[1] - sheets.temperature[0],
        sheets.log_pressure[0],
        sheets.log_pressure[1] - sheets.log_pressure[0],
        (1.0 - fuel) * sheets.air_gas_constant + fuel * sheets.fuel_gas_constant,
        sheet,
    )


@njit(cache=True, error_model="numpy")
def level(table: MixtureTable, pressure: float) -> float:
    """Place of a pressure among the rows of the burned tables, held within them [1]."""
    place = (np.log(pressure) - table.log_pressure) / table.log_pressure_step
    return float(min(max(place, 0.0), table.sheet.shape[0] - 1.0))


@njit(cache=True, error_model="numpy")
def mixture(table: MixtureTable, temperature: float, row: float, burned: float) -> Mixture:
    """Gas of which the share `burned` [1] by mass has burned, at a temperature [K] and a `level` of pressure."""
    place = (temperature - table.temperature) / table.temperature_step
    i = min(max(int(place), 0), table.sheet.shape[1] - 2)
    j = min(int(row), table.sheet.shape[0] - 2)
    ft, fp, fresh = place - i, row - j, 1.0 - burned
    cold, hot = table.sheet[j, i], table.sheet[j, i + 1]
    denser_cold, denser_hot = table.sheet[j + 1, i], table.sheet[j + 1, i + 1]
    low = cold.burned_energy + fp * (denser_cold.burned_energy - cold.burned_energy)
    high = hot.burned_energy + fp * (denser_hot.burned_energy - hot.burned_energy)
    r_low = cold.burned_constant + fp * (denser_cold.burned_constant - cold.burned_constant)
    r_high = hot.burned_constant + fp * (denser_hot.burned_constant - hot.burned_constant)
    slope = burned * (high - low) + fresh * (hot.fresh_energy - cold.fresh_energy)
    energy = burned * low + fresh * cold.fresh_energy + ft * slope
    r_slope = burned * (r_high - r_low)
    constant = burned * r_low + fresh * table.fresh_constant + ft * r_slope
    return Mixture(energy, slope / table.temperature_step, constant, r_slope / table.temperature_step)
