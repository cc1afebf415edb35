"""The highest pressure that a charge can give: compressed without loss and burned at once at top dead centre."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import RegularGridInterpolator

from screening.arrays import FloatArray
from screening.physics.cylinder.gas_tables import GasTables

_CLOSE_ENOUGH = 0.01
"""Change of the burned temperature at which the search ends [K]: under 0.001 % of the pressure."""


@dataclass(frozen=True)
class PressureBound:
    """States of one charge, (n_draw,): compressed (the motored peak without losses), and burned at that volume.

    `compressed_temperature`, `burned_temperature` [K]; `compressed_pressure`, `burned_pressure` [Pa].
    """

    compressed_temperature: FloatArray
    compressed_pressure: FloatArray
    burned_temperature: FloatArray
    burned_pressure: FloatArray


def pressure_bound(
    tables: GasTables,
    equivalence_ratio: ArrayLike,
    residual_share: ArrayLike,
    temperature: ArrayLike,
    pressure: ArrayLike,
    compression_ratio: ArrayLike,
) -> PressureBound:
    """Return the pressure of a charge compressed without loss and burned to equilibrium at constant volume, without loss.

    No cycle of the same charge can pass it: burning takes time, and the walls take heat. Holds within the gas tables
    (equivalence ratio 0.5 to 1.8); outside them NaN.

        s(T2) - s(T1) = R ln r,   u_burned(T3, p3) = u(T2),   p3 = rho_2 R_burned T3

    Parameters
    ----------
    tables : GasTables of the fuel
    equivalence_ratio : [1] of the fresh charge, (n_draw,)
    residual_share : [1] mass of burned gas left from the cycle before, over the whole charge, (n_draw,)
    temperature, pressure : [K], [Pa] where the intake closes, (n_draw,)
    compression_ratio : [1] (n_draw,)

    Returns
    -------
    PressureBound

    References
    ----------
    Heywood 1988, section 5.2: the constant-volume cycle with fuel-air properties (from memory). Checked against Cantera's
    equilibrium at constant energy and volume in the tests.
    """
    phi, residual, t1, p1, ratio = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(v, dtype=float))
            for v in (equivalence_ratio, residual_share, temperature, pressure, compression_ratio)
        )
    )
    nodes = tables.temperature
    fuel = tables.fuel_mass_fraction(phi)
    burned_cold = RegularGridInterpolator(
        (tables.equivalence_ratio,), tables.burned_energy[:, 0], bounds_error=False, fill_value=np.nan
    )(phi)  # frozen gas at the temperatures of compression: the pressure does not matter
    constant_cold = RegularGridInterpolator(
        (tables.equivalence_ratio,), tables.burned_gas_constant[:, 0, 0], bounds_error=False, fill_value=np.nan
    )(phi)
    fresh = (1 - fuel)[:, None] * tables.air_energy + fuel[:, None] * tables.fuel_energy
    energy = (1 - residual)[:, None] * fresh + residual[:, None] * burned_cold
    constant = (1 - residual) * ((1 - fuel) * tables.air_gas_constant + fuel * tables.fuel_gas_constant)
    constant = constant + residual * constant_cold
    middle = (nodes[1:] + nodes[:-1]) / 2
    steps = np.diff(energy, axis=1) / middle
    entropy = np.concatenate([np.zeros((phi.size, 1)), np.cumsum(steps, axis=1)], axis=1)
    t2 = _row_interp(_row_interp(t1, nodes, entropy) + constant * np.log(ratio), entropy, nodes)
    p2 = p1 * ratio * t2 / t1
    density = p2 / (constant * t2)
    t3, p3 = _burned_at_once(tables, phi, _row_interp(t2, nodes, energy), density)
    return PressureBound(t2, p2, t3, p3)


def _burned_at_once(
    tables: GasTables, phi: FloatArray, energy: FloatArray, density: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Temperature and pressure of burned gas of a given energy [J/kg] and density [kg/m3]."""
    grid = (tables.equivalence_ratio, tables.log_pressure, tables.temperature)
    u = RegularGridInterpolator(grid, tables.burned_energy, bounds_error=False, fill_value=np.nan)
    r = RegularGridInterpolator(grid, tables.burned_gas_constant, bounds_error=False, fill_value=np.nan)
    low, high = np.full_like(phi, tables.temperature[0]), np.full_like(phi, tables.temperature[-1])
    pressure = density * 300.0 * 2500.0
    t = low
    while np.any(high - low > _CLOSE_ENOUGH):
        t = (low + high) / 2
        for _ in range(3):  # the gas constant hardly moves with pressure
            level = np.clip(np.log(pressure), tables.log_pressure[0], tables.log_pressure[-1])
            pressure = density * r((phi, level, t)) * t
        level = np.clip(np.log(pressure), tables.log_pressure[0], tables.log_pressure[-1])
        above = u((phi, level, t)) > energy
        low, high = np.where(above, low, t), np.where(above, t, high)
    return t, pressure


def _row_interp(x: FloatArray, xp: FloatArray, fp: FloatArray) -> FloatArray:
    """Linear interpolation at `x` (n_draw,), each draw in a row of its own; either table may be one for all."""
    rows_x, rows_f = (np.broadcast_to(table, (x.size, table.shape[-1])) for table in (xp, fp))
    k = np.clip((rows_x < x[:, None]).sum(axis=1) - 1, 0, rows_x.shape[1] - 2)
    at = np.arange(x.size)
    x0, x1, f0, f1 = rows_x[at, k], rows_x[at, k + 1], rows_f[at, k], rows_f[at, k + 1]
    return f0 + (f1 - f0) * (x - x0) / (x1 - x0)
