"""What a case implies of the charge: a burn too small to fire on is refused in words; a strong cooler still runs."""

from __future__ import annotations

import copy
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from screening import load_case, screen
from screening.errors import OutOfRange
from screening.judgement.case.case import CHOKED, HELD
from screening.judgement.cylinder import gas_side
from screening.judgement.cylinder.charge import evaporation_heat
from screening.judgement.cylinder.gas_side import solve_gas_side
from screening.judgement.cylinder.starts import starting_charges
from screening.judgement.draws.conditions import draw_conditions
from screening.physics.cylinder.cycle import CycleInputs, solve_cycle
from screening.records.liquids.find_fuel import find_fuel


def changed(fuel: str | None = None, drop: tuple[str, ...] = (), **operation: float):  # type: ignore[no-untyped-def]
    document = copy.deepcopy(load_case("cyclopentanone_blend").to_dict())
    document["operation"] |= operation
    for key in drop:
        del document["operation"][key]
    if fuel is not None:
        document["fuel"] = fuel
    return load_case(document)


@pytest.mark.parametrize("burned", [0.5, 4.0, 8.0])
def test_a_burn_too_small_to_fire_on_names_the_inputs_that_disagree(burned: float) -> None:
    with pytest.raises(OutOfRange, match=r"burned_mL.*burn_duration_s.*speed_rpm.*equivalence_ratio"):
        screen(changed(burned_mL=burned), 20, materials=["abs"])


def test_a_throttle_nearly_shut_is_refused_by_name() -> None:
    with pytest.raises(OutOfRange, match=r"operation\.throttle"):
        screen(changed(drop=("burned_mL", "burn_duration_s"), throttle=0.02), 20, materials=["abs"])


@pytest.mark.parametrize("fuel", ["nitromethane", "methanol"])
@pytest.mark.parametrize("throttle", [0.3, 1.0])
def test_a_fuel_that_cools_the_mixture_strongly_has_a_settled_cycle(fuel: str, throttle: float) -> None:
    case = changed(fuel, ("burned_mL", "burn_duration_s"), throttle=throttle)
    gas = solve_gas_side(case, draw_conditions(case, 40))
    assert np.all(gas.cycle.settling < 1e-3)
    assert np.all(np.isfinite(gas.gas_temperature) & np.isfinite(gas.wall_share))


def test_evaporation_takes_the_latent_heat_until_the_mixture_is_as_cold_as_it_gets() -> None:
    petrol, methanol = find_fuel("petrol E0"), find_fuel("methanol")
    assert evaporation_heat(petrol, 1.0, 318.15, 253.15) == pytest.approx(petrol.latent_heat)
    capped = evaporation_heat(methanol, 1.0, 318.15, 253.15)
    assert capped < 0.7 * methanol.latent_heat
    drop = capped / (1 + methanol.air_fuel_ratio) / 1050
    assert 318.15 - drop == pytest.approx(253.15)
    assert evaporation_heat(methanol, 1.0, 268.15, 273.15) == 0


def test_the_richest_mixture_that_a_case_may_state_has_a_cycle() -> None:
    case = changed(equivalence_ratio=1.8)
    assert np.all(np.isfinite(solve_gas_side(case, draw_conditions(case, 20)).gas_temperature))


@pytest.mark.parametrize("name", ["petrol_baseline", "cyclopentanone_blend"])
def test_peak_of_a_full_charge_goes_almost_as_the_charge(name: str) -> None:
    """A cold engine with its throttle open against the running peak scaled by the charge: a few per cent less, because
    cold walls take more and the residual falls. Heywood 1988, chapter 15 (from memory): pressures go as the charge."""
    case = load_case(name)
    draws = draw_conditions(case, 100)
    gas = solve_gas_side(case, draws)
    scaled = gas.peak_pressure * draws["full_charge"] / gas.volumetric_efficiency
    ratio = gas.starts.governed.mean / scaled
    print(f"\n{np.percentile(ratio, [5, 50, 95])}")
    assert np.all((ratio > 0.85) & (ratio < 1.02))


def start_of(how: str, **drawn: list[float]) -> dict[str, CycleInputs]:
    """Return the charges of a start of two draws of which some values are given; running they breathe 0.2 and 0.5."""
    case = load_case("petrol_baseline")
    case = replace(case, operation=replace(case.operation, start=how))
    draws = draw_conditions(case, 2)
    values = {**draws.values, **{name: np.array(value) for name, value in drawn.items()}}
    draws = replace(draws, values=MappingProxyType(values))
    return starting_charges(case, gas_side._inputs(case, draws), draws, np.array([0.2, 0.5]))


def test_throttle_held_lets_in_what_the_run_breathes_and_what_it_fires_on_at_least() -> None:
    """It fires on 0.30: an engine that breathes 0.2 running gets 0.30, one that breathes 0.5 gets 0.5; opened, both 0.75."""
    charges = start_of(HELD, least_held_charge=[0.3, 0.3], full_charge=[0.75, 0.75])
    assert charges["held"].volumetric_efficiency == pytest.approx([0.3, 0.5])
    assert charges["governed"].volumetric_efficiency == pytest.approx([0.75, 0.75])
    assert "choked" not in charges


def test_choke_gives_a_charge_and_a_mixture_of_its_own() -> None:
    """0.55 of a charge at phi 1.4; a phi of 2.0 ends at the 1.8 of the tables of burned gas. The others run on the run's."""
    running = [1.05, 1.05]
    charges = start_of(CHOKED, choked_charge=[0.55, 0.4], choked_mixture=[1.4, 2.0], equivalence_ratio=running)
    assert charges["choked"].volumetric_efficiency == pytest.approx([0.55, 0.4])
    assert charges["choked"].equivalence_ratio == pytest.approx([1.4, 1.8])
    assert charges["governed"].equivalence_ratio == pytest.approx(running)


def test_full_charges_of_the_run_up_heat_the_crown_about_as_running_does() -> None:
    """At the mean speed of the run-up, half the governed one; at the governed speed itself about half as much again."""
    case = load_case("petrol_baseline")
    draws = draw_conditions(case, 100)
    running = solve_gas_side(case, draws).cycle
    inputs = starting_charges(case, gas_side._inputs(case, draws), draws, running.volumetric_efficiency)["governed"]
    flux = running.mean_film_coefficient * (running.gas_temperature - 300.0)
    for share, low, high in ((0.5, 0.75, 1.25), (1.0, 1.2, 1.8)):
        full = solve_cycle(replace(inputs, speed=share * draws["speed"]))
        ratio = np.median(full.mean_film_coefficient * (full.gas_temperature - 300.0) / flux)
        print(f"\nat {share} of the speed: {ratio:.2f}")
        assert low < ratio < high


def test_lives_do_not_pile_up_where_the_start_ends() -> None:
    """Common practice, no source: how long the throttle stays open at the start differs from engine to engine."""
    life = screen(load_case("petrol_baseline"), 400, materials=["petg"]).material("petg").life
    within = np.sum((life[None, :] > life[:, None] * 0.995) & (life[None, :] < life[:, None] * 1.005), axis=1)
    assert within[life > 0.3].max() < 0.05 * life.size
