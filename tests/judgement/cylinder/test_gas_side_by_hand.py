"""From the draws to the cycle and from the cycle to the crown: each step beside its number by hand."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np
import pytest
from judgement.spied_cases import GIVEN, THROTTLED, WOOD_SPIRIT, calls_of
from judgement.spies import Call, Spies, all_typical, argument

from screening import load_case
from screening.judgement.cylinder.charge import evaporation_heat
from screening.judgement.cylinder.gas_side import solve_gas_side, wall_heat
from screening.judgement.cylinder.one_cycle import run_cycle
from screening.judgement.draws.conditions import CORRELATIONS, draw_conditions
from screening.physics.cylinder import film
from screening.physics.cylinder.cycle import solve_cycle

ICE = 273.15


def one(function: str) -> Call:
    """Return one call of a function, of the case that gives all there is to give."""
    return calls_of("given").of(function)[0]


def test_correlations_have_the_same_order_wherever_they_are_numbered() -> None:
    assert CORRELATIONS == film.CORRELATIONS == ("woschni", "hohenberg", "annand")


def test_each_correlation_comes_with_the_error_that_is_its_own() -> None:
    """The table's typical errors: Woschni 1.3, Hohenberg 1.5, Annand 0.9; a third of the draws each."""
    cycle = one("solve_cycle #0")
    pairs = list(
        zip(*(argument(cycle, f"inputs.{name}").tolist() for name in ("correlation", "multiplier")), strict=True)
    )
    assert {pair: pairs.count(pair) for pair in pairs} == {(0, 1.3): 4, (1, 1.5): 4, (2, 0.9): 4}


def test_fuel_is_burned_once_in_two_revolutions() -> None:
    """83 mL of 811 kg/m3 in 611 s are 0.1102 g/s; with 27.1 MJ/kg they are 2.986 kW."""
    case = load_case(GIVEN)
    with all_typical():
        gas = solve_gas_side(case, draw_conditions(case, 10))
    assert gas.fuel_flow == pytest.approx(83e-6 * 811 / 611, rel=1e-3)
    assert gas.fuel_power == pytest.approx(83e-6 * 811 / 611 * 27.1e6, rel=5e-3)


def test_walls_take_their_share_of_the_fuels_power() -> None:
    case = load_case(GIVEN)
    with all_typical():
        draws = draw_conditions(case, 10)
        gas, (heat, flux) = solve_gas_side(case, draws), wall_heat(case, draws)
    assert heat == pytest.approx(gas.wall_share * gas.fuel_power, rel=1e-9)
    crowns = gas.cycle.wall_heat[0] * 2710 / 60 / 2
    assert flux == pytest.approx(crowns / (np.pi / 4 * 0.061**2), rel=1e-9)


def test_head_wall_is_hotter_and_bore_colder_than_the_heads_outside() -> None:
    """The table's typical 15 K above and 30 K below what the gun sees."""
    surface = one("surface_temperature")["returned"]
    assert argument(one("solve_cycle #0"), "inputs.head_temperature") == pytest.approx(surface + 15, rel=1e-9)
    assert argument(one("solve_cycle #0"), "inputs.liner_temperature") == pytest.approx(surface - 30, rel=1e-9)
    assert argument(one("heat_crown #-1"), "film.radiation_temperature") == pytest.approx(surface + 15, rel=1e-9)
    assert argument(one("warm_skirt"), "bore.settled") == pytest.approx(surface - 30, rel=1e-9)


def test_gas_answers_to_a_hot_crown() -> None:
    """A straight line between the cycles at 450 and 850 K, in both the film's coefficient and the gas's temperature."""
    cold, hot, *_ = calls_of("given").of("solve_cycle")
    assert [cycle["inputs"].crown_temperature for cycle in (cold, hot)] == [450, 850]
    crown = one("heat_crown #-1")["film"]
    assert crown.feedback_at == 450
    for given, slope, name in (
        (crown.coefficient, crown.coefficient_feedback, "mean_film_coefficient"),
        (crown.temperature, crown.feedback, "gas_temperature"),
    ):
        ends = [getattr(cycle["returned"], name) for cycle in (cold, hot)]
        assert given == pytest.approx(ends[0], rel=1e-12)
        assert slope == pytest.approx((ends[1] - ends[0]) / 400, rel=1e-9)
        assert np.all(np.abs(slope) > 1e-4)


@pytest.mark.parametrize(("number", "charge"), [(2, 0.75), (3, 0.30)], ids=["throttle open", "throttle held"])
def test_start_is_between_walls_as_cold_as_the_air(number: int, charge: float) -> None:
    """The table's typical charges: 0.75 with the throttle open; held, what the run breathes (0.24 here) but 0.30 at least."""
    start = calls_of("given").of("solve_cycle")[number]["inputs"]
    assert start.fuel_mass_per_cycle is None
    assert start.volumetric_efficiency == pytest.approx(charge)
    for wall in (start.crown_temperature, start.head_temperature, start.liner_temperature):
        assert wall == pytest.approx(31 + ICE)


def test_bore_grows_from_the_air_to_its_own_temperature() -> None:
    """Cast iron, 10.8e-6 a kelvin, 30 K under the head's outside; the skirt follows the bore through its warming."""
    settled = one("surface_temperature")["returned"] - 30
    assert one("print_diameter #0")["bore_strain"][-1] == pytest.approx(10.8e-6 * (settled - 31 - ICE), rel=1e-3)
    widened = one("radial_interference")["bore_strain"]
    assert widened[0] == pytest.approx(0.0, abs=1e-12)
    assert widened[-1] == pytest.approx(10.8e-6 * (settled - 31 - ICE), rel=1e-3)
    gap = calls_of("given").of("ring_gap_needed")
    assert argument(gap[0], "bore_strain") == pytest.approx(10.8e-6 * (settled - 31 - ICE), rel=1e-9)
    assert argument(gap[0], "ring_strain") == pytest.approx(10.8e-6 * (settled - 31 - ICE + 60), rel=1e-9)


@pytest.mark.parametrize("ratio", [0.9, 1.17, 1.6])
def test_evaporation_cools_the_mixture_no_further_than_to_its_floor(ratio: float) -> None:
    """CH4O in air of 31 degC, 25 K warmer by the port, down to -20 degC: 76 K of 1 kg of fuel and 6.46/phi of air."""
    latent = WOOD_SPIRIT | {"latent_heat_kJ_kg": 1170}
    document: dict[str, Any] = copy.deepcopy(GIVEN) | {"fuel": latent}
    fuel = load_case(document).fuel
    expected = min(1170e3, 1050 * 76 * (1 + 6.46 / ratio))
    assert evaporation_heat(fuel, ratio, 31 + 25 + ICE, -20 + ICE) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("combustion_start", np.deg2rad(-16)),
        ("combustion_duration", np.deg2rad(58)),
        ("wiebe_shape", 2.0),
        ("wiebe_efficiency", 5.0),
        ("exhaust_opening", np.deg2rad(130)),
        ("blowdown_angle", np.deg2rad(55)),
        ("overlap_angle", np.deg2rad(20)),
        ("intake_closing", np.deg2rad(580)),
        ("intake_heating", 25.0),
        ("exhaust_pressure_ratio", 1.05),
    ],
)
def test_what_the_table_says_of_valves_port_and_burn_reaches_the_cycle(name: str, expected: float) -> None:
    """The typical values of `assumptions.csv`, degrees turned to radians."""
    assert argument(one("solve_cycle #0"), f"inputs.{name}") == pytest.approx(expected, rel=1e-6)


def test_a_fuel_that_takes_little_to_evaporate_takes_all_of_it() -> None:
    assert argument(one("solve_cycle #0"), "inputs.latent_heat") == pytest.approx(613e3)


def test_vapour_over_the_crown_is_diluted_by_the_gas_left_behind() -> None:
    """Of the fresh charge one mole in 1 + 3/0.2095/1.17 is C2H6O vapour; the rest is burned gas."""
    cycle = one("solve_cycle #0")["returned"]
    fresh = 1 / (1 + 3 / 0.2095 / 1.17)
    assert cycle.charge_vapour_mole_fraction == pytest.approx(fresh * (1 - cycle.residual_fraction), rel=3e-3)
    assert np.all(cycle.residual_fraction > 0.02)


def test_one_cycle_by_itself_gets_the_same_numbers(monkeypatch: pytest.MonkeyPatch) -> None:
    """`run_cycle` goes its own way from the case to physics."""
    screened = one("solve_cycle #0")["inputs"]
    spies, case = Spies(monkeypatch, solve_cycle), load_case(GIVEN)
    run_cycle(case.engine, case.fuel, case.operation, "annand", 0.8)
    alone = spies.of("solve_cycle")[0]["inputs"]
    for name in ("bore", "stroke", "rod_length", "compression_ratio", "speed", "chemistry", "equivalence_ratio",
                 "fuel_mass_per_cycle", "volumetric_efficiency", "ambient_temperature", "latent_heat"):  # fmt: skip
        given = getattr(alone, name)
        assert np.all(given == getattr(screened, name)) or given == pytest.approx(getattr(screened, name)[0]), name
    assert (CORRELATIONS[alone.correlation], alone.multiplier) == ("annand", 0.8)


def test_one_cycle_by_itself_breathes_as_far_as_its_throttle_lets_it(monkeypatch: pytest.MonkeyPatch) -> None:
    spies, case = Spies(monkeypatch, solve_cycle), load_case(THROTTLED)
    run_cycle(case.engine, case.fuel, case.operation)
    inputs = spies.of("solve_cycle")[0]["inputs"]
    assert inputs.fuel_mass_per_cycle is None
    assert inputs.volumetric_efficiency == pytest.approx(0.37 * 0.75)
