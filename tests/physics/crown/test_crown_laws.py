"""Laws of the crown: order, conservation, draws apart from each other, units, hotter gas, refusals, times reached."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from numpy.typing import NDArray

from screening.errors import OutOfRange
from screening.physics.crown.conduction import Decomposition, Film, Layer, heat_crown, steady_crown
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.crown.grid import crown_times

Floats = NDArray[np.float64]
KNOTS = np.array([150.0, 370.0, 380.0, 480.0, 500.0, 520.0, 900.0])
CURVE = np.array([700.0, 1500.0, 1900.0, 2100.0, 9000.0, 2200.0, 2600.0])  # a glass step and a melting peak
POLYMER = Layer(6e-3, 0.25, 1200.0, 1500.0)
CURVED = replace(POLYMER, heat_capacity_temperature=KNOTS, heat_capacity_values=CURVE)
GAS = Film(150.0, 1000.0)
REAL_GAS = Film(150.0, 1000.0, feedback=0.12, feedback_at=420.0, radiation_emissivity=0.7, radiation_temperature=430.0)
BACK = Film(80.0, 360.0)
PYROLYSIS = Decomposition(680.0, 2e6, 0.2, 0.5)
RESULTS = [field.name for field in fields(CrownHeat) if field.name not in ("times", "depth")]


def order(results: list[Floats]) -> Floats:
    """Observed order of three results, each refined by two (Roache 1998, from memory)."""
    coarse, medium, fine = results
    return np.asarray(np.log2(np.abs(coarse - medium) / np.abs(medium - fine)))


# ---------------------------------------------------------------- order of convergence


def test_second_order_in_space() -> None:
    """Constant properties, 32-64-128 cells at 768 steps: face, back and heat stored converge with 1.8-2.2."""
    results = []
    for cells in (32, 64, 128):
        crown = heat_crown([POLYMER], GAS, BACK, 300.0, [10.0, 60.0, 200.0], cells=cells, steps=768)
        results.append(np.concatenate([crown.surface_temperature, crown.back_temperature, crown.energy_stored]))
    found = order(results)
    assert found.min() > 1.8
    assert found.max() < 2.2


def test_second_order_in_time() -> None:
    """Constant properties, geometric steps 96-192-384 on the same cells: every node converges with 1.8-2.2."""
    results = []
    for steps in (96, 192, 384):
        crown = heat_crown([POLYMER], GAS, BACK, 300.0, [100.0], steps=steps)
        results.append(np.concatenate([crown.temperature[0], crown.energy_stored, crown.energy_in]))
    found = order(results)
    assert found.min() > 1.8
    assert found.max() < 2.2


def test_varying_heat_capacity_converges_without_claim_of_order() -> None:
    """With a melting peak no order is claimed; the default grid and steps are within 3 K of eight times as fine."""
    times = [3.0, 10.0, 30.0, 100.0]
    usual = heat_crown([CURVED], REAL_GAS, BACK, 300.0, times)
    fine = heat_crown([CURVED], REAL_GAS, BACK, 300.0, times, cells=256, steps=768)
    assert usual.surface_temperature == pytest.approx(fine.surface_temperature, abs=3.0)
    assert usual.back_temperature == pytest.approx(fine.back_temperature, abs=3.0)


# ---------------------------------------------------------------- conservation


@pytest.mark.parametrize(
    "layers",
    [
        [POLYMER],
        [CURVED],
        [Layer(1e-3, 150.0, 2700.0, 900.0, 2e-4, ring_conductance=3000.0, ring_temperature=420.0), CURVED],
        [replace(CURVED, ring_conductance=200.0, ring_temperature=400.0)],
    ],
    ids=["plain", "curve", "metal cap with ring", "ring in polymer"],
)
@pytest.mark.parametrize("film", [GAS, REAL_GAS], ids=["film", "film, radiation and feedback"])
def test_energy_in_is_out_and_stored(layers: list[Layer], film: Film) -> None:
    """in = out + ring + stored to 1e-6 of what came in, at the solver's own steps and between them."""
    crown = heat_crown(layers, film, BACK, 300.0, np.geomspace(0.02, 200.0, 60))
    left = crown.energy_in - crown.energy_out - crown.energy_ring - crown.energy_stored
    assert np.abs(left / crown.energy_in).max() < 1e-6
    assert np.all(crown.energy_lost == 0.0)


def test_energy_in_is_the_film_s_own_work() -> None:
    """What the faces report is what a film of these faces gives: trapezoidal sum over a dense history, 0.2 %."""
    times = crown_times(100.0, 3000)[1:]
    crown = heat_crown([CURVED], REAL_GAS, BACK, 300.0, times)
    face = crown.surface_temperature
    h, gas = 150.0, 1000.0 + 0.12 * (face - 420.0)
    flux = h * (gas - face) - 0.7 * 5.670374419e-8 * (face**4 - 430.0**4)
    came = np.trapezoid(flux, times) + flux[0] * times[0]
    went = np.trapezoid(80.0 * (crown.back_temperature - 360.0), times)
    assert float(crown.energy_in[-1]) == pytest.approx(came, rel=2e-3)
    assert float(crown.energy_out[-1]) == pytest.approx(went, rel=1e-2)


def test_energy_stored_is_the_integral_of_the_heat_capacity() -> None:
    """A crown that is warm through and through has stored rho L (integral of c dT), c straight between its knots."""
    crown = heat_crown([CURVED], Film(2e3, 600.0), Film(2e3, 600.0), 300.0, [3000.0])
    between = np.concatenate([[300.0], KNOTS[(KNOTS > 300) & (KNOTS < 600)], [600.0]])
    content = np.trapezoid(np.interp(between, KNOTS, CURVE), between)
    assert crown.temperature[0] == pytest.approx(600.0, abs=0.01)
    assert float(crown.energy_stored[0]) == pytest.approx(1200.0 * 6e-3 * content, rel=1e-4)


# ---------------------------------------------------------------- draws


def many(count: int, seed: int = 5) -> dict[str, Any]:
    rng = np.random.default_rng(seed)
    return {
        "thickness": rng.uniform(3e-3, 9e-3, count),
        "conductivity": rng.uniform(0.15, 0.4, count),
        "coefficient": rng.uniform(60.0, 400.0, count),
        "gas": rng.uniform(850.0, 1400.0, count),
        "emissivity": rng.uniform(0.0, 0.9, count),
        "onset": rng.uniform(560.0, 800.0, count),
        "char": rng.uniform(0.0, 0.6, count),
    }


def run_many(draws: dict[str, Any], decomposing: bool) -> CrownHeat:
    top = replace(CURVED, thickness=draws["thickness"], conductivity=draws["conductivity"])
    film = replace(
        REAL_GAS, coefficient=draws["coefficient"], temperature=draws["gas"], radiation_emissivity=draws["emissivity"]
    )
    how = Decomposition(draws["onset"], 2e6, draws["char"], 0.7, vapour_heat_capacity=2e3) if decomposing else None
    return heat_crown([top], film, BACK, 300.0, np.geomspace(0.2, 200.0, 20), how)


@pytest.mark.parametrize("decomposing", [False, True], ids=["whole", "decomposing"])
def test_a_draw_does_not_depend_on_its_neighbours(decomposing: bool) -> None:
    """Draws in any order and grouping give the same numbers to the last bit."""
    count = 150
    draws = many(count)
    whole = run_many(draws, decomposing)
    rng = np.random.default_rng(11)
    for pieces in (1, 2, 5):
        shuffled = rng.permutation(count)
        for group in np.array_split(shuffled, pieces):
            part = run_many({name: value[group] for name, value in draws.items()}, decomposing)
            for name in RESULTS:
                expected = np.broadcast_to(getattr(whole, name), (*getattr(whole, name).shape[:-1], count))[..., group]
                np.testing.assert_array_equal(getattr(part, name), expected, err_msg=name)
    alone = run_many({name: value[37:38] for name, value in draws.items()}, decomposing)
    np.testing.assert_array_equal(alone.temperature[..., 0], whole.temperature[..., 37])


NAN_FIELDS = [
    *[("layer", field.name) for field in fields(Layer) if field.name != "contact_resistance"],
    *[("film", field.name) for field in fields(Film)],
    *[("back", name) for name in ("coefficient", "temperature")],
    *[
        ("decomposition", name)
        for name in ("onset", "gasification_heat", "char_yield", "char_conductivity", "vapour_heat_capacity")
    ],
]


@pytest.mark.parametrize(("part", "name"), NAN_FIELDS)
def test_nan_in_one_draw_leaves_the_others_alone(part: str, name: str) -> None:
    """NaN in gives NaN out in that draw and nothing else, to the last bit."""
    layer = replace(CURVED, ring_conductance=50.0, ring_temperature=400.0)
    film = replace(REAL_GAS, coefficient=200.0, temperature=1200.0, coefficient_feedback=0.01)
    sound = {"layer": layer, "film": film, "back": BACK, "decomposition": PYROLYSIS}
    if name == "heat_capacity":
        sound["layer"] = replace(layer, heat_capacity_temperature=None, heat_capacity_values=None)
    clean = np.asarray(getattr(sound[part], name), dtype=np.float64)
    spread = np.repeat(clean[..., None], 5, axis=-1)
    broken = spread.copy()
    broken[..., 3] = np.nan
    results = []
    for value in (spread, broken):
        own = {**sound, part: replace(sound[part], **{name: value})}  # type: ignore[type-var]
        results.append(
            heat_crown([own["layer"]], own["film"], own["back"], 300.0, [1.0, 20.0, 60.0], own["decomposition"])  # type: ignore[list-item, arg-type]
        )
    good, bad = results
    others = np.array([0, 1, 2, 4])
    np.testing.assert_array_equal(bad.temperature[..., others], good.temperature[..., others])
    assert np.isnan(bad.temperature[..., 3]).all()
    assert np.isnan(bad.surface_temperature[:, 3]).all()
    assert np.isnan(bad.energy_in[:, 3]).all()
    assert np.isnan(bad.time_to_reach(500.0, 0.0)[3])


def test_single_and_drawn_agree() -> None:
    """A run without draws is a run with one draw, without its axis."""
    plain = heat_crown([CURVED], REAL_GAS, BACK, 300.0, [1.0, 30.0])
    drawn = heat_crown([CURVED], REAL_GAS, BACK, np.full(3, 300.0), [1.0, 30.0])
    assert plain.temperature.ndim == 2
    assert drawn.temperature.shape == (*plain.temperature.shape, 3)
    np.testing.assert_array_equal(drawn.temperature[..., 1], plain.temperature)


# ---------------------------------------------------------------- units


@pytest.mark.parametrize("metre", [1.0, 3.7])
@pytest.mark.parametrize("kilogram", [1.0, 0.13])
@pytest.mark.parametrize("second", [1.0, 0.29])
@pytest.mark.parametrize("kelvin", [1.0, 1.9])
def test_results_scale_with_the_units(metre: float, kilogram: float, second: float, kelvin: float) -> None:
    """A crown told in other units is the same crown (without radiation, whose constant has units of its own).

    The run ends within 0.096 s in either unit, where steps are even: the first step of 1 ms is the only second that
    the solver knows. It stops Newton at 1 mK, the only kelvin, so what is left is that.
    """
    joule = kilogram * metre**2 / second**2
    watt = joule / second
    film_unit = watt / metre**2 / kelvin

    def crown(m: float, w: float, s: float, kg: float, t: float, h: float, j: float) -> CrownHeat:
        layer = Layer(
            3e-5 * m, 0.25 * w / m / t, 1200.0 * kg / m**3, 1500.0 * j / kg / t, ring_conductance=800.0 * h,
            ring_temperature=380.0 * t, heat_capacity_temperature=KNOTS * t, heat_capacity_values=CURVE * j / kg / t,
        )  # fmt: skip
        film = Film(20e3 * h, 900.0 * t, feedback=0.1, feedback_at=400.0 * t, coefficient_feedback=2.0 * h / t)
        return heat_crown([layer], film, Film(80.0 * h, 360.0 * t), 300.0 * t, np.array([1e-3, 5e-3, 2e-2]) * s)

    one = crown(1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0)
    other = crown(metre, watt, second, kilogram, kelvin, film_unit, joule)
    assert one.surface_temperature[-1] > 600.0
    assert other.depth / metre == pytest.approx(one.depth, rel=1e-12)
    assert other.temperature / kelvin == pytest.approx(one.temperature, rel=1e-6)
    assert other.energy_in / (joule / metre**2) == pytest.approx(one.energy_in, rel=1e-5)
    assert other.energy_stored / (joule / metre**2) == pytest.approx(one.energy_stored, rel=1e-5)


# ---------------------------------------------------------------- monotone


@settings(max_examples=25, deadline=None)
@given(
    gas=st.floats(500.0, 1500.0),
    hotter=st.floats(1.0, 400.0),
    film=st.floats(30.0, 600.0),
    thickness=st.floats(2e-3, 15e-3),
    conductivity=st.floats(0.1, 200.0),
    curved=st.booleans(),
)
def test_hotter_gas_is_never_cooler_anywhere(
    gas: float, hotter: float, film: float, thickness: float, conductivity: float, curved: bool
) -> None:
    """The maximum principle: at no depth and no time does a hotter gas leave a cooler crown (to Newton's 1 mK)."""
    layer = replace(CURVED if curved else POLYMER, thickness=thickness, conductivity=conductivity)
    both = heat_crown(
        [layer],
        Film(film, np.array([gas, gas + hotter])),
        BACK,
        300.0,
        np.concatenate([[1e-3], np.geomspace(0.05, 300.0, 25)]),
    )
    assert np.diff(both.temperature, axis=2).min() > -2e-3
    assert np.diff(both.energy_in, axis=1).min() > 0


def test_steady_state_is_where_the_transient_ends() -> None:
    """With a curve, radiation, feedback and a ring, too."""
    layers = [replace(CURVED, ring_conductance=60.0, ring_temperature=400.0)]
    late = heat_crown(layers, REAL_GAS, BACK, 300.0, [20000.0])
    steady = steady_crown(layers, REAL_GAS, BACK)
    assert late.temperature[0] == pytest.approx(steady.temperature, abs=0.01)


# ---------------------------------------------------------------- time to reach


def test_time_to_reach_is_the_history_read_backwards() -> None:
    """A depth is at the asked temperature at the time found, to 0.7 K on 96 looks; inf where it never gets there."""
    times = crown_times(200.0)[1:]
    depth = np.array([0.0, 1e-3, 3e-3, 6e-3])
    crown = heat_crown([POLYMER], Film(150.0, np.full(4, 1000.0)), BACK, 300.0, times)
    for wanted in (350.0, 450.0, 550.0):
        reached = crown.time_to_reach(wanted, depth)
        for place in np.flatnonzero(np.isfinite(reached)):
            again = heat_crown([POLYMER], Film(150.0, 1000.0), BACK, 300.0, [float(reached[place]), 200.0])
            assert float(again.temperature_at(depth[place])[0]) == pytest.approx(wanted, abs=0.7)
        assert np.all(np.diff(reached[np.isfinite(reached)]) > 0)
    assert crown.time_to_reach(999.0, 0.0).tolist() == [np.inf] * 4
    assert crown.time_to_reach(290.0, 0.0).tolist() == [0.0] * 4
    assert np.isnan(crown.time_to_reach(400.0, 7e-3)).all()


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"layers": []}, "layers: none given"),
        ({"layers": [replace(POLYMER, thickness=0.0)]}, "layer 1, thickness: got 0; must be above 0"),
        ({"layers": [POLYMER, replace(POLYMER, conductivity=-1.0)]}, "layer 2, conductivity: got -1; must be above 0"),
        ({"layers": [replace(POLYMER, density=np.inf)]}, "layer 1, density: got inf; must be finite"),
        (
            {"layers": [replace(POLYMER, contact_resistance=-1e-4)]},
            "contact_resistance: got -0.0001; must be 0 or more",
        ),
        ({"layers": [replace(POLYMER, ring_conductance=5.0)]}, "layer 1, ring_temperature: not given"),
        ({"layers": [replace(POLYMER, heat_capacity_values=CURVE)]}, "give both or neither"),
        ({"film": Film(-5.0, 900.0)}, "film, coefficient: got -5; must be 0 or more"),
        ({"film": Film(5.0, 900.0, radiation_emissivity=1.2)}, "radiation_emissivity: got 1.2; must be at most 1"),
        ({"film": Film(5.0, 900.0, feedback=1.0, feedback_at=400.0)}, "feedback: got 1; must be below 1"),
        ({"film": Film(5.0, 900.0, feedback=0.1)}, "film, feedback_at: not given"),
        ({"back": Film(5.0, 400.0, radiation_emissivity=0.5)}, "back, radiation_temperature: not given"),
        ({"initial": 0.0}, "start, initial: got 0; must be above 0"),
        ({"initial": np.full(3, 300.0), "film": Film(np.full(4, 5.0), 900.0)}, "all must have the same number"),
        ({"film": Film(np.ones((2, 2)), 900.0)}, "must be a number or one for each draw"),
        ({"times": [1.0, 1.0]}, "times: must rise"),
        ({"times": [-1.0, 1.0]}, "times: must rise"),
        ({"times": [1.0, np.nan]}, "must be one row of finite seconds"),
        ({"cells": 3}, "cells: 3 in a layer; at least 4 are needed"),
        ({"cells": [8, 8]}, "cells: 2 numbers for 1 layers"),
        ({"steps": 3}, "steps: got 3; at least 4 are needed"),
        ({"decomposition": Decomposition(0.0, 2e6)}, "onset: got 0; must be above 0"),
        ({"decomposition": Decomposition(700.0, 2e6, 1.1)}, "char_yield: got 1.1; must be at most 1"),
        (
            {"decomposition": Decomposition(700.0, 2e6, vapour_heat_capacity=-1.0)},
            "vapour_heat_capacity: got -1; must be 0 or more",
        ),
    ],
)
def test_refused(change: dict[str, Any], text: str) -> None:
    """What no crown can have is refused with the field and the reason."""
    usual: dict[str, Any] = {"layers": [POLYMER], "film": GAS, "back": BACK, "initial": 300.0, "times": [10.0]}
    with pytest.raises(OutOfRange) as caught:
        heat_crown(**{**usual, **change})
    assert text in str(caught.value)


def test_knots_must_rise() -> None:
    """A heat capacity curve that runs back is refused."""
    layer = replace(POLYMER, heat_capacity_temperature=[300.0, 290.0], heat_capacity_values=[1e3, 2e3])
    with pytest.raises(OutOfRange, match="heat_capacity_temperature"):
        heat_crown([layer], GAS, BACK, 300.0, [10.0])
