"""What the cycle comes to at the crown, with made-up cycles in place of solved ones: each answer is reckoned in its test."""

from __future__ import annotations

import sys
from dataclasses import replace
from types import MappingProxyType, SimpleNamespace
from typing import Any

import numpy as np
import pytest
from judgement.piston import made_up_crown
from judgement.piston.made_up_crown import conditions, polymer

from screening import load_case
from screening.judgement.cylinder.gas_side import GasSide, crown_swing, solve_gas_side, wall_heat
from screening.judgement.cylinder.starts import Starts
from screening.judgement.draws.conditions import Conditions, draw_conditions
from screening.judgement.piston.stack import crown_stack

CASE = load_case("petrol_baseline")
ANGLES = 64


def made_up_cycle(inputs: Any, **_: Any) -> SimpleNamespace:
    """Return a cycle whose film and gas answer to the crown in a straight line, and whose peak is the charge's."""
    crown = np.zeros(2) + inputs.crown_temperature
    throttled = inputs.fuel_mass_per_cycle is not None
    even = np.ones((ANGLES, 2))
    return SimpleNamespace(
        mean_film_coefficient=100 + 0.05 * (crown - 450),
        gas_temperature=1200 + 0.1 * (crown - 450),
        peak_pressure=np.full(2, 2e6 if throttled else 3e6),
        fuel_mass=np.full(2, 1e-5),
        fuel_energy=np.full(2, 400.0),
        wall_share=np.full(2, 0.3),
        volumetric_efficiency=np.full(2, 0.4),
        charge_mass=np.full(2, 1e-4),
        residual_fraction=np.full(2, 0.07),
        crank_angle=np.linspace(0, 4 * np.pi, ANGLES, endpoint=False),
        indicated_pressure=np.full(2, 3e5),
        film_coefficient=100 * even,
        temperature=1200 * even,
        pressure=np.linspace(1e5, 2e6, ANGLES)[:, None] * even,
        vapour_present=np.where(np.arange(ANGLES) < ANGLES // 2, 1.0, 0.0)[:, None] * even,
        charge_vapour_mole_fraction=np.full(2, 0.02),
        wall_heat=np.array([[20.0, 20.0], [30.0, 30.0], [10.0, 10.0]]),
    )


@pytest.fixture
def draws(monkeypatch: pytest.MonkeyPatch) -> Conditions:
    """Two draws of the petrol case with 30 turns a second and a bore of 50 mm; cycles are made up."""
    for module in (solve_gas_side.__module__, Starts.__module__):
        monkeypatch.setattr(sys.modules[module], "solve_cycle", made_up_cycle)
    drawn = draw_conditions(CASE, 2)
    return replace(
        drawn, values=MappingProxyType({**drawn.values, "speed": np.full(2, 30.0), "bore": np.full(2, 0.05)})
    )


@pytest.fixture
def gas(draws: Conditions) -> GasSide:
    return solve_gas_side(CASE, draws)


def test_gas_and_film_answer_to_a_hot_crown_by_the_slope_between_two_crowns(gas: GasSide) -> None:
    """At 850 K the film is 120 W/m2K and the gas 1240 K, at 450 K 100 and 1200: 0.05 W/m2K and 0.1 K for each of 400 K."""
    assert gas.film_coefficient == pytest.approx([100.0] * 2)
    assert gas.gas_temperature == pytest.approx([1200.0] * 2)
    assert gas.film_feedback == pytest.approx([0.05] * 2)
    assert gas.gas_feedback == pytest.approx([0.1] * 2)


def test_full_charge_of_the_start_has_a_peak_of_its_own(gas: GasSide) -> None:
    """20 bar of the measured burn, 30 bar with the throttle open."""
    assert gas.peak_pressure == pytest.approx([2e6] * 2)
    assert gas.starts.governed.mean == pytest.approx([3e6] * 2)
    assert gas.starts.choked is None


def test_four_stroke_burns_every_other_turn(gas: GasSide) -> None:
    """0.01 g a cycle at 15 cycles a second are 0.15 g/s; 400 J a cycle are 6 kW."""
    assert gas.fuel_flow == pytest.approx([1.5e-4] * 2)
    assert gas.fuel_power == pytest.approx([6000.0] * 2)


def test_vapours_peak_is_that_of_the_charge_before_it_burns(gas: GasSide) -> None:
    """0.02 of the pressure at the last of the first 32 of 64 angles: 0.02 (1 + 19 x 31/63) bar = 0.207 bar."""
    assert gas.vapour_pressure_peak == pytest.approx([0.02 * (1 + 19 * 31 / 63) * 1e5] * 2)


def test_walls_take_their_heat_each_cycle(draws: Conditions) -> None:
    """20 + 30 + 10 J at 15 cycles a second: 900 W; the crown's 20 J are 300 W on pi/4 x 50^2 = 1963.5 mm2: 152.8 kW/m2."""
    taken, flux = wall_heat(CASE, draws)
    assert taken == pytest.approx([900.0] * 2)
    assert flux == pytest.approx([152.8e3] * 2, rel=1e-3)


def test_face_swings_by_the_fluxs_harmonic_over_its_effusivity() -> None:
    """At 450 K the flux's one harmonic is 1.45e5 - 450 x 100 = 1e5 W/m2, at 30/2 = 15 cycles a second; the effusivity is
    sqrt(0.25 x 1000 x 1500) = 612.4: 1e5/(612.4 sqrt(2 pi x 15)) = 16.8 K."""
    layer = crown_stack(made_up_crown.case(), conditions(), made_up_crown.gas(), polymer()).layers[0]
    swing = crown_swing(conditions(), made_up_crown.gas(), layer, np.array([450.0]))
    assert swing == pytest.approx([16.82], abs=0.01)
