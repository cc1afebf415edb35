"""What the fuel meets of the crown in a run: the wet start, the vapour over the face, the gas past the rings, by hand."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np
import pytest
from judgement.spied_cases import GIVEN, calls_of
from judgement.spies import Spies, all_typical

from screening import load_case, screen
from screening.judgement.contact.during_run import RunExposure, attack_over_draws
from screening.physics.contact.diffusion import diffusion_at, penetration_depth
from screening.physics.contact.vapour import mean_and_peak_activity
from screening.physics.cylinder.cycle import solve_cycle

ICE = 273.15
BARE: dict[str, Any] = copy.deepcopy(GIVEN) | {"fuel": "ethanol", "soak_tests": []}
COATED = BARE | {
    "piston": BARE["piston"]
    | {"build": "coated crown", "crown_layers": [{"material": "zirconia_sprayed", "thickness_mm": 0.41}]}
}


def watched(document: dict[str, Any]) -> Spies:
    """Return what was called for a piston of the workshop's plastic, everything not given being typical."""
    with all_typical() as patch:
        spies = Spies(patch, attack_over_draws, penetration_depth, diffusion_at, mean_and_peak_activity, solve_cycle)
        screen(load_case(document), 12, materials=["workshop_plastic"])
    return spies


@pytest.fixture(scope="module")
def bare() -> Spies:
    return watched(BARE)


@pytest.fixture(scope="module")
def coated() -> Spies:
    return watched(COATED)


def exposure(spies: Spies) -> RunExposure:
    """Return what the crown met."""
    met: RunExposure = spies.of("attack_over_draws")[0]["run"]
    return met


def test_wet_start_is_a_minute_in_the_cases_air(bare: Spies) -> None:
    met = exposure(bare)
    assert met.wet_start_time == pytest.approx(60)
    assert met.ambient == pytest.approx(31 + ICE)
    assert met.crown_thickness == pytest.approx(0.0067)
    assert met.horizon == 4321
    soaked = [call for call in bare.of("penetration_depth") if np.all(np.asarray(call["time"]) == 60)]
    at_start = [call for call in bare.of("diffusion_at") if np.ndim(call["temperature"]) == 1]
    assert soaked
    assert any(np.allclose(call["temperature"], 31 + ICE) for call in at_start)


def test_vapour_over_the_face_is_that_of_the_charge_before_it_burns(bare: Spies) -> None:
    """At intake closing one mole in 1 + 3/0.2095/1.17 of the fresh charge; none in the exhaust stroke."""
    met, cycle = exposure(bare), bare.of("solve_cycle")[0]["returned"]
    closing = int(np.argmin(np.abs(cycle.crank_angle - np.radians(580))))
    share = (1 - cycle.residual_fraction) / (1 + 3 / 0.2095 / 1.17)
    assert met.vapour_pressure[closing] == pytest.approx(share * cycle.pressure[closing], rel=5e-3)
    exhaust = int(np.argmin(np.abs(cycle.crank_angle - np.radians(270))))
    assert np.all(met.vapour_pressure[exhaust] == 0)
    assert np.all(met.vapour_pressure.max(axis=0) > 2 * met.vapour_pressure[closing])
    assert met.blow_by_pressure == pytest.approx(share * 100500, rel=5e-3)


def test_ethanol_on_a_face_turns_wet_at_its_vapour_pressure(bare: Spies) -> None:
    """5.9 kPa at 20 degC and 101.3 kPa at 78.3 degC (handbook, from memory) bracket the face's first temperature, 31 degC."""
    saturation = [
        call["saturation_pressure"]
        for call in bare.of("mean_and_peak_activity")
        if np.ndim(call["saturation_pressure"]) == 2
    ]
    (pressure,) = saturation
    assert pressure[0] == pytest.approx(10.9e3, rel=0.05)


def test_a_coated_face_meets_neither_liquid_nor_vapour_but_oil_beneath(bare: Spies, coated: Spies) -> None:
    met = exposure(coated)
    assert np.all(met.wet_start_time == 0)
    assert np.all(met.vapour_pressure == 0)
    assert met.blow_by_pressure == pytest.approx(exposure(bare).blow_by_pressure, rel=1e-9)


def test_crown_is_followed_on_both_faces(bare: Spies) -> None:
    met = exposure(bare)
    assert met.times[-1] == 4321
    assert met.surface_temperature[0] == pytest.approx(31 + ICE)
    assert met.back_temperature[0] == pytest.approx(31 + ICE)
    hot = slice(2, 10)  # while the crown still stands the face is the hotter
    assert np.all(met.surface_temperature[hot] > met.back_temperature[hot])
    assert calls_of("given").ended
