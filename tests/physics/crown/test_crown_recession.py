"""A decomposing crown: steady ablation, the onset as a ceiling, char, energy, and what it says when nothing is left.

The part is of first order in the step; the tolerances are 2 % of the recession where no closed form is exact.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from numpy.typing import NDArray

from screening.physics.crown.conduction import Decomposition, Film, Layer, heat_crown
from screening.physics.crown.crown_heat import CrownHeat

Floats = NDArray[np.float64]
START, ONSET, LATENT = 300.0, 700.0, 2e6
CONDUCTIVITY, DENSITY, CAPACITY = 0.25, 1200.0, 1500.0
BACK = Film(80.0, 360.0)
GAS = Film(300.0, 1300.0)
POLYMER = Layer(6e-3, CONDUCTIVITY, DENSITY, CAPACITY)
PYROLYSIS = Decomposition(ONSET, LATENT)


def run(
    film: Film = GAS, layer: Layer = POLYMER, how: Decomposition | None = PYROLYSIS, end: float = 100.0
) -> CrownHeat:
    return heat_crown([layer], film, BACK, START, np.linspace(end / 60, end, 60), how)


@pytest.mark.parametrize(("film", "gas"), [(800.0, 1500.0), (400.0, 1300.0)])
def test_steady_ablation_of_a_deep_layer(film: float, gas: float) -> None:
    """v = q/(rho (dH + c (T_on - T_0))): heat of ablation, all that comes goes with the polymer.

    Follows from the energy balance of a steadily moving profile (Carslaw & Jaeger 1959, section 11.2 on moving
    boundaries, from memory). Within 2 % once the profile, k/(rho c v) deep, has settled.
    """
    flux = film * (gas - ONSET)
    speed = flux / (DENSITY * (LATENT + CAPACITY * (ONSET - START)))
    settled = CONDUCTIVITY / (DENSITY * CAPACITY) / speed**2  # k/(rho c v) over v
    times = settled * np.linspace(0.5, 16.0, 60)
    layer = replace(POLYMER, thickness=speed * times[-1] * 2)
    crown = heat_crown([layer], Film(film, gas), BACK, START, times, PYROLYSIS)
    late = times > 8 * settled
    found = np.polyfit(times[late], crown.recession[late], 1)[0]
    assert found == pytest.approx(speed, rel=0.02)


def test_profile_of_steady_ablation() -> None:
    """Ahead of the steadily moving face T - T_0 = (T_on - T_0) exp(-v rho c x/k), within 1 % of the rise."""
    film, gas = 800.0, 1500.0
    speed = film * (gas - ONSET) / (DENSITY * (LATENT + CAPACITY * (ONSET - START)))
    reach = CONDUCTIVITY / (DENSITY * CAPACITY) / speed
    layer = replace(POLYMER, thickness=40 * reach)
    crown = heat_crown([layer], Film(film, gas), BACK, START, [15 * reach / speed], PYROLYSIS, cells=200, steps=300)
    ahead = (crown.depth - crown.recession[0]) / reach
    near = (ahead > 0.1) & (ahead < 4.0)
    assert near.sum() >= 5
    expected = START + (ONSET - START) * np.exp(-ahead[near])
    assert crown.temperature[0, near] == pytest.approx(expected, abs=0.01 * (ONSET - START))


def test_latent_heat_alone() -> None:
    """A polymer at its onset throughout spends all on latent heat, first order or not: s = q t/(rho dH)."""
    held = Film(0.0, ONSET)
    times = np.array([1.0, 5.0, 10.0])
    crown = heat_crown([POLYMER], Film(300.0, 1300.0), held, ONSET - 1e-3, times, PYROLYSIS)
    assert crown.recession == pytest.approx(300.0 * (1300.0 - ONSET) * times / (DENSITY * LATENT), rel=0.01)


def test_before_the_onset_nothing_differs() -> None:
    """Until the face is at the onset the crown is a plain one."""
    times = np.geomspace(0.02, 30.0, 40)
    plain, crown = (heat_crown([POLYMER], GAS, BACK, START, times, how) for how in (None, PYROLYSIS))
    early = plain.surface_temperature < ONSET - 20
    assert early.sum() >= 3
    assert crown.temperature[early] == pytest.approx(plain.temperature[early], abs=1e-6)
    assert np.all(crown.recession[early] == 0.0)


@settings(max_examples=20, deadline=None)
@given(st.floats(30.0, 500.0), st.floats(600.0, 1500.0), st.floats(550.0, 850.0))
def test_never_recedes_below_the_onset(film: float, gas: float, onset: float) -> None:
    """Gas that is never above the onset takes nothing; and no face ever gets above the onset."""
    crown = run(Film(film, gas), how=Decomposition(onset, LATENT), end=200.0)
    if gas <= onset:
        assert np.all(crown.recession == 0.0)
        assert np.all(np.isinf(crown.consumed_at))
    known = crown.surface_temperature[np.isfinite(crown.surface_temperature)]
    assert known.max() <= onset + 2.0
    assert np.nanmax(crown.temperature) <= onset + 2.0
    assert crown.recession.max() <= 6e-3 * (1 + 1e-9)


def test_recedes_only_when_the_face_would_pass_the_onset() -> None:
    """Recession begins within a step of when the plain crown's face passes the onset."""
    times = np.geomspace(0.1, 100.0, 200)
    plain = heat_crown([POLYMER], GAS, BACK, START, times)
    crown = heat_crown([POLYMER], GAS, BACK, START, times, PYROLYSIS)
    passed = times[np.argmax(plain.surface_temperature > ONSET)]
    begun = times[np.argmax(crown.recession > 1e-7)]
    assert begun == pytest.approx(passed, rel=0.15)


def test_more_char_retained_recedes_less() -> None:
    """Char on top is a resistance; shed char is none, whatever the yield."""
    kept = np.array([0.0, 0.2, 0.5, 0.8, 1.0])
    crown = run(how=Decomposition(ONSET, LATENT, 0.5, kept), end=60.0)
    assert np.diff(crown.recession[-1]).max() < 0
    shed = run(how=Decomposition(ONSET, LATENT, 0.5, 0.0), end=60.0)
    np.testing.assert_array_equal(shed.recession, run(end=60.0).recession)
    conducting = run(how=Decomposition(ONSET, LATENT, 0.5, 1.0, np.array([0.1, 0.2, 1.0])), end=60.0)
    assert np.diff(conducting.recession[-1]).min() > 0


def test_thick_char_follows_its_square_root_law() -> None:
    """Once char is the resistance, a parabola: rho dH_a s (R'/2 s + 1/h) = (T_gas - T_on) t, R' = yield/k_char.

    Integral of v = (T_gas - T_on)/(1/h + R' s)/(rho dH_a), dH_a with sensible heat; exact for latent heat alone, so
    the polymer starts at its onset.
    """
    resistance = 0.5 / 0.1
    how = Decomposition(ONSET, LATENT, 0.5, 1.0, 0.1)
    times = np.array([5.0, 20.0, 60.0])
    crown = heat_crown([POLYMER], GAS, Film(0.0, ONSET), ONSET - 1e-3, times, how)
    drive = (1300.0 - ONSET) * times / (DENSITY * LATENT)
    expected = (np.sqrt((1 / 300.0) ** 2 + 2 * resistance * drive) - 1 / 300.0) / resistance
    assert crown.recession == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("change", "sign"),
    [
        ({"gasification_heat": np.array([1.5e6, 2e6, 3e6])}, -1),
        ({"onset": np.array([600.0, 680.0, 760.0])}, -1),
        ({"density": np.array([1000.0, 1200.0, 1500.0])}, -1),
    ],
    ids=["latent heat", "onset", "density"],
)
def test_monotone_in_what_resists(change: dict[str, Floats], sign: int) -> None:
    """More latent heat, a higher onset or more mass to lose: less recession."""
    crown = run(how=replace(PYROLYSIS, **change), end=25.0)
    assert np.all(np.diff(crown.recession[-1]) * sign > 0)


@pytest.mark.parametrize("char", [0.0, 0.5])
@pytest.mark.parametrize("curved", [False, True])
def test_energy_with_decomposition(char: float, curved: bool) -> None:
    """in = out + ring + stored + lost, to 1e-6 of what came in."""
    knots, values = np.array([300.0, 480.0, 500.0, 520.0, 900.0]), np.array([1300.0, 2000.0, 8000.0, 2200.0, 2600.0])
    layer = replace(POLYMER, ring_conductance=40.0, ring_temperature=400.0)
    if curved:
        layer = replace(layer, heat_capacity_temperature=knots, heat_capacity_values=values)
    real = replace(GAS, radiation_emissivity=0.6, radiation_temperature=430.0, feedback=0.1, feedback_at=420.0)
    crown = run(real, layer, Decomposition(ONSET, LATENT, char, 1.0), end=40.0)
    left = crown.energy_in - crown.energy_out - crown.energy_ring - crown.energy_stored - crown.energy_lost
    there = np.isfinite(left)
    assert crown.recession[there].max() > 0.5e-3
    assert np.abs(left / crown.energy_in)[there].max() < 1e-6


def many_crowns() -> tuple[CrownHeat, Floats]:
    rng, count = np.random.default_rng(0), 400
    film, gas, onset = (rng.uniform(*ends, count) for ends in ((60.0, 400.0), (900.0, 1400.0), (600.0, 800.0)))
    layer = replace(POLYMER, thickness=rng.uniform(3e-3, 15e-3, count))
    how = Decomposition(onset, LATENT, rng.uniform(0.0, 0.6, count), 1.0)
    return heat_crown([layer], Film(film, gas), BACK, START, np.linspace(5.0, 300.0, 60), how), onset


def test_many_draws_keep_their_energy_and_their_onset() -> None:
    """400 crowns at random: energy closes to 1e-6, no face passes its onset, some are consumed and some are not."""
    crown, onset = many_crowns()
    left = crown.energy_in - crown.energy_out - crown.energy_stored - crown.energy_lost
    assert np.nanmax(np.abs(left / crown.energy_in)) < 1e-6
    assert np.nanmax(crown.surface_temperature - onset) < 0.01
    assert 0.02 < np.isfinite(crown.consumed_at).mean() < 0.9


def test_recession_never_falls() -> None:
    """400 crowns at random: what is gone is gone, and none is gone before there is any recession."""
    crown, _ = many_crowns()
    assert crown.recession.min() >= 0.0
    assert np.diff(crown.recession, axis=0).min() >= 0.0


def test_energy_lost_is_latent_and_sensible_heat() -> None:
    """Every kilogram that leaves takes dH + c (T_on - T_0) with it."""
    crown = run(end=30.0)
    mass = DENSITY * crown.recession[-1]
    assert float(crown.energy_lost[-1]) == pytest.approx(mass * (LATENT + CAPACITY * (ONSET - START)), rel=5e-3)


def test_grid_and_steps_hardly_move_the_recession() -> None:
    """Default grid against four times as fine: within 2 % from a tenth of the thickness on."""
    times = np.linspace(2.0, 40.0, 20)
    usual = heat_crown([POLYMER], GAS, BACK, START, times, PYROLYSIS)
    fine = heat_crown([POLYMER], GAS, BACK, START, times, PYROLYSIS, cells=128, steps=768)
    deep = fine.recession > 0.6e-3
    assert deep.sum() > 5
    assert usual.recession[deep] == pytest.approx(fine.recession[deep], rel=0.02)


def test_consumed() -> None:
    """When the top layer is gone the crown says when, and has no temperature any more."""
    crown = run(Film(800.0, 1500.0), end=200.0)
    gone = crown.times > float(crown.consumed_at)
    assert 10.0 < float(crown.consumed_at) < 100.0
    assert np.isnan(crown.surface_temperature[gone]).all()
    assert np.isnan(crown.temperature[gone]).all()
    assert crown.recession[gone] == pytest.approx(6e-3)
    assert np.isfinite(crown.surface_temperature[~gone]).all()
    assert float(crown.time_to_reach(650.0, 5.9e-3)) <= float(crown.consumed_at) * 1.1
    assert np.isinf(run(Film(60.0, 800.0), end=20.0).consumed_at)


def test_depth_where_polymer_is_gone_counts_as_reached() -> None:
    """A depth that has receded has reached any temperature; NaN stands there, and only there."""
    crown = run(end=30.0)
    receded = float(crown.recession[-1])
    assert receded > 1e-3
    place = 0.5 * receded
    passed = np.interp(place, crown.recession, crown.times)
    assert float(crown.time_to_reach(5000.0, place)) == pytest.approx(passed, abs=0.6)
    missing = np.isnan(crown.temperature[-1])
    np.testing.assert_array_equal(missing, crown.depth < receded)
    assert np.isinf(crown.time_to_reach(5000.0, receded + 0.5e-3))


def test_second_layer_stays() -> None:
    """Only the top layer recedes; what is beneath keeps its depth and its temperatures."""
    stack = [replace(POLYMER, thickness=2e-3, contact_resistance=1e-4), Layer(3e-3, 20.0, 7800.0, 480.0)]
    crown = heat_crown(stack, GAS, BACK, START, np.linspace(1.0, 20.0, 20), PYROLYSIS)
    assert 0.1e-3 < crown.recession[-1] < 2e-3
    metal = crown.depth > 2e-3
    assert np.isfinite(crown.temperature[:, metal]).all()
    assert np.diff(crown.back_temperature).min() > 0


def test_temperature_just_beneath_the_moving_face() -> None:
    """Polymer that is still there has a temperature, also between the face and the first node left."""
    crown = run(end=30.0)
    beneath = float(crown.recession[-1]) + 0.01e-3
    assert crown.depth[crown.depth > crown.recession[-1]].min() > beneath
    assert 0.9 * ONSET < float(crown.temperature_at(beneath)[-1]) < ONSET
