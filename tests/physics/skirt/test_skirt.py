"""Skirt warm-up through the oil film, growth and seizure: exact solutions, convergence, laws, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import j0, j1

from screening.errors import OutOfRange
from screening.physics.skirt.growth import expansion_strain
from screening.physics.skirt.seizure import radial_interference, seizure_time
from screening.physics.skirt.skirt_warm_up import BoreWarmUp, SkirtWall, warm_skirt
from screening.records.tables.assumptions import load_assumptions

WALL = SkirtWall(outer_radius=0.028, thickness=0.003, conductivity=0.25, density=1200.0, heat_capacity=1600.0)
BORE = BoreWarmUp(start=296.15, settled=420.0, time_constant=150.0)
TIMES = np.concatenate([[0.0], np.geomspace(0.01, 3600.0, 60)])


def seizing_interference(spare_power: np.ndarray | float) -> np.ndarray:
    """Radial interference of a thin elastic skirt whose friction takes all the power the engine has to spare [m].

    p = E w d/R^2, P = mu p 2 pi R L v, so d = P R/(2 pi mu E w L v), at 2 GPa, 3 mm, 28 mm, 30 mm, mu 0.1 and 4 m/s.
    """
    return np.asarray(spare_power) * 0.028 / (2 * np.pi * 0.1 * 2e9 * 3e-3 * 0.03 * 4.0)


def test_settled_wall_is_the_ring_of_resistances() -> None:
    """Exact: heat per length 2 pi (T_bore - T_air)/(1/(h_o r_o) + ln(r_o/r_i)/k + 1/(h_i r_i))."""
    heat = warm_skirt([1e5, 2e5], WALL, BORE, 1500.0, 90.0, 350.0, 296.15, cells=32)
    outer, inner = 0.028, 0.025
    flow = (420.0 - 350.0) / (1 / (1500 * outer) + np.log(outer / inner) / 0.25 + 1 / (90 * inner))
    expected = 350.0 + flow * (1 / (90 * inner) + np.log(heat.radius / inner) / 0.25)
    np.testing.assert_allclose(heat.temperature[-1], expected, atol=0.02)


def test_step_of_a_plane_wall_matches_the_series() -> None:
    """A wall thin against its radius, insulated inside, stepped bore: series of the plane wall (Incropera,
    section 5.5, from memory): theta = sum 4 sin z/(2 z + sin 2 z) exp(-z^2 Fo) cos(z x), z tan z = Bi."""
    wall = SkirtWall(3.0, 0.003, 0.25, 1200.0, 1600.0)  # 3 m radius: plane
    step = BoreWarmUp(400.0, 400.0, 1e3)
    fourier = np.array([0.05, 0.2, 1.0])
    times = fourier * 0.003**2 * 1200 * 1600 / 0.25
    heat = warm_skirt(times, wall, step, 1500.0, 1e-9, 300.0, 300.0, cells=64)
    biot = 1500 * 0.003 / 0.25
    roots = [brentq(lambda z: z * np.sin(z) - biot * np.cos(z), n * np.pi, (n + 0.5) * np.pi) for n in range(40)]
    z = np.array(roots)
    mean = (4 * np.sin(z) / (2 * z + np.sin(2 * z)) * np.sin(z) / z * np.exp(-(z**2) * fourier[:, None])).sum(axis=1)
    np.testing.assert_allclose(heat.mean_temperature, 400.0 - 100.0 * mean, atol=0.15)


def test_solid_cylinder_limit() -> None:
    """A wall that fills the cylinder but for a pinhole: first root of the Bessel series (z J1 = Bi J0) at
    late time (Carslaw & Jaeger 7.7, from memory): the middle decays at z^2 alpha/R^2."""
    wall = SkirtWall(0.01, 0.00999, 0.25, 1200.0, 1600.0)
    alpha = 0.25 / (1200 * 1600)
    times = np.array([0.5, 0.6]) * 0.01**2 / alpha
    heat = warm_skirt(times, wall, BoreWarmUp(400.0, 400.0, 1e6), 250.0, 1e-9, 300.0, 300.0, cells=80)
    root = brentq(lambda z: z * j1(z) - 10.0 * j0(z), 1.5, 2.39)
    rate = -np.diff(np.log(400.0 - heat.temperature[:, 0])) / np.diff(times)
    np.testing.assert_allclose(rate, root**2 * alpha / 0.01**2, rtol=5e-4)


def test_error_falls_by_four_when_the_cells_double() -> None:
    """Order 2 in space: mean temperature at 100 s against 128 cells."""
    means = [
        float(warm_skirt([50.0, 100.0], WALL, BORE, 1500.0, 90.0, 350.0, 296.15, cells=n).mean_temperature[1])
        for n in (4, 8, 16, 128)
    ]
    errors = np.abs(np.array(means[:3]) - means[3])
    assert 3.0 < errors[0] / errors[1] < 5.5
    assert errors[2] < 0.1


def test_output_times_do_not_change_the_answer() -> None:
    few = warm_skirt([60.0, 300.0], WALL, BORE, 1500.0, 90.0, 350.0, 296.15)
    many = warm_skirt(np.linspace(1.0, 300.0, 300), WALL, BORE, 1500.0, 90.0, 350.0, 296.15)
    np.testing.assert_allclose(few.temperature[0], many.temperature[59], rtol=1e-12)
    np.testing.assert_allclose(few.temperature[1], many.temperature[-1], rtol=1e-12)


def test_one_ring_in_a_bore_as_slow_as_itself_warms_as_t_over_tau() -> None:
    """Exact for one lump behind a bore of the same time constant: (T - T0)/(T1 - T0) = 1 - (1 + t/tau) exp(-t/tau)."""
    outer, inner = WALL.outer_radius, WALL.outer_radius - WALL.thickness
    mass = WALL.density * WALL.heat_capacity * WALL.thickness * (outer + inner) / 2  # per radian and length
    constant = mass * (1 / 1500.0 + WALL.thickness / 2 / WALL.conductivity) / outer
    bore = BoreWarmUp(300.0, 400.0, constant)
    times = constant * np.array([0.5, 1.0, 2.0])
    lump = warm_skirt(times, WALL, bore, 1500.0, 1e-9, 300.0, 300.0, cells=1).mean_temperature
    share = times / constant
    np.testing.assert_allclose(lump, 300.0 + 100.0 * (1 - (1 + share) * np.exp(-share)), atol=1e-3)


def test_skirt_lags_the_bore_by_its_own_wall_time() -> None:
    heat = warm_skirt(TIMES, WALL, BORE, 1500.0, 90.0, 296.15, 296.15)
    mean, bore = heat.mean_temperature, BORE.at(TIMES)
    assert (np.diff(mean) > -1e-9).all()
    assert (mean <= bore + 1e-9).all()
    poorer = warm_skirt(TIMES, WALL, BORE, 500.0, 90.0, 296.15, 296.15).mean_temperature
    assert (poorer <= mean + 1e-9).all()


def test_draws_agree_with_single_runs_and_unknown_stays_put() -> None:
    films = np.array([1000.0, np.nan, 2500.0])
    heat = warm_skirt(TIMES, WALL, BORE, films, 90.0, 350.0, 296.15)
    assert heat.temperature.shape == (61, 16, 3)
    assert np.isnan(heat.mean_temperature[:, 1]).all()
    alone = warm_skirt(TIMES, WALL, BORE, 2500.0, 90.0, 350.0, 296.15)
    assert (heat.temperature[:, :, 2] == alone.temperature).all()


def test_like_for_like_copy_seizes_and_one_printed_smaller_does_not() -> None:
    """A polymer skirt (90e-6/K) in an iron bore at the metal piston's 0.05 mm seizes before it settles."""
    heat = warm_skirt(TIMES, WALL, BORE, 1500.0, 90.0, 360.0, 296.15)
    part = expansion_strain(heat.mean_temperature, 296.15, 90e-6)
    bore = expansion_strain(BORE.at(TIMES), 296.15, 11e-6)
    limit = seizing_interference(150.0)
    copied = seizure_time(TIMES, radial_interference(0.05595, part, 0.056, bore), limit)
    smaller = seizure_time(TIMES, radial_interference(0.0554, part, 0.056, bore), limit)
    assert 10.0 < copied < 150.0
    assert np.isinf(smaller)


def test_ten_micrometres_is_about_what_a_small_engine_can_spare() -> None:
    """The range that is assumed, against the friction of a thin ring pressed all round with 100 to 200 W to spare."""
    assumed = load_assumptions()["seizure_interference"]
    limit = seizing_interference(np.array([100.0, 200.0]))
    assert assumed.low < limit[0] < limit[1] < assumed.high


def test_interference_scales_with_the_metre() -> None:
    base = radial_interference(0.0559, 0.006, 0.056, 0.001, 0.002)
    np.testing.assert_allclose(radial_interference(3.0 * 0.0559, 0.006, 3.0 * 0.056, 0.001, 0.002), 3.0 * base)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: SkirtWall(0.028, 0.03, 0.25, 1200.0, 1600.0), "below outer_radius"),
        (lambda: SkirtWall(0.028, 0.003, 0.0, 1200.0, 1600.0), "conductivity"),
        (lambda: BoreWarmUp(300.0, 400.0, 0.0), "time_constant"),
        (lambda: warm_skirt([2.0, 1.0], WALL, BORE, 1500.0, 90.0, 350.0, 296.15), "rising"),
        (lambda: warm_skirt([1.0], WALL, BORE, 0.0, 90.0, 350.0, 296.15), "oil_film"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
