"""A gun's reading by itself, off a log and in the case: what the reader says arrives at the thermometer's formula."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.spied_cases import LOG
from judgement.spies import Spies

from screening.judgement.head.gun import read_gun
from screening.judgement.head.run_comparison import run_figures
from screening.judgement.head.run_log import read_log
from screening.physics.head.thermometry import surface_temperature
from screening.records.liquids.find_fuel import find_fuel

ICE = 273.15


def test_reading_setting_surface_and_surroundings_arrive(monkeypatch: pytest.MonkeyPatch) -> None:
    spies = Spies(monkeypatch, surface_temperature)
    found = read_gun(171 + ICE, "cast_iron", 0.93, 31 + ICE, 23 + ICE)
    call = spies.of("surface_temperature")[0]
    assert call["reading"] == 171 + ICE
    assert call["gun_emissivity"] == 0.93
    assert list(call["surface_emissivity"]) == [0.6, 0.75, 0.9]
    assert call["surroundings"] == 31 + ICE
    assert call["compensated_for"] == 23 + ICE
    assert [found.high, found.typical, found.low] == list(call["returned"])


def test_a_bright_head_reads_what_is_around_it() -> None:
    """Of 0.5 of the radiance of 400 K and 0.5 of its surroundings': the hotter these are, the colder the head is."""
    cold, hot = (read_gun(400.0, "oily_metal", 1.0, around, 290.0).typical for around in (290.0, 350.0))
    assert cold > hot + 5 > 405


def test_a_log_is_read_among_surroundings_as_cold_as_its_start(monkeypatch: pytest.MonkeyPatch) -> None:
    """It starts at 28 degC and settles at 151 degC."""
    spies = Spies(monkeypatch, surface_temperature)
    run_figures(read_log(LOG), find_fuel("ethanol"), "matt_black_paint", 0.93)
    for call in spies.of("surface_temperature"):
        assert call["surroundings"] == pytest.approx(28 + ICE, abs=0.5)
        assert call["compensated_for"] == pytest.approx(28 + ICE, abs=0.5)
        assert call["gun_emissivity"] == 0.93
    readings = [float(np.max(call["reading"])) for call in spies.of("surface_temperature")]
    assert max(readings) == pytest.approx(151 + ICE, abs=1.0)
