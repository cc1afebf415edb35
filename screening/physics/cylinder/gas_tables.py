"""Burned and unburned gas of one fuel as small tables, so that a cycle need not call an equilibrium solver.

Energies are absolute: they hold the energy of formation, so burning needs no separate heat and incomplete
burning (rich, lean, dissociated) comes out of the tables by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import cantera as ct
import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

from screening.physics.cylinder.combustion import (
    STANDARD_TEMPERATURE,
    FuelChemistry,
    air_molar_mass,
    burned_gas,
    elements_in_mixture,
    vapour_enthalpy,
)
from screening.stoichiometry import DRY_AIR

FREEZING_TEMPERATURE = 1700.0
"""Below this the burned gas keeps its composition [K]: reactions are too slow in the time of an expansion
stroke (Heywood 1988, section 4.9, about 1,700 K; from memory)."""

_TEMPERATURE = np.arange(250.0, 3651.0, 50.0)  # [K], even steps: the kernel finds its cell by division
_LOG_PRESSURE = np.linspace(np.log(0.3e5), np.log(120e5), 5)  # [ln Pa], even steps
_EQUIVALENCE_RATIO = np.array([0.5, 0.7, 0.85, 0.95, 1.0, 1.05, 1.15, 1.3, 1.5, 1.8])


@dataclass(frozen=True, eq=False)
class GasTables:
    """Gas properties of one fuel with air, per kilogram of mixture.

    `temperature` (n_temperature,) [K] and `log_pressure` (n_pressure,) [ln Pa] are evenly spaced,
    `equivalence_ratio` (n_ratio,) rises. `burned_energy` [J/kg] and `burned_gas_constant` [J/(kg K)] are
    (n_ratio, n_pressure, n_temperature); `air_energy`, `fuel_energy` (n_temperature,) [J/kg]; gas constants
    of air and fuel vapour [J/(kg K)]; `air_fuel_ratio` [kg/kg]; `lower_heating_value` of the vapour [J/kg];
    `combustion_efficiency` (n_ratio,), the share of it that the frozen burned gas has given up [1].
    """

    temperature: NDArray[np.float64]
    log_pressure: NDArray[np.float64]
    equivalence_ratio: NDArray[np.float64]
    burned_energy: NDArray[np.float64]
    burned_gas_constant: NDArray[np.float64]
    air_energy: NDArray[np.float64]
    fuel_energy: NDArray[np.float64]
    air_gas_constant: float
    fuel_gas_constant: float
    air_fuel_ratio: float
    lower_heating_value: float
    combustion_efficiency: NDArray[np.float64]

    def fuel_mass_fraction(self, equivalence_ratio: ArrayLike) -> NDArray[np.float64]:
        """Return kilograms of fuel per kilogram of fresh mixture [1]."""
        ratio = np.asarray(equivalence_ratio, dtype=float)
        return ratio / (ratio + self.air_fuel_ratio)

    def fuel_mole_fraction(self, equivalence_ratio: ArrayLike) -> NDArray[np.float64]:
        """Return moles of fuel vapour per mole of fresh mixture [1]."""
        fuel = self.fuel_mass_fraction(equivalence_ratio)
        moles_fuel, moles_air = fuel * self.fuel_gas_constant, (1.0 - fuel) * self.air_gas_constant
        return moles_fuel / (moles_fuel + moles_air)

    def released_share(self, equivalence_ratio: ArrayLike) -> NDArray[np.float64]:
        """Return the combustion efficiency at any equivalence ratio of the table [1]; NaN outside it."""
        ratio = np.asarray(equivalence_ratio, dtype=float)
        return np.interp(ratio, self.equivalence_ratio, self.combustion_efficiency, left=np.nan, right=np.nan)


@lru_cache(maxsize=32)
def gas_tables(chemistry: FuelChemistry) -> GasTables:
    """Return the tables of a fuel, built once (about 0.3 s) and kept.

    Holds for equivalence ratios 0.5-1.8, 250-3,650 K, 0.3-120 bar. Burned gas is at equilibrium above
    `FREEZING_TEMPERATURE` and keeps its composition below; soot and unburned hydrocarbons are left out.
    The unburned charge is ideal air and fuel vapour (heat capacity estimated, see `vapour_enthalpy`).

    Parameters
    ----------
    chemistry : FuelChemistry

    Returns
    -------
    GasTables

    Notes
    -----
    Linear between nodes; 50 K steps leave errors below 0.1 % of the energy of combustion (test).
    """
    gas = burned_gas()
    enthalpy = _species_enthalpy(gas)
    energy = np.empty((_EQUIVALENCE_RATIO.size, _LOG_PRESSURE.size, _TEMPERATURE.size))
    gas_constant = np.empty_like(energy)
    left_over = np.empty(_EQUIVALENCE_RATIO.size)
    for i, ratio in enumerate(_EQUIVALENCE_RATIO):
        for j, log_pressure in enumerate(_LOG_PRESSURE):
            moles = _burned_moles(gas, chemistry, float(ratio), float(np.exp(log_pressure)))
            energy[i, j] = np.einsum("ts,ts->t", moles, enthalpy - constants.R * _TEMPERATURE[:, None])
            gas_constant[i, j] = constants.R * moles.sum(axis=1)
        left_over[i] = moles[0] @ _standard_enthalpies(gas)
    air = np.array([DRY_AIR.get(name, 0.0) for name in gas.species_names])
    air_energy = (enthalpy @ air - constants.R * _TEMPERATURE) / air_molar_mass()
    fuel_energy = (vapour_enthalpy(chemistry, _TEMPERATURE) - constants.R * _TEMPERATURE) / chemistry.molar_mass
    fuel = _EQUIVALENCE_RATIO / (_EQUIVALENCE_RATIO + chemistry.air_fuel_ratio)
    reactants = (
        fuel * chemistry.enthalpy_of_formation / chemistry.molar_mass
        + (1.0 - fuel) * (air @ _standard_enthalpies(gas)) / air_molar_mass()
    )
    return GasTables(
        temperature=_TEMPERATURE.copy(),
        log_pressure=_LOG_PRESSURE.copy(),
        equivalence_ratio=_EQUIVALENCE_RATIO.copy(),
        burned_energy=energy,
        burned_gas_constant=gas_constant,
        air_energy=air_energy,
        fuel_energy=fuel_energy,
        air_gas_constant=constants.R / air_molar_mass(),
        fuel_gas_constant=constants.R / chemistry.molar_mass,
        air_fuel_ratio=chemistry.air_fuel_ratio,
        lower_heating_value=chemistry.lower_heating_value,
        combustion_efficiency=(reactants - left_over) / (fuel * chemistry.lower_heating_value),
    )


def _species_enthalpy(gas: ct.Solution) -> NDArray[np.float64]:
    """Molar enthalpies (n_temperature, n_species) [J/mol]."""
    return np.array([_enthalpies_at(gas, t) for t in _TEMPERATURE])


def _standard_enthalpies(gas: ct.Solution) -> NDArray[np.float64]:
    return _enthalpies_at(gas, STANDARD_TEMPERATURE)


def _enthalpies_at(gas: ct.Solution, temperature: float) -> NDArray[np.float64]:
    gas.TP = temperature, 1e5
    return np.asarray(gas.partial_molar_enthalpies) / 1e3


def _burned_moles(gas: ct.Solution, chemistry: FuelChemistry, ratio: float, pressure: float) -> NDArray[np.float64]:
    """Moles of each gas per kilogram (n_temperature, n_species), frozen below the freezing temperature."""
    first = int(np.searchsorted(_TEMPERATURE, FREEZING_TEMPERATURE))
    moles = np.empty((_TEMPERATURE.size, gas.n_species))
    gas.TPX = _TEMPERATURE[first], pressure, elements_in_mixture(chemistry, ratio)
    for k in range(first, _TEMPERATURE.size):
        gas.TP = _TEMPERATURE[k], pressure
        gas.equilibrate("TP")
        moles[k] = gas.X / gas.mean_molecular_weight * 1e3
    moles[:first] = moles[first]
    return moles
