"""What a print keeps of the polymer's strength, on a made-up polymer (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from judgement.piston.made_up_crown import case, material

from screening.judgement.draws.polymer import Polymer, draw_polymer

N = 20


def printed(
    direction: str = "crown flat on bed", solid: float = 1.0, bars: str = "moulded", **values: float
) -> Polymer:
    made, polymer = case(print_direction=direction), material(tensile_strength=80e6, **values)
    (row,) = polymer.values["tensile_strength"]
    told = replace(polymer, values={**polymer.values, "tensile_strength": (replace(row, bars=bars),)})
    return draw_polymer(made, told, np.full(N, solid), seed=0)


def test_upright_print_is_pulled_apart_across_its_layers() -> None:
    """Layers that hold each other by 0.6 of their strength leave a crown printed upright 0.6 of one printed flat, cold and hot."""
    flat, upright = (printed(way, layer_adhesion=0.6) for way in ("crown flat on bed", "crown upright"))
    assert upright.cold_strength / flat.cold_strength == pytest.approx([0.6] * N)
    hot = np.full(N, 400.0)
    assert upright.strength.at(hot) / flat.strength.at(hot) == pytest.approx([0.6] * N)


def test_flat_print_does_not_ask_its_layers() -> None:
    """0.6 or 0.9 between the layers is the same to a crown that bends within them."""
    assert np.array_equal(printed(layer_adhesion=0.6).cold_strength, printed(layer_adhesion=0.9).cold_strength)


def test_open_infill_carries_by_the_power_of_one_and_a_half() -> None:
    """0.64^1.5 = 0.512 of the solid print."""
    assert printed(solid=0.64).cold_strength / printed().cold_strength == pytest.approx([0.512] * N)


def test_print_is_no_stronger_than_the_moulded_bar() -> None:
    """80 MPa, and weaker in some draws."""
    cold = printed().cold_strength
    assert np.all(cold <= 80e6)
    assert cold.min() < 0.9 * 80e6


def test_strength_of_printed_bars_loses_nothing_to_printing_a_second_time() -> None:
    assert printed(bars="printed").cold_strength == pytest.approx([80e6] * N)


@pytest.mark.parametrize("bars", ["both", "not said"])
def test_of_bars_that_are_not_said_a_drawn_part_of_the_loss_is_taken(bars: str) -> None:
    """Between all of it and none in every draw; on the mean about half: of 0.75 to 1 about 0.9 (mean 0.883), 0.94."""
    some, all_of_it = printed(bars=bars).cold_strength, printed().cold_strength
    assert np.all((all_of_it <= some) & (some <= 80e6))
    assert np.mean(some) / 80e6 == pytest.approx(1 - 0.5 * (1 - 0.8833), abs=0.012)


@pytest.mark.parametrize(("elongation", "share"), [(0.02, 1.0), (0.055, 0.5), (0.10, 0.0)])
def test_what_breaks_below_a_drawn_strain_is_brittle(elongation: float, share: float) -> None:
    """The border is drawn evenly, 3 to 8 % for its middle nine tenths: 5.5 % lies in its middle."""
    assert np.mean(printed(elongation_at_break=elongation).brittle) == pytest.approx(share, abs=0.06)


def test_softening_is_the_melting_point_where_there_is_one() -> None:
    """Melting at 500 K above a transition of 480 K, or the transition alone."""
    melts = draw_polymer(
        case(), material("semicrystalline", melting_point=530.0, glass_transition=350.0), np.ones(N), 0
    )
    assert melts.softening == pytest.approx([530.0] * N)
    assert printed().softening == pytest.approx([480.0] * N)
