"""Partly burned gas of one draw from its tables, compiled: the equation of state of the cycle's kernel."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray


class Gas(NamedTuple):
    """Tables of one draw; `sheet` (n_pressure, n_temperature, 3): burned energy and R, fresh energy."""

    temperature: float
    temperature_step: float
    log_pressure: float
    log_pressure_step: float
    fresh_constant: float
    sheet: NDArray[np.float64]


class Sheets(NamedTuple):
    """The gas tables as the kernel takes them; `constants` are R of air and of fuel vapour."""

    equivalence_ratio: NDArray[np.float64]
    temperature: NDArray[np.float64]
    log_pressure: NDArray[np.float64]
    burned_energy: NDArray[np.float64]
    burned_gas_constant: NDArray[np.float64]
    air_energy: NDArray[np.float64]
    fuel_energy: NDArray[np.float64]
    constants: NDArray[np.float64]


@njit(cache=True, error_model="numpy")
def draw_gas(ratio: float, fuel: float, sheets: Sheets) -> Gas:
    """Tables at one equivalence ratio and fuel mass fraction."""
    ratios = sheets.equivalence_ratio
    k = min(max(int(np.searchsorted(ratios, ratio)) - 1, 0), ratios.size - 2)
    f = (ratio - ratios[k]) / (ratios[k + 1] - ratios[k])
    sheet = np.empty((sheets.log_pressure.size, sheets.temperature.size, 3))
    sheet[:, :, 0] = (1.0 - f) * sheets.burned_energy[k] + f * sheets.burned_energy[k + 1]
    sheet[:, :, 1] = (1.0 - f) * sheets.burned_gas_constant[k] + f * sheets.burned_gas_constant[k + 1]
    sheet[:, :, 2] = (1.0 - fuel) * sheets.air_energy + fuel * sheets.fuel_energy
    return Gas(
        sheets.temperature[0],
        sheets.temperature[1] - sheets.temperature[0],
        sheets.log_pressure[0],
        sheets.log_pressure[1] - sheets.log_pressure[0],
        (1.0 - fuel) * sheets.constants[0] + fuel * sheets.constants[1],
        sheet,
    )


@njit(cache=True, error_model="numpy")
def level(gas: Gas, pressure: float) -> float:
    """Place of a pressure among the rows of the burned tables, held within them [1]."""
    place = (np.log(pressure) - gas.log_pressure) / gas.log_pressure_step
    return min(max(place, 0.0), gas.sheet.shape[0] - 1.0)


@njit(cache=True, error_model="numpy")
def mixture(gas: Gas, temperature: float, row: float, burned: float) -> tuple[float, float, float, float]:
    """Energy [J/kg], its slope [J/(kg K)], gas constant and its slope of partly burned gas."""
    place = (temperature - gas.temperature) / gas.temperature_step
    i = min(max(int(place), 0), gas.sheet.shape[1] - 2)
    j = min(int(row), gas.sheet.shape[0] - 2)
    ft, fp, fresh = place - i, row - j, 1.0 - burned
    low = gas.sheet[j, i, 0] + fp * (gas.sheet[j + 1, i, 0] - gas.sheet[j, i, 0])
    high = gas.sheet[j, i + 1, 0] + fp * (gas.sheet[j + 1, i + 1, 0] - gas.sheet[j, i + 1, 0])
    r_low = gas.sheet[j, i, 1] + fp * (gas.sheet[j + 1, i, 1] - gas.sheet[j, i, 1])
    r_high = gas.sheet[j, i + 1, 1] + fp * (gas.sheet[j + 1, i + 1, 1] - gas.sheet[j, i + 1, 1])
    fresh_low = gas.sheet[j, i, 2]
    slope = burned * (high - low) + fresh * (gas.sheet[j, i + 1, 2] - fresh_low)
    energy = burned * low + fresh * fresh_low + ft * slope
    r_slope = burned * (r_high - r_low)
    constant = burned * r_low + fresh * gas.fresh_constant + ft * r_slope
    return energy, slope / gas.temperature_step, constant, r_slope / gas.temperature_step
