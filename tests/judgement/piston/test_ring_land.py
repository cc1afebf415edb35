"""When the top ring sinks into its land, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import conditions, heat, polymer, stack, warming

from screening.judgement.piston.ring_land import time_of_ring_sinking

HEAT = heat(warming(start=320.0, under=20e3))  # 20 K colder each mm


def test_ring_sinks_when_the_grooves_depth_is_soft_and_later_as_the_bore_cools_its_side() -> None:
    """0.4 x 50 = 20 MPa are left at 300 + 30/0.25 = 420 K. The groove lies 1 mm beneath the face: 300 K after 1 s, 20 K more a
    doubling, 420 K after 2^6 = 64 s; the bore's cooling makes that 1.5 x 64 = 96 s. (3 mm beneath, 1 mm from the underside,
    it would be 380 K at the end.)"""
    assert time_of_ring_sinking(conditions(), polymer(), stack(), HEAT) == pytest.approx([96.0])


def test_stiffer_ring_contact_delays_it_in_proportion() -> None:
    """64 s times 1, 1.2 and 2."""
    draws = conditions(3, ring_land_side_cooling=[1.0, 1.2, 2.0])
    ends = time_of_ring_sinking(draws, polymer(3), stack(3), heat(warming(start=320.0, under=20e3) * np.ones(3)))
    assert ends == pytest.approx([64.0, 76.8, 128.0])


def test_share_of_the_cold_strength_sets_the_temperature() -> None:
    """0.6 x 50 = 30 MPa are left at 380 K, after 2^4 = 16 s at the groove: 24 s."""
    draws = conditions(ring_land_strength_share=0.6)
    assert time_of_ring_sinking(draws, polymer(), stack(), HEAT) == pytest.approx([24.0])


def test_groove_in_a_metal_cap_has_no_polymer_land_and_under_a_coating_it_has() -> None:
    assert time_of_ring_sinking(conditions(), polymer(), stack(cap=0.001), HEAT).tolist() == [np.inf]
    coated = stack(cap=0.001, groove_in_metal=False)
    assert time_of_ring_sinking(conditions(), polymer(), coated, HEAT) == pytest.approx([96.0])
