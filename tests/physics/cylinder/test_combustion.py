"""Flame temperatures, combustion efficiency and gas tables against published values and equilibrium."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy import constants

from screening.errors import OutOfRange
from screening.physics.cylinder.combustion import (
    FuelChemistry,
    adiabatic_flame_temperature,
    burned_gas,
    elements_in_mixture,
    vapour_enthalpy,
)
from screening.physics.cylinder.gas_tables import FREEZING_TEMPERATURE, gas_tables

TURNS = pd.read_csv(Path(__file__).parents[2] / "published" / "flame_turns_b1.csv")
ISOOCTANE = FuelChemistry(8, 18, enthalpy_of_formation=-224.1e3)
ETHANOL = FuelChemistry(2, 6, 1, enthalpy_of_formation=-234.8e3)
NITROMETHANE = FuelChemistry(1, 3, 2, 1, enthalpy_of_formation=-80.8e3)


@pytest.mark.parametrize("row", list(TURNS.itertuples()), ids=lambda row: row.fuel)
def test_flame_temperature_of_turns_table_b1(row):
    fuel = FuelChemistry(row.carbon, row.hydrogen, enthalpy_of_formation=row.enthalpy_of_formation_kJ_mol * 1e3)
    assert adiabatic_flame_temperature(fuel) == pytest.approx(row.flame_temperature_K, abs=10.0)


def test_flame_is_hottest_slightly_rich():
    """Turns, section 2.6 (from memory): the peak lies between phi 1.0 and 1.1 for hydrocarbons."""
    phi = np.linspace(0.8, 1.3, 26)
    flame = adiabatic_flame_temperature(ISOOCTANE, phi)
    assert 1.0 < phi[flame.argmax()] <= 1.1
    assert np.all(np.diff(flame[phi <= 1.0]) > 0.0)
    assert np.all(np.diff(flame[phi >= 1.12]) < 0.0)


def test_constant_volume_is_hotter_and_pressure_holds_back_dissociation():
    at_one = adiabatic_flame_temperature(ISOOCTANE)
    assert 250.0 < adiabatic_flame_temperature(ISOOCTANE, constant="volume") - at_one < 500.0
    assert adiabatic_flame_temperature(ISOOCTANE, pressure=20e5) > at_one + 20.0


def test_hotter_mixture_burns_hotter_but_less_than_kelvin_for_kelvin():
    """Above 2,000 K dissociation takes about half of an added kelvin."""
    rise = adiabatic_flame_temperature(ISOOCTANE, temperature=398.15) - adiabatic_flame_temperature(ISOOCTANE)
    assert 35.0 < rise < 90.0


def test_combustion_efficiency_rich_and_lean():
    """Isooctane at phi 1.2: about 78 % (Heywood 1988, figure 3-9, from memory: 0.75-0.82)."""
    tables = gas_tables(ISOOCTANE)
    assert float(tables.released_share(1.2)) == pytest.approx(0.78, abs=0.02)
    assert float(tables.released_share(0.85)) > 0.99
    assert np.isnan(tables.released_share(2.5))


def test_heating_value_and_air_need_of_isooctane():
    """Heywood 1988, table D.4: 44.3 MJ/kg liquid with 0.308 MJ/kg latent heat, 15.13 kg/kg."""
    assert ISOOCTANE.lower_heating_value == pytest.approx(44.3e6 + 0.308e6, rel=0.003)
    assert ISOOCTANE.air_fuel_ratio == pytest.approx(15.13, rel=0.002)


@pytest.mark.parametrize("fuel", [ISOOCTANE, ETHANOL, NITROMETHANE], ids=["isooctane", "ethanol", "nitromethane"])
def test_tables_match_direct_equilibrium_between_their_nodes(fuel):
    tables = gas_tables(fuel)
    gas = burned_gas()
    rng = np.random.default_rng(1)
    for _ in range(40):
        phi, kelvin, pascal = (
            rng.uniform(0.7, 1.3),
            rng.uniform(1800, 2900),
            np.exp(rng.uniform(np.log(1e5), np.log(6e6))),
        )
        gas.TPX = kelvin, pascal, elements_in_mixture(fuel, phi)
        gas.equilibrate("TP")
        heat = float(tables.fuel_mass_fraction(phi)) * tables.lower_heating_value
        energy = _table(tables, tables.burned_energy, phi, pascal, kelvin)
        assert energy == pytest.approx(gas.int_energy_mass, abs=0.012 * heat)
        constant = _table(tables, tables.burned_gas_constant, phi, pascal, kelvin)
        assert constant == pytest.approx(constants.R / gas.mean_molecular_weight * 1e3, rel=4e-3)


def _table(tables, values, phi, pascal, kelvin):
    from scipy.interpolate import RegularGridInterpolator

    axes = (tables.equivalence_ratio, tables.log_pressure, tables.temperature)
    return float(RegularGridInterpolator(axes, values)((phi, np.log(pascal), kelvin)))


def test_burned_gas_keeps_its_composition_when_cool():
    tables = gas_tables(ISOOCTANE)
    cool = tables.temperature <= FREEZING_TEMPERATURE
    assert np.ptp(tables.burned_gas_constant[:, :, cool], axis=2).max() == pytest.approx(0.0, abs=1e-9)
    assert np.ptp(tables.burned_gas_constant, axis=2).min() > 1.0


# Ideal-gas heat capacities at 500 and 700 K [J/(mol K)]: chemicals/thermo open tables, read through the
# package.
@pytest.mark.parametrize(
    ("atoms", "at_500", "at_700"),
    [
        ((8, 18, 0, 0), 292.6, 375.8),
        ((7, 8, 0, 0), 170.6, 217.4),
        ((2, 6, 1, 0), 95.8, 119.0),
        ((1, 4, 1, 0), 59.6, 74.1),
        ((5, 8, 1, 0), 157.1, 201.6),
        ((1, 4, 0, 0), 46.5, 58.3),
    ],
)
def test_estimated_heat_capacity_of_the_vapour(atoms, at_500, at_700):
    fuel = FuelChemistry(*atoms)
    for kelvin, published in ((500.0, at_500), (700.0, at_700)):
        slope = float(vapour_enthalpy(fuel, kelvin + 0.5) - vapour_enthalpy(fuel, kelvin - 0.5))
        assert slope == pytest.approx(published, rel=0.12)


def test_flame_temperature_broadcasts_and_passes_nan():
    flame = adiabatic_flame_temperature(ETHANOL, np.array([1.0, np.nan]), temperature=np.array([[300.0], [350.0]]))
    assert flame.shape == (2, 2)
    assert np.isnan(flame[:, 1]).all()
    assert np.isfinite(flame[:, 0]).all()


def test_refusals():
    with pytest.raises(OutOfRange, match="constant is 'entropy'"):
        adiabatic_flame_temperature(ISOOCTANE, constant="entropy")
    with pytest.raises(OutOfRange, match="equivalence ratio"):
        adiabatic_flame_temperature(ISOOCTANE, 0.0)
    with pytest.raises(OutOfRange, match="needs no air"):
        FuelChemistry(1, 0, 2)
    with pytest.raises(OutOfRange, match="not negative"):
        FuelChemistry(-1, 4)
