"""The cycle against exact limits, conservation, convergence, published shares and Cantera's reactor."""

from __future__ import annotations

from dataclasses import replace

import cantera as ct
import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.cylinder.combustion import FuelChemistry, burned_gas, elements_in_mixture
from screening.physics.cylinder.cycle import CycleInputs, solve_cycle
from screening.physics.cylinder.gas_tables import GasTables, gas_tables
from screening.physics.cylinder.volume import cylinder_volume, swept_volume
from screening.stoichiometry import DRY_AIR

DEGREE = np.pi / 180.0
PETROL = FuelChemistry(7.2, 13.3, enthalpy_of_formation=-130e3)
# An invented 98 cc pump engine at light load, petrol 6 mL/min.
ENGINE = CycleInputs(
    bore=0.056,
    stroke=0.040,
    rod_length=0.070,
    compression_ratio=8.0,
    speed=50.0,
    chemistry=PETROL,
    equivalence_ratio=1.1,
    crown_temperature=500.0,
    head_temperature=430.0,
    liner_temperature=420.0,
    intake_heating=25.0,
    exhaust_pressure_ratio=1.05,
    combustion_start=-18.0 * DEGREE,
    combustion_duration=60.0 * DEGREE,
    wiebe_efficiency=5.0,
    wiebe_shape=2.0,
    exhaust_opening=130.0 * DEGREE,
    blowdown_angle=55.0 * DEGREE,
    overlap_angle=20.0 * DEGREE,
    intake_closing=580.0 * DEGREE,
    fuel_mass_per_cycle=2.98e-6,
    latent_heat=350e3,
    correlation=np.array([0, 1, 2]),
)
VALVES_AT_DEAD_CENTRE = {
    "exhaust_opening": np.pi,
    "intake_closing": 3.0 * np.pi,
    "blowdown_angle": 20.0 * DEGREE,
}


def one_gas(kelvin: np.ndarray, joule: np.ndarray, gas_constant: float, heat: float) -> GasTables:
    """One gas of fixed composition [K], [J/kg], [J/(kg K)] that gives off `heat` [J/kg] when it burns."""
    shape = (2, 2, kelvin.size)
    return GasTables(
        temperature=kelvin,
        log_pressure=np.log([1e4, 1e8]),
        equivalence_ratio=np.array([0.5, 1.8]),
        burned_energy=np.broadcast_to(joule, shape).copy(),
        burned_gas_constant=np.full(shape, gas_constant),
        air_energy=joule + heat,
        fuel_energy=joule + heat,
        air_gas_constant=gas_constant,
        fuel_gas_constant=gas_constant,
        air_fuel_ratio=15.0,
        lower_heating_value=heat * 16.0,
        combustion_efficiency=np.ones(2),
    )


def constant_gas(gamma: float, gas_constant: float, heat: float) -> GasTables:
    """An ideal gas of constant heat capacity: limits with an exact solution."""
    kelvin = np.array([200.0, 5200.0])
    return one_gas(kelvin, gas_constant / (gamma - 1.0) * kelvin, gas_constant, heat)


def wiebe(angle: float) -> float:
    """Heywood 1988, eq. 9.27 (from memory), a = 5, m = 2, from -18 over 60 degrees."""
    return float(-np.expm1(-5.0 * max((angle + 18 * DEGREE) / (60 * DEGREE), 0.0) ** 3))


@pytest.fixture(scope="module")
def cycle():
    return solve_cycle(ENGINE)


@pytest.mark.parametrize(("gamma", "ratio"), [(1.4, 8.0), (1.3, 6.0)])
def test_otto_limit(gamma, ratio):
    """Instant adiabatic release at top dead centre: efficiency 1 - r^(1 - gamma) (Heywood 1988, eq. 5.31)."""
    instant = {"combustion_start": -0.1 * DEGREE, "combustion_duration": 0.01 * DEGREE}
    inputs = replace(ENGINE, correlation=0, multiplier=0.0, compression_ratio=ratio, **instant, **VALVES_AT_DEAD_CENTRE)
    found = solve_cycle(inputs, 4, tables=constant_gas(gamma, 287.0, 1.5e6))
    efficiency = found.gross_work / ((found.fuel_mass + found.air_mass) * 1.5e6)
    assert efficiency[0] == pytest.approx(1.0 - ratio ** (1.0 - gamma), rel=5e-4)


def test_first_law_closes(cycle):
    assert np.abs(cycle.energy_residual).max() < 1e-6
    sums = cycle.indicated_work + cycle.wall_heat.sum(axis=0) + cycle.exhaust_energy
    np.testing.assert_allclose(sums, cycle.heat_released, rtol=1e-4)


def test_traces_repeat_the_books(cycle):
    """Work and wall heat integrated from the traces alone agree with the sums of the solver."""
    volume = cylinder_volume(cycle.crank_angle, 0.056, 0.040, 0.070, 8.0)[:, None]
    p = np.vstack([cycle.pressure, cycle.pressure[:1]])
    dv = np.diff(np.vstack([volume, volume[:1]]), axis=0)
    np.testing.assert_allclose((0.5 * (p[1:] + p[:-1]) * dv).sum(axis=0), cycle.indicated_work, rtol=2e-4)
    crown = np.pi / 4 * 0.056**2 * 2.0 / 50.0 * (cycle.film_coefficient * (cycle.temperature - 500.0)).mean(axis=0)
    np.testing.assert_allclose(crown, cycle.wall_heat[0], rtol=1e-3)
    crown = cycle.mean_film_coefficient * (cycle.gas_temperature - 500.0) * np.pi / 4 * 0.056**2 * 2.0 / 50.0
    np.testing.assert_allclose(crown, cycle.wall_heat[0], rtol=1e-3)


def test_refinement_is_second_order():
    """Adiabatic, from a fixed intake pressure, so that no film switches at an event: errors fall fourfold."""
    charge = {"fuel_mass_per_cycle": None, "intake_pressure": 47e3}
    found = [
        solve_cycle(replace(ENGINE, correlation=0, multiplier=0.0, **charge), n, None, 1e-9) for n in (1, 2, 4, 16)
    ]
    for name in ("indicated_work", "residual_fraction", "fuel_mass"):
        coarse, middle, fine, best = (getattr(one, name)[0] for one in found)
        assert abs(coarse - best) < 1e-4 * abs(best)
        assert np.log2(abs((coarse - middle) / (middle - fine))) == pytest.approx(2.0, abs=0.3)


def test_one_degree_is_fine_enough_with_films(cycle):
    fine = solve_cycle(ENGINE, 8)
    for name in ("indicated_work", "gas_temperature", "mean_film_coefficient", "peak_pressure", "wall_share"):
        np.testing.assert_allclose(getattr(cycle, name), getattr(fine, name), rtol=1e-3)


def test_burn_sets_the_charge(cycle):
    np.testing.assert_allclose(cycle.fuel_mass, 2.98e-6, rtol=1e-4)
    air = 2.98e-6 * PETROL.air_fuel_ratio / 1.1
    ambient = 101325.0 * 28.965e-3 / (8.314462618 * 298.15) * swept_volume(0.056, 0.040)
    np.testing.assert_allclose(cycle.volumetric_efficiency, air / ambient, rtol=5e-4)
    again = solve_cycle(replace(ENGINE, fuel_mass_per_cycle=None, intake_pressure=cycle.intake_pressure))
    np.testing.assert_allclose(again.fuel_mass, cycle.fuel_mass, rtol=1e-3)
    again = solve_cycle(replace(ENGINE, fuel_mass_per_cycle=None, volumetric_efficiency=cycle.volumetric_efficiency))
    np.testing.assert_allclose(again.peak_pressure, cycle.peak_pressure, rtol=1e-3)


def test_published_magnitudes(cycle):
    """Light load: wall share 20-40 %; full load: 15-35 %, peak pressure 25-55 bar; mean wall flux 0.05-1
    MW/m2 and peak flux 0.5-8 MW/m2 over small to large engines (Heywood 1988, chapter 12, from memory)."""
    assert np.all((cycle.wall_share > 0.18) & (cycle.wall_share < 0.42))
    full = solve_cycle(replace(ENGINE, fuel_mass_per_cycle=None, volumetric_efficiency=0.8))
    assert np.all((full.wall_share > 0.13) & (full.wall_share < 0.35))
    assert np.all((full.peak_pressure > 25e5) & (full.peak_pressure < 55e5))
    for one in (cycle, full):
        flux = one.film_coefficient * (one.temperature - 450.0)
        assert np.all((flux.mean(axis=0) > 0.05e6) & (flux.mean(axis=0) < 1e6))
        assert np.all((flux.max(axis=0) > 0.5e6) & (flux.max(axis=0) < 8e6))
    assert np.all(full.wall_share < cycle.wall_share)


def test_crown_feedback_of_the_gas():
    """A hot insulating crown: 80-170 K of gas temperature and 65-160 K at the spark for 1,000 K of crown."""
    cold, hot = (solve_cycle(replace(ENGINE, crown_temperature=kelvin)) for kelvin in (450.0, 900.0))
    spark = 720 - 18
    for warm, cool in ((hot.gas_temperature, cold.gas_temperature), (hot.temperature[spark], cold.temperature[spark])):
        slope = (warm - cool) / 450.0
        assert np.all((slope > 0.05) & (slope < 0.18))


def test_against_a_cantera_reactor_with_a_moving_wall():
    """Valves shut, air as the gas, same film and heat release: Cantera integrates the same first law."""
    air = burned_gas()
    air.TPX = 300.0, 1e5, DRY_AIR
    kelvin = np.arange(250.0, 3651.0, 50.0)
    energy = np.array([_energy(air, t) for t in kelvin])
    heat = 1.6e6
    found = solve_cycle(
        replace(ENGINE, correlation=0),
        tables=one_gas(kelvin, energy, ct.gas_constant / air.mean_molecular_weight, heat),
    )
    first = 580
    angle = np.arange(first - 720, 131) * DEGREE
    film = np.append(found.film_coefficient[first:, 0], found.film_coefficient[:131, 0])
    released = found.charge_mass[0] * (1.0 - found.residual_fraction[0]) * heat
    rate = 2.0 * np.pi * 50.0
    area = np.pi / 4 * 0.056**2
    head = area * (1.0 + 4.0 * 0.04 / 7.0 / 0.056)

    air.TP = found.temperature[first, 0], found.pressure[first, 0]
    reactor = ct.IdealGasReactor(air, clone=False)
    reactor.volume = float(cylinder_volume(angle[0], 0.056, 0.040, 0.070, 8.0))
    outside = ct.Reservoir(burned_gas(), clone=False)

    def volume(at: float) -> float:
        return float(cylinder_volume(at, 0.056, 0.040, 0.070, 8.0))

    def heat_out(time: float) -> float:
        at, t = angle[0] + rate * time, reactor.T
        liner = (volume(at) - volume(0.0)) * 4.0 / 0.056
        loss = np.interp(at, angle, film) * (area * (t - 500.0) + head * (t - 430.0) + liner * (t - 420.0))
        burn = wiebe(at + 1e-5) - wiebe(at - 1e-5)
        return float(loss - released * burn / 2e-5 * rate)

    def speed(time: float) -> float:
        at = angle[0] + rate * time
        return (volume(at + 1e-5) - volume(at - 1e-5)) / 2e-5 * rate

    wall = ct.Wall(reactor, outside, A=1.0, velocity=speed, Q=heat_out)
    network = ct.ReactorNet([reactor])
    network.max_time_step = 0.5 * DEGREE / rate
    network.rtol = 1e-7
    reference = []
    for at in angle:
        if at > angle[0]:
            network.advance((at - angle[0]) / rate)
        reference.append((reactor.T, reactor.phase.P))
    assert wall.area == 1.0
    kelvins, pascals = np.array(reference).T
    ours = np.append(found.temperature[first:, 0], found.temperature[:131, 0])
    assert found.peak_pressure[0] == pytest.approx(pascals.max(), rel=0.02)
    assert ours.mean() == pytest.approx(kelvins.mean(), rel=0.01)
    # The two integrate one equation: the real agreement is far closer than asked.
    assert found.peak_pressure[0] == pytest.approx(pascals.max(), rel=0.004)
    np.testing.assert_allclose(ours, kelvins, rtol=0.004)


def _energy(gas: ct.Solution, kelvin: float) -> float:
    gas.TP = kelvin, 1e5
    return float(gas.int_energy_mass)


def test_temperature_agrees_with_direct_equilibrium_through_the_expansion(cycle):
    """The first law alone gives the energy after intake closing; Cantera's equilibrium at that energy."""
    start = 580
    order = np.append(np.arange(start, 720), np.arange(0, 131))
    p, t, h = (trace[order, 0] for trace in (cycle.pressure, cycle.temperature, cycle.film_coefficient))
    volume = cylinder_volume(order * DEGREE, 0.056, 0.040, 0.070, 8.0)
    liner = (volume - volume.min()) * 4.0 / 0.056
    area = np.pi / 4 * 0.056**2
    head = area * (1.0 + 4.0 * 0.04 / 7.0 / 0.056)
    loss = h * (area * (t - 500.0) + head * (t - 430.0) + liner * (t - 420.0)) * DEGREE / (2.0 * np.pi * 50.0)
    steps = -0.5 * (p[1:] + p[:-1]) * np.diff(volume) - 0.5 * (loss[1:] + loss[:-1])
    tables = gas_tables(PETROL)
    mass, burned = cycle.charge_mass[0], cycle.residual_fraction[0]
    fuel = float(tables.fuel_mass_fraction(1.1))
    fresh = (1 - fuel) * np.interp(t[0], tables.temperature, tables.air_energy) + fuel * np.interp(
        t[0], tables.temperature, tables.fuel_energy
    )
    gas = burned_gas()
    gas.TPX = 1700.0, p[0], elements_in_mixture(PETROL, 1.1)
    gas.equilibrate("TP")
    gas.TP = t[0], p[0]
    energy = mass * (burned * gas.int_energy_mass + (1 - burned) * fresh) + np.cumsum(steps)
    for after_top in (50, 70, 90):
        k = int(np.flatnonzero(order == after_top)[0])
        gas.TPX = 2300.0, 1e6, elements_in_mixture(PETROL, 1.1)
        gas.equilibrate("TP")
        gas.UV = energy[k - 1] / mass, volume[k] / mass
        gas.equilibrate("UV")
        assert t[k] == pytest.approx(gas.T, rel=0.01)
        assert p[k] == pytest.approx(gas.P, rel=0.01)


def test_vapour_is_there_from_intake_to_flame(cycle):
    present = cycle.vapour_present[:, 0]
    assert present[200] == pytest.approx(0.0, abs=1e-6)
    assert present[690] == pytest.approx(1.0, abs=1e-6)
    assert 0.5 < present[500] <= 1.0
    half_burned = np.deg2rad(-18.0 + 60.0 * 0.518)  # by hand from Wiebe's curve, a = 5, m = 2
    assert np.interp(half_burned, cycle.crank_angle, present) == pytest.approx(0.5, abs=0.02)
    assert 0.01 < cycle.charge_vapour_mole_fraction[0] < 0.03


def test_more_film_takes_more_heat_and_gives_less_work():
    found = solve_cycle(replace(ENGINE, correlation=0, multiplier=np.array([0.5, 1.0, 2.0])))
    assert np.all(np.diff(found.wall_share) > 0.0)
    assert np.all(np.diff(found.indicated_work) < 0.0)
    assert np.all(np.diff(found.gas_temperature) < 0.0)


def test_extensive_results_scale_with_size():
    """Without heat loss, twice the lengths and eight times the fuel give eight times the work."""
    small = solve_cycle(replace(ENGINE, correlation=0, multiplier=0.0))
    sizes = {
        "bore": 0.112,
        "stroke": 0.080,
        "rod_length": 0.140,
        "fuel_mass_per_cycle": 8 * 2.98e-6,
        "speed": 20.0,
    }
    large = solve_cycle(replace(ENGINE, correlation=0, multiplier=0.0, **sizes))
    assert large.indicated_work[0] == pytest.approx(8.0 * small.indicated_work[0], rel=1e-6)
    assert large.peak_pressure[0] == pytest.approx(small.peak_pressure[0], rel=1e-6)


def test_one_nan_touches_one_draw():
    one = solve_cycle(replace(ENGINE, correlation=0, equivalence_ratio=np.array([1.1, np.nan])))
    assert np.isnan(one.peak_pressure[1])
    assert np.isnan(one.temperature[:, 1]).all()
    assert one.peak_pressure[0] == solve_cycle(replace(ENGINE, correlation=0)).peak_pressure[0]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"compression_ratio": 1.0}, "compression_ratio is 1.0"),
        ({"bore": -0.056}, "bore is -0.056"),
        ({"rod_length": 0.015}, "rod_length"),
        ({"equivalence_ratio": 3.0}, "gas tables hold 0.5-1.8"),
        ({"correlation": 7}, "correlation must be"),
        ({"exhaust_opening": 3.0 * np.pi}, "out of order"),
        ({"intake_pressure": 5e4}, "exactly one"),
        ({"multiplier": -1.0}, "multiplier"),
    ],
)
def test_refusals(change, message):
    with pytest.raises(OutOfRange, match=message):
        solve_cycle(replace(ENGINE, **change))
