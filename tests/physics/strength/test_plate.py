"""Limit load of the crown: published factors, limit analysis done again, hand sections, laws, refusals."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, linprog
from scipy.special import erfc, lambertw

from screening.errors import OutOfRange
from screening.physics.curves.first_crossing import first_crossing
from screening.physics.strength.crown_section import CrownSection
from screening.physics.strength.default_strength import (
    AmorphousShape,
    CrystallineShape,
    amorphous_strength,
    semicrystalline_strength,
)
from screening.physics.strength.plate import Plate, crown_collapse_time, limit_pressure, plastic_moment
from screening.physics.strength.strength_curve import StrengthCurve

PUBLISHED = Path(__file__).parents[2] / "published" / "plate_limit_loads.csv"
GLASSY = AmorphousShape(retained=0.35, gone_above=10.0)
FLAT = StrengthCurve([296.15, 400.0], [40e6, 40e6])


def scaled(curve: StrengthCurve, factor: float) -> StrengthCurve:
    return StrengthCurve(curve.temperature, factor * curve.strength)


def collapse_time(times: np.ndarray, limit: np.ndarray, load: np.ndarray) -> np.ndarray:
    """When the limit pressure first falls to the load, from its whole history; 0 if it does at the start."""
    history = limit if limit.ndim == 2 else limit[:, None] + 0 * load
    return np.where(load >= history[0], 0.0, first_crossing(times, load - history))


def edge_factor(restraint: float | np.ndarray) -> np.ndarray:
    """Edge factor k of a Tresca plate whose edge carries the share m of M_p: exact, 6 supported to 11.26 clamped.

    r M_r' = M_t - M_r - p r^2/2 with M_t = M_p inside and M_t - M_r = M_p outside, M_r(R) = -m M_p, gives
    ln y - 3 y + 3 + 2 m = 0 with y = k/6, so k = -2 W_-1(-3 exp(-3 - 2 m)).
    """
    return np.asarray(-2.0 * lambertw(-3.0 * np.exp(-3.0 - 2.0 * np.asarray(restraint)), k=-1).real)


def published() -> list[dict[str, str]]:
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def tresca_by_linear_program(clamped: bool, cells: int = 300) -> float:
    """Largest p R^2/M_p by the lower-bound theorem: moments in the Tresca hexagon and in equilibrium."""
    radius = np.linspace(0.0, 1.0, cells + 1)
    middle, width = (radius[1:] + radius[:-1]) / 2, np.diff(radius)
    count = cells + 1
    # unknowns: M_r at nodes, M_t at cell middles, p;  d(r M_r)/dr - M_t + p r^2/2 = 0 over each cell
    rows = np.zeros((cells, count + cells + 1))
    index = np.arange(cells)
    rows[index, index] = -radius[:-1] / width
    rows[index, index + 1] = radius[1:] / width
    rows[index, count + index] = -1.0
    rows[index, -1] = middle**2 / 2
    near = np.zeros((2 * cells, count + cells + 1))
    for side, sign in ((0, 1.0), (1, -1.0)):  # |M_r - M_t| <= 1, M_r the mean of the cell's two nodes
        near[side * cells + index, index] += sign / 2
        near[side * cells + index, index + 1] += sign / 2
        near[side * cells + index, count + index] = -sign
    cost = np.zeros(count + cells + 1)
    cost[-1] = -1.0
    bounds = [(-1.0, 1.0)] * (count + cells) + [(0.0, None)]
    if not clamped:
        bounds[cells] = (0.0, 0.0)
    result = linprog(cost, A_ub=near, b_ub=np.ones(2 * cells), A_eq=rows, b_eq=np.zeros(cells), bounds=bounds)
    assert result.status == 0
    return float(result.x[-1])


def mises_by_integration(edge_moment: float) -> float:
    """p R^2/M_p from r M_r' = M_t - M_r - p r^2/2 along the Mises ellipse, M_r = 1 at the centre."""

    def slope(radius: float, moment: np.ndarray) -> list[float]:
        radial = moment[0]
        hoop = radial / 2 + np.sqrt(max(1.0 - 0.75 * radial**2, 0.0))
        return [(hoop - radial) / radius - radius / 2]

    def edge(radius: float, moment: np.ndarray) -> float:
        return moment[0] - edge_moment

    edge.terminal = True  # type: ignore[attr-defined]
    start = 1e-4
    run = solve_ivp(slope, (start, 10.0), [1.0 - start**2 / 6], events=edge, rtol=1e-10, atol=1e-12)
    return float(run.t_events[0][0] ** 2)


@pytest.mark.parametrize("row", published(), ids=lambda row: f"{row['yield_condition']} {row['case']}")
def test_published_edge_factors_come_out_of_limit_analysis(row: dict[str, str]) -> None:
    """Factors of Hopkins & Prager and Hopkins & Wang against our own solution of the same problem."""
    clamped = row["restraint"] == "1"
    if row["yield_condition"] == "tresca":
        solved = tresca_by_linear_program(clamped)
        assert solved == pytest.approx(float(edge_factor(float(row["restraint"]))), rel=2e-3)
    else:  # just short of the clamped corner, where the ellipse's root ends
        solved = mises_by_integration(-2 / np.sqrt(3) * (1 - 1e-9) if clamped else 0.0)
    assert solved == pytest.approx(float(row["factor"]), rel=float(row["relative_tolerance"]) + 1e-3)


def test_named_factors_equal_the_published_ones() -> None:
    table = {(row["yield_condition"], row["case"]): float(row["factor"]) for row in published()}
    assert table["tresca", "clamped"] == pytest.approx(float(edge_factor(1.0)), rel=1e-3)
    assert table["tresca", "simply supported"] == pytest.approx(float(edge_factor(0.0)))


def test_partial_restraint_lies_between_and_rises() -> None:
    factors = edge_factor(np.linspace(0, 1, 11))
    assert (np.diff(factors) > 0).all()
    middle = brentq(lambda y: np.log(y) - 3 * y + 3 + 2 * 0.5, 1.0, 3.0)
    assert edge_factor(0.5) == pytest.approx(6 * middle, rel=1e-9)


def test_even_plate_has_a_quarter_sigma_t_squared() -> None:
    """Exact: M_p = sigma t^2/4 and N = sigma t for one even strength, whatever the nodes."""
    depth = np.array([0.0, 0.0003, 0.001, 0.0022, 0.004])
    moment, force = plastic_moment(CrownSection(depth, np.full((2, 5), 350.0), FLAT))
    np.testing.assert_allclose(moment, 40e6 * 0.004**2 / 4, rtol=1e-13)
    np.testing.assert_allclose(force, 40e6 * 0.004, rtol=1e-13)


def test_two_layers_by_hand() -> None:
    """10 MPa over 2 mm on 40 MPa over 2 mm: N = 100 kN/m, z0 = 2.75 mm;
    M = 10 2 (2.75 - 1) + 40 (0.75^2 + 1.25^2)/2 = 77.5 N."""
    weak, strong = StrengthCurve([296.15, 400.0], [10e6, 10e6]), StrengthCurve([296.15, 400.0], [40e6, 40e6])
    depth, field = [0.0, 0.002, 0.002, 0.004], np.full((1, 4), 300.0)
    moment, force = plastic_moment(CrownSection(depth, field, [weak, strong], layer=[0, 0, 1]))
    assert moment[0] == pytest.approx(77.5, rel=1e-12)
    assert force[0] == pytest.approx(100e3, rel=1e-12)
    loose, _ = plastic_moment(CrownSection(depth, field, [weak, strong], layer=[0, 0, 1], bonded=False))
    assert loose[0] == pytest.approx(10 + 40, rel=1e-12)


def test_straight_fall_of_strength_by_hand() -> None:
    """sigma = s z/t: N = s t/2, z0 = t/sqrt(2), M = s t^2 (2 - sqrt(2))/6."""
    curve = StrengthCurve([300.0, 400.0], [50e6, 0.0])
    moment, force = plastic_moment(CrownSection([0.0, 0.006], [[400.0, 300.0]], curve))
    assert force[0] == pytest.approx(50e6 * 0.006 / 2, rel=1e-12)
    assert moment[0] == pytest.approx(50e6 * 0.006**2 * (2 - np.sqrt(2)) / 6, rel=1e-12)
    upside_down, _ = plastic_moment(CrownSection([0.0, 0.006], [[300.0, 400.0]], curve))
    assert upside_down[0] == pytest.approx(moment[0], rel=1e-12)


def test_knots_inside_a_cell_are_integrated_exactly() -> None:
    """One cell from 480 K to 300 K over a kinked, stepped curve equals a section cut at every kink."""
    curve = StrengthCurve([310.0, 360.0, 360.0, 450.0], [60e6, 40e6, 25e6, 5e6])
    coarse = plastic_moment(CrownSection([0.0, 0.005], [[480.0, 300.0]], curve))
    fine_depth = np.linspace(0.0, 0.005, 20001)
    fine = plastic_moment(CrownSection(fine_depth, np.linspace(480.0, 300.0, 20001)[None], curve))
    np.testing.assert_allclose(coarse[0], fine[0], rtol=1e-9)
    strength = curve.at(np.linspace(480.0, 300.0, 20001))
    np.testing.assert_allclose(coarse[1], np.trapezoid(strength, fine_depth), rtol=1e-3)


def test_recession_carries_nothing() -> None:
    depth = np.linspace(0.0, 0.005, 11)
    field = np.full((2, 11, 1), 300.0)
    field[1, :2] = np.nan  # gone
    moment, _ = plastic_moment(CrownSection(depth, field, FLAT, recession=np.array([[0.0], [0.0012]])))
    np.testing.assert_allclose(moment[:, 0], 40e6 * np.array([0.005, 0.0038]) ** 2 / 4, rtol=1e-12)


def test_limit_is_the_lower_of_bending_and_shear() -> None:
    """Clamped Tresca: bending and shear meet at t = 4 R/11.26 = 0.355 R."""
    radius = 0.02
    for share, factor in ((0.30, 11.26 * 0.30**2 / 4), (0.40, 0.40)):
        found = limit_pressure(CrownSection([0.0, share * radius], [[300.0, 300.0]], FLAT), Plate(radius, 11.26))
        assert found[0] == pytest.approx(40e6 * factor, rel=1e-12)


def warm_up(draws: int = 50, nodes: int = 34, levels: int = 97, seed: int = 1):
    """A semi-infinite warm-up in a 5 mm crown: times, depth and temperature (n_time, n_depth, n_draw)."""
    generator = np.random.default_rng(seed)
    times = np.concatenate([[0.0], np.geomspace(1e-3, 3600.0, levels - 1)])
    depth = 0.005 * np.linspace(0.0, 1.0, nodes) ** 1.5
    spread = 1.2e-7 * np.exp(0.2 * generator.standard_normal(draws))
    root = 2 * np.sqrt(np.maximum(times, 1e-12)[:, None, None] * spread)
    return times, depth, 300.0 + 450.0 * erfc(depth[None, :, None] / root) * (times > 0)[:, None, None]


def test_bisection_finds_what_the_whole_history_shows() -> None:
    times, depth, field = warm_up()
    curve = semicrystalline_strength(
        np.linspace(60e6, 100e6, 50), 416.0, 616.0, CrystallineShape(0.55, 0.28, 0.12, 0.06, 120.0, 73.0)
    )
    plate = Plate(radius=0.024, edge_factor=np.linspace(6.0, 12.5, 50))
    load = np.linspace(1.5e6, 3.5e6, 50)
    limit = limit_pressure(CrownSection(depth, field, curve), plate)
    assert (np.diff(limit, axis=0) <= 1e-6 * limit[0]).all()
    whole = collapse_time(times, limit, load)
    quick = crown_collapse_time(times, CrownSection(depth, field, curve), plate, load)
    np.testing.assert_allclose(quick, whole, rtol=1e-12)
    assert np.isfinite(whole).sum() > 30


def test_collapse_at_the_start_never_and_unknown() -> None:
    times, depth, field = warm_up(draws=4)
    field[:, :, 3] = np.nan
    load = np.array([1e9, 1.0, 2e6, 2e6])
    curve = StrengthCurve([296.15, 420.0, 2000.0], [60e6, 20e6, 1e6])
    args = (times, CrownSection(depth, field, curve), Plate(0.024, 9.0), load)
    quick = crown_collapse_time(*args)
    whole = collapse_time(times, limit_pressure(CrownSection(depth, field, curve), Plate(0.024, 9.0)), load)
    np.testing.assert_allclose(quick, whole)
    assert quick[0] == 0.0
    assert np.isinf(quick[1])
    assert 0 < quick[2] < np.inf
    assert np.isnan(quick[3])


def test_a_draw_does_not_depend_on_its_company() -> None:
    times, depth, field = warm_up(draws=20)
    curve = amorphous_strength(np.linspace(50e6, 70e6, 20), 420.0, GLASSY)
    together = crown_collapse_time(times, CrownSection(depth, field, curve), Plate(0.024, 9.0), np.full(20, 2.5e6))
    alone = crown_collapse_time(
        times,
        CrownSection(
            depth,
            np.ascontiguousarray(field[:, :, 7:8]),
            amorphous_strength(np.linspace(50e6, 70e6, 20)[7:8], 420.0, GLASSY),
        ),
        Plate(0.024, 9.0),
        np.full(1, 2.5e6),
    )
    assert together[7] == alone[0]


def test_result_hardly_depends_on_the_grid() -> None:
    """24, 48 and 96 nodes, and 60 to 240 levels: collapse times within 2 % of the finest."""
    curve = amorphous_strength(60e6, 420.0, GLASSY)
    results = []
    for nodes, levels in ((24, 60), (48, 120), (96, 240)):
        times, depth, field = warm_up(draws=10, nodes=nodes, levels=levels)
        results.append(
            crown_collapse_time(times, CrownSection(depth, field, curve), Plate(0.024, 9.0), np.full(10, 2.5e6))
        )
    np.testing.assert_allclose(results[0], results[2], rtol=0.02)
    np.testing.assert_allclose(results[1], results[2], rtol=0.005)


def test_laws_hotter_thinner_wider_and_weaker_carry_less() -> None:
    _, depth, field = warm_up(draws=3)
    curve = amorphous_strength(60e6, 420.0, GLASSY)
    base = limit_pressure(CrownSection(depth, field, curve), Plate(0.024, 9.0))
    assert (limit_pressure(CrownSection(depth, field + 20.0, curve), Plate(0.024, 9.0)) <= base).all()
    assert (limit_pressure(CrownSection(depth, field, curve), Plate(0.026, 9.0)) <= base).all()
    assert (
        limit_pressure(CrownSection(depth, field, amorphous_strength(60e6, 410.0, GLASSY)), Plate(0.024, 9.0))
        <= base + 1e-6
    ).all()
    np.testing.assert_allclose(
        limit_pressure(CrownSection(depth, field, scaled(curve, 1.7)), Plate(0.024, 9.0)), 1.7 * base
    )


def test_pressure_scales_as_declared() -> None:
    """Metre by 3.1 leaves the pressure alone; pascal by 0.7 scales it: [Pa] of [m], [m], [Pa], [K]."""
    _, depth, field = warm_up(draws=3)
    curve = amorphous_strength(60e6, 420.0, GLASSY)
    base = limit_pressure(CrownSection(depth, field, curve), Plate(0.024, 9.0))
    np.testing.assert_allclose(
        limit_pressure(CrownSection(3.1 * depth, field, curve), Plate(3.1 * 0.024, 9.0)), base, rtol=1e-10
    )
    np.testing.assert_allclose(
        limit_pressure(CrownSection(depth, field, scaled(curve, 0.7)), Plate(0.024, 9.0)), 0.7 * base, rtol=1e-10
    )


def test_thickness_law_is_two_exactly_and_more_under_a_fixed_load() -> None:
    """A crown twice as thick has the same profile after four times the time and then carries four times as
    much: exponent 2 if the load were four times too, more under the same load."""
    curve = amorphous_strength(60e6, 420.0, GLASSY)
    times, depth, field = warm_up(draws=1)
    thin = limit_pressure(CrownSection(depth, field, curve), Plate(0.024, 9.0))
    thick = limit_pressure(CrownSection(2 * depth, field, curve), Plate(0.024, 9.0, shear_ratio=1e9))
    load = 0.3 * thin[0]
    first = collapse_time(
        times, limit_pressure(CrownSection(depth, field, curve), Plate(0.024, 9.0, shear_ratio=1e9)), load
    )
    np.testing.assert_allclose(collapse_time(4 * times, thick, 4 * load), 4 * first, rtol=1e-9)
    assert (collapse_time(4 * times, thick, load) > 4 * first).all()


def test_crossing_is_interpolated_over_log_time() -> None:
    times = np.array([0.0, 1.0, 10.0, 100.0])
    assert first_crossing(times, [-3.0, -2.0, -1.0, 1.0]) == pytest.approx(10**1.5)
    assert first_crossing(times, [-3.0, 3.0, 1.0, 1.0]) == pytest.approx(0.5)
    assert first_crossing(times, [1.0, -2.0, -1.0, 1.0]) == 0.0
    assert np.isinf(first_crossing(times, [-3.0, -2.0, -1.0, -0.5]))
    assert np.isnan(first_crossing(times, [-3.0, np.nan, -1.0, 1.0]))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Plate(0.0, 9.0), "above 0"),
        (lambda: Plate(0.02, -1.0), "above 0"),
        (lambda: plastic_moment(CrownSection([0, 1e-3, 2e-3], [[300.0, 300.0]], FLAT)), "n_depth"),
        (lambda: plastic_moment(CrownSection([1e-3, 0.0], [[300.0, 300.0]], FLAT)), "must not fall"),
        (lambda: plastic_moment(CrownSection([0, 1e-3], [[300.0, 300.0]], [FLAT, FLAT])), "curve of each"),
        (lambda: plastic_moment(CrownSection([0, 1e-3], [[300.0, 300.0]], FLAT, layer=[1])), "0 to 0"),
        (lambda: first_crossing([1.0, 1.0], [0.0, 1.0]), "must rise"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
