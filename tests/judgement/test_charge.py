"""What a case implies of the charge: a burn too small to fire on is refused in words; a strong cooler still runs."""

from __future__ import annotations

import copy

import numpy as np
import pytest

from screening import load_case, screen
from screening.errors import OutOfRange
from screening.judgement.charge import evaporation_heat
from screening.judgement.conditions import draw_conditions
from screening.judgement.gas_side import solve_gas_side
from screening.records.fuels import find_fuel


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
    assert evaporation_heat(petrol, 1.0, 293.15, 253.15) == pytest.approx(petrol.latent_heat)
    capped = evaporation_heat(methanol, 1.0, 293.15, 253.15)
    assert capped < 0.7 * methanol.latent_heat
    drop = capped / (1 + methanol.air_fuel_ratio) / 1050
    assert 293.15 + 25 - drop == pytest.approx(253.15)
    assert evaporation_heat(methanol, 1.0, 243.15, 273.15) == 0


def test_the_richest_mixture_that_a_case_may_state_has_a_cycle() -> None:
    case = changed(equivalence_ratio=1.8)
    assert np.all(np.isfinite(solve_gas_side(case, draw_conditions(case, 20)).gas_temperature))
