"""The jet that a fuel needs against the case's reference fuel: the fuel above, the reference beneath, by hand."""

from __future__ import annotations

import copy

import pytest
from judgement.spied_cases import GIVEN
from judgement.spies import Spies

from screening import load_case
from screening.judgement.choice import what_if as changes
from screening.judgement.choice.screening import screen
from screening.records.liquids.find_fuel import mixture_setting

AIR = 28.9647 / 0.20948 / 1000
"""Air by mass that holds a mole of oxygen [kg/mol], dry, US Standard Atmosphere 1976 (from memory)."""
SPIRITS_AIR, WOOD_SPIRITS_AIR = 3 * AIR / 0.046069, 1.5 * AIR / 0.032042


def test_more_or_less_fuel_by_the_ratio_of_air_needs() -> None:
    """CH4O takes 1.5 O2 a mole of 32.04 g and C2H6O 3 of 46.07 g: of the spirit 0.72 times as much passes."""
    case = load_case(GIVEN)
    setting = mixture_setting(case.fuel, case.reference_fuel)
    assert setting.fuel_mass_ratio == pytest.approx(WOOD_SPIRITS_AIR / SPIRITS_AIR, rel=2e-3)
    assert setting.jet_area_ratio == pytest.approx(WOOD_SPIRITS_AIR / SPIRITS_AIR * (797 / 811) ** 0.5, rel=2e-3)


def test_same_power_on_the_reference_fuel_burns_more_of_the_thinner_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """27.1 MJ/kg of 811 kg/m3 against 19.7 MJ/kg of 797 kg/m3: 83 mL become 116."""
    spies = Spies(monkeypatch, screen)
    case = load_case(copy.deepcopy(GIVEN))
    changes.what_if(case, "workshop_plastic", draws=10)
    other = spies.of("screen")[-1]["case"]
    assert other.fuel.name == "wood spirit"
    assert other.operation.burned_volume == pytest.approx(83e-6 * 27.1 * 811 / (19.7 * 797), rel=1e-6)
