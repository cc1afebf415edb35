"""Metal crowns: how hot they run at full load, where their heat goes, and which layer the rings cool."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np
import pytest

from screening import load_case, screen
from screening.judgement.case.case import Case
from screening.judgement.cylinder.gas_side import GasSide, solve_gas_side
from screening.judgement.draws.conditions import Conditions, draw_conditions
from screening.judgement.draws.polymer import case_material, draw_polymer
from screening.judgement.piston import ends
from screening.judgement.piston.load import Load, Start
from screening.judgement.piston.pin_boss_and_seat import time_of_seat_yielding
from screening.judgement.piston.stack import ON_SKIRT, crown_stack, metal_piston_stack
from screening.physics.crown.conduction import SteadyCrown, heat_crown, steady_crown
from screening.records.materials.materials import load_materials

Solved = tuple[Conditions, GasSide, SteadyCrown, np.ndarray]


def changed(**sections: dict[str, Any]) -> Case:
    document = copy.deepcopy(load_case("petrol_baseline").to_dict())
    for name, values in sections.items():
        document[name] |= values
    return load_case(document)


@pytest.fixture(scope="module")
def full_load() -> Solved:
    """98 cc at 3,600 rpm, throttle open, mixture 1.1, a black head read at 200 C: nothing tuned."""
    document = changed(engine={"speed_rpm": 3600}).to_dict()
    document["operation"] = {"throttle": 1.0, "equivalence_ratio": 1.1}
    document["head"] = {"reading_C": 200, "gun_emissivity": 0.95, "surface": "matt_black_paint"}
    case = load_case(document)
    draws = draw_conditions(case, 200)
    gas = solve_gas_side(case, draws)
    stack = metal_piston_stack(case, draws, gas, load_materials().get("aluminium"))
    steady = steady_crown(stack.layers, stack.film, stack.back)
    centre = steady.surface_temperature + stack.centre_excess * (steady.surface_temperature - draws["liner"])
    return draws, gas, steady, centre


def test_aluminium_crown_at_full_load_runs_as_hot_as_reported(full_load: Solved) -> None:
    """Heywood 1988, chapter 12 (from memory): 200-300 C, hottest at the centre."""
    middle = np.median(full_load[3]) - 273.15
    print(f"\ncentre {middle:.0f} C, mean of the face {np.median(full_load[2].surface_temperature) - 273.15:.0f} C")
    assert 200 < middle < 300
    assert np.mean((full_load[3] > 473) & (full_load[3] < 573)) > 0.75


def test_crown_takes_the_flux_and_share_that_pistons_take(full_load: Solved) -> None:
    """Heywood 1988, chapter 12 (from memory): 0.2-1 MW/m2 time-averaged over the crown at full load; the walls take 15-30 %
    of the fuel's energy, the crown about a third of that."""
    _, gas, steady, _ = full_load
    flux = np.median(steady.heat_in)
    of_walls = np.median(gas.cycle.wall_heat[0] / gas.cycle.wall_heat.sum(axis=0))
    share = np.median(gas.wall_share)
    print(
        f"\nflux {flux / 1e3:.0f} kW/m2, walls {100 * share:.0f} % of the fuel, crown {100 * of_walls:.0f} % of the walls"
    )
    assert 0.2e6 < flux < 1e6
    assert 0.15 < share < 0.30
    assert 0.25 < of_walls < 0.40


def test_most_of_a_metal_crowns_heat_leaves_by_ring_belt(full_load: Solved) -> None:
    """Common practice, no source: without oil jets about nine tenths by rings, lands and skirt, the rest beneath."""
    share = np.median(full_load[2].heat_ring / full_load[2].heat_in)
    assert 0.8 < share < 0.97


def test_rings_cool_the_metal_and_not_the_coating_on_it() -> None:
    layers = [{"material": "zirconia_sprayed", "thickness_mm": 0.2}, {"material": "aluminium", "thickness_mm": 5.0}]
    case = changed(piston={"build": "metal cap", "crown_layers": layers})
    draws = draw_conditions(case, 20)
    polymer = draw_polymer(case, case_material(case, "pei"), draws["solid_share"], 0)
    coating, metal, plastic = crown_stack(case, draws, solve_gas_side(case, draws), polymer).layers
    assert np.all(np.asarray(coating.ring_conductance) == 0)
    assert np.all(np.asarray(metal.ring_conductance) > 500)
    assert np.all(np.asarray(plastic.ring_conductance) == 0)


def test_cap_of_stainless_steel_is_far_hotter_than_one_of_aluminium() -> None:
    """It conducts a tenth as well, so its rings cannot draw the heat from its middle."""
    hottest = {}
    for metal in ("aluminium", "stainless_steel"):
        case = changed(piston={"build": "metal cap", "crown_layers": [{"material": metal, "thickness_mm": 5.0}]})
        draws = draw_conditions(case, 40)
        polymer = draw_polymer(case, case_material(case, "pei"), draws["solid_share"], 0)
        stack = crown_stack(case, draws, solve_gas_side(case, draws), polymer)
        face = steady_crown(stack.layers, stack.film, stack.back).surface_temperature
        hottest[metal] = np.median(face + stack.centre_excess * (face - draws["liner"]))
    print(f"\n{hottest}")
    assert hottest["stainless_steel"] - hottest["aluminium"] > 80


def test_cap_on_a_polymer_crown_and_crown_on_a_polymer_skirt_are_two_things() -> None:
    """The crown alone must carry the pressure, its rim presses on the skirt's end; the bosses are away from its heat."""
    layers = [{"material": "aluminium", "thickness_mm": 5.0}]
    stories = {}
    for build in ("metal cap", ON_SKIRT):
        case = changed(piston={"build": build, "crown_layers": layers})
        stories[build] = screen(case, 200, materials=["abs", "pei"])
    cap, alone = (stories[build].material("pei") for build in ("metal cap", ON_SKIRT))
    assert ends.SEAT in alone.times
    assert ends.SEAT not in cap.times
    assert cap.history is not None
    assert alone.history is not None
    assert alone.history.limit_pressure[1, 0] < cap.history.limit_pressure[1, 0]
    assert alone.history.thickness == pytest.approx(5.1e-3, rel=0.01)
    weak = stories[ON_SKIRT].material("abs")
    assert weak.standing is not None
    assert weak.standing.ends_by == ends.SEAT
    boss = [np.mean(np.isfinite(stories[build].material("abs").times[ends.PIN_BOSS])) for build in stories]
    print(f"\nbosses yield in {boss} of the draws; crown on skirt: {weak.standing.shares}, {alone.standing}")


def _steady(pressure: np.ndarray) -> Load:
    """Return a load that is the same at the start and running."""
    start = Start(pressure, pressure, np.ones_like(pressure))
    return Load(pressure, (start,), start)


def test_seat_carries_the_pressure_over_the_crown_by_the_walls_end() -> None:
    """Closed form: stress = p R^2/(R^2 - (R - w)^2); at the wall's whole radius it is the pressure itself."""
    case = changed(piston={"build": ON_SKIRT, "crown_layers": [{"material": "aluminium", "thickness_mm": 5.0}]})
    draws = draw_conditions(case, 20)
    polymer = draw_polymer(case, case_material(case, "pei"), draws["solid_share"], 0)
    gas = solve_gas_side(case, draws)
    stack = crown_stack(case, draws, gas, polymer)
    heat = heat_crown(stack.layers, stack.film, stack.back, draws["ambient"], np.array([0.0, 1.0]))
    outer, inner = draws["bore"] / 2, draws["bore"] / 2 - draws["skirt_wall"]
    limit = polymer.strength.at(draws["ambient"]) * draws["bearing_factor"] * (outer**2 - inner**2) / outer**2
    for factor, yields in ((0.98, False), (1.02, True)):
        found = time_of_seat_yielding(draws, polymer, stack, heat, _steady(limit * factor))
        assert np.all((found == 0) == yields)
