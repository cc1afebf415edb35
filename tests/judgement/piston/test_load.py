"""The pressure on the crown, on a made-up engine (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import pytest
from judgement.piston.made_up_crown import conditions, gas

from screening.judgement.piston.load import crown_load


def test_running_load_is_the_mean_peak_and_three_deviations_less_the_air_beneath() -> None:
    """20 bar (1 + 3 x 0.1) - 1 bar = 25 bar (one deviation would be 21, the air added 27)."""
    assert crown_load(conditions(), gas()).running == pytest.approx([25e5])


def test_starting_load_is_the_full_charges_peak_and_two_deviations_less_the_air_beneath() -> None:
    """30 bar (1 + 2 x 0.1) - 1 bar = 35 bar (three deviations would be 38)."""
    assert crown_load(conditions(), gas()).starting == pytest.approx([35e5])


def test_strokes_of_milliseconds_find_the_yield_strength_higher() -> None:
    """35 bar / 1.25 = 28 bar is what a start asks of a plastic that has no time to flow."""
    assert crown_load(conditions(), gas()).starting_flow == pytest.approx([28e5])
