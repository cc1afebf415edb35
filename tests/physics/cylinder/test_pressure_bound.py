"""The bound of the peak pressure against chemical equilibrium at constant energy and volume, and what peaks may be within it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from screening.physics.cylinder.combustion import FuelChemistry, burned_gas, elements_in_mixture
from screening.physics.cylinder.cyclic_peaks import highest_peak
from screening.physics.cylinder.gas_tables import gas_tables
from screening.physics.cylinder.pressure_bound import pressure_bound

ISOBUTYL_ACETATE = FuelChemistry(6, 12, 2, 0, -495e3)  # enthalpy of formation as vapour, about; from memory
ISOOCTANE = FuelChemistry(8, 18, 0, 0, -224.0e3)  # Heywood 1988, table D.4 (from memory)


@pytest.mark.parametrize(("fuel", "phi"), [(ISOBUTYL_ACETATE, 1.15), (ISOOCTANE, 1.0), (ISOOCTANE, 0.8)])
def test_burned_at_once_is_cantera_equilibrium_at_constant_energy_and_volume(fuel: FuelChemistry, phi: float) -> None:
    """Cantera as reference library: the same elements, energy and density, equilibrated by it."""
    tables = gas_tables(fuel)
    bound = pressure_bound(tables, phi, 0.0, 330.0, 0.82e5, 8.0)
    share = float(tables.fuel_mass_fraction(phi))
    constant = (1 - share) * tables.air_gas_constant + share * tables.fuel_gas_constant
    t2, p2 = float(bound.compressed_temperature[0]), float(bound.compressed_pressure[0])
    energy = np.interp(t2, tables.temperature, (1 - share) * tables.air_energy + share * tables.fuel_energy)
    gas = burned_gas()
    gas.TPX = 2500.0, 50e5, elements_in_mixture(fuel, phi)
    gas.equilibrate("TP")
    gas.UV = energy, constant * t2 / p2
    gas.equilibrate("UV")
    assert float(bound.burned_pressure[0]) == pytest.approx(gas.P, rel=0.003)
    assert float(bound.burned_temperature[0]) == pytest.approx(gas.T, rel=0.003)


def test_the_bound_of_the_worked_case() -> None:
    """Isobutyl acetate, phi 1.15, 330 K, 0.82 bar, residual 0.07, ratio 8: worked elsewhere as 626 K, 12.5 bar; 2,726 K,
    61.1 bar with another enthalpy of formation and heat capacity of the vapour, hence 1.5 %."""
    bound = pressure_bound(gas_tables(ISOBUTYL_ACETATE), 1.15, 0.07, 330.0, 0.82e5, 8.0)
    assert float(bound.compressed_temperature[0]) == pytest.approx(626, rel=0.01)
    assert float(bound.compressed_pressure[0]) == pytest.approx(12.5e5, rel=0.005)
    assert float(bound.burned_temperature[0]) == pytest.approx(2726, rel=0.005)
    assert float(bound.burned_pressure[0]) == pytest.approx(61.1e5, rel=0.015)


def test_compression_is_isentropic() -> None:
    """Of air alone (a trace of fuel): T2/T1 by the mean exponent 1.4 to 1.36 of warm air, Heywood 1988, table D.1 (from memory)."""
    tables = gas_tables(ISOOCTANE)
    bound = pressure_bound(tables, 0.5, 0.0, 300.0, 1e5, 8.0)
    exponent = np.log(float(bound.compressed_temperature[0]) / 300.0) / np.log(8.0)
    assert 0.33 < exponent < 0.40
    assert float(bound.compressed_pressure[0]) == pytest.approx(1e5 * 8 * 8**exponent)


@settings(deadline=None)
@given(
    low=st.floats(8e5, 15e5), room=st.floats(5e5, 60e5), place=st.floats(0.01, 0.99),
    variation=st.floats(0.01, 0.3), cycles=st.floats(5, 5000),
)  # fmt: skip
def test_no_peak_passes_the_bound_and_more_cycles_never_lower_it(
    low: float, room: float, place: float, variation: float, cycles: float
) -> None:
    mean = low + place * room
    peak = float(highest_peak(mean, low, low + room, variation, cycles))
    assert low <= peak <= low + room
    assert float(highest_peak(mean, low, low + room, variation, 2 * cycles)) >= peak - 1.0


def test_of_a_small_scatter_it_is_the_normal_one() -> None:
    """1 cycle in 25 lies above the mean by 1.751 standard deviations (normal table); mean halfway: the beta is symmetric."""
    peak = float(highest_peak(30e5, 10e5, 50e5, 0.02, 25))
    assert (peak - 30e5) / (0.02 * 30e5) == pytest.approx(1.751, abs=0.01)
