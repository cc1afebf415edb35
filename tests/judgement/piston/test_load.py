"""The pressure on the crown, on a made-up engine (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from judgement.piston.made_up_crown import case, conditions, gas

from screening.judgement.case.case import CHOKED, GOVERNED, HELD, NOT_KNOWN, Case
from screening.judgement.piston.load import crown_load

TWENTY_FIVE_CYCLES = {"start_lasts": 25 / 15}
"""30 rev/s are 15 cycles a second."""


def started(how: str) -> Case:
    return replace(case(), operation=replace(case().operation, start=how))


def test_running_load_is_the_highest_peak_less_the_air_beneath() -> None:
    """Cycles that do not scatter have 20 bar each: 20 - 1 = 19 bar (the air added: 21)."""
    assert crown_load(case(), conditions(), gas()).running == pytest.approx([19e5], rel=1e-3)


def test_highest_of_so_many_cycles_lies_higher_the_more_they_scatter_and_below_what_the_charge_can_give() -> None:
    """A mean of 20 bar lies at (20 - 11)/(59 - 11) = 0.1875 of the way, 10 % of it at 2/48 = 0.0417: the highest of 1,500
    cycles of 100 s lies some 3.2 to 4 standard deviations up (normal 3.2; a beta's upper tail is longer), 26.4 to 28 bar."""
    running = crown_load(case(), conditions(running_variation=0.1), gas()).running
    assert 25.4e5 < running[0] < 27.5e5
    wild = crown_load(case(), conditions(running_variation=2.0), gas()).running
    assert wild[0] <= 58e5


def test_starting_load_is_the_highest_of_the_full_charges_that_follow_less_the_air_beneath() -> None:
    """32.6 bar mean between 11 and 59, scatter 10 %, 25 cycles: x 0.45, sd 0.0679; the beta's 0.96 quantile is 0.571:
    11 + 0.571 x 48 = 38.4 bar, 37.4 over the air."""
    start = crown_load(started(GOVERNED), conditions(**TWENTY_FIVE_CYCLES), gas()).stages[0]
    assert start.pressure == pytest.approx([37.4e5], rel=2e-3)
    assert start.lasts == pytest.approx([25 / 15])


def test_strokes_of_milliseconds_find_the_yield_strength_higher() -> None:
    """Over the gain of 1.25."""
    start = crown_load(case(), conditions(), gas()).stages[0]
    assert start.pressure_to_flow == pytest.approx(start.pressure / 1.25)


def test_not_known_is_governed_and_a_held_throttle_stands_beside_it() -> None:
    draws = conditions(**TWENTY_FIVE_CYCLES)
    unknown, governed, held = (crown_load(started(how), draws, gas()) for how in (NOT_KNOWN, GOVERNED, HELD))
    assert unknown.start_pressure == pytest.approx(governed.start_pressure)
    assert held.start_pressure == pytest.approx(governed.held.pressure)
    assert held.start_pressure[0] < governed.start_pressure[0]


def test_a_governed_opening_follows_the_choke() -> None:
    """1 s on the choke, 25 bar mean, then 25/15 s open as without one: each stage has its own cycles and its own load."""
    draws = conditions(**TWENTY_FIVE_CYCLES)
    choked, governed = (crown_load(started(how), draws, gas()) for how in (CHOKED, GOVERNED))
    assert len(choked.stages) == 2
    first, second = choked.stages
    assert (first.lasts[0], second.lasts[0]) == pytest.approx((1.0, 1 + 25 / 15))
    assert second.pressure == pytest.approx(governed.stages[0].pressure)
    assert first.pressure[0] < second.pressure[0]
    times = np.array([0.0, 0.5, 2.0, 3.0])
    felt = [first.pressure[0], first.pressure[0], second.pressure[0], choked.running[0]]
    assert choked.pressure_at(times)[:, 0] == pytest.approx(felt)
    flow = [first.pressure_to_flow[0]] * 2 + [second.pressure_to_flow[0], choked.running[0]]
    assert choked.pressure_to_flow_at(times)[:, 0] == pytest.approx(flow)
    assert choked.start_pressure == pytest.approx(second.pressure)
