"""When the skirt seizes, on a made-up piston (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from judgement.piston.made_up_crown import case, conditions, polymer

from screening.judgement.piston.seizure import skirt_fit, skirt_temperature

COLD = {"liner": 300.0, "crankcase": 300.0}  # as the air: nothing grows
TIMES = np.array([0.0, 1.0, 1e6])


def seizes(
    limits: tuple[float, float], drawn_size: float, clearance: float | None = None, **changed: Any
) -> list[bool]:
    """Return whether the skirt ever seizes at two limits of its interference [m] that stand close to the reckoned one."""
    draws = conditions(2, seizure_interference=limits, **changed)
    plastic = polymer(2)
    warm = skirt_temperature(draws, plastic, TIMES)
    fit = skirt_fit(case(cold_clearance=clearance), draws, plastic, TIMES, warm, drawn_size)
    return np.isfinite(fit.seizes_at).tolist()


def test_skirt_is_printed_larger_than_drawn_and_grips_by_half_of_what_it_is_too_large() -> None:
    """Drawn at 50.15 mm and printed 0.05 mm larger, 50.20 mm in a bore of 50.00: 0.10 mm on the radius. (With the error taken
    off: 0.05 mm.)"""
    assert seizes((0.099e-3, 0.101e-3), 50.15e-3, print_size_error=0.05e-3, **COLD) == [True, False]


def test_given_cold_clearance_is_on_the_diameter_and_stands_instead_of_the_drawn_size() -> None:
    """50.00 - 0.10 mm drawn, 0.40 mm larger printed: 50.30 mm, 0.15 mm on the radius, whatever size is advised. (On the radius:
    0.10 mm; passed over: 0.025.)"""
    limits = (0.149e-3, 0.151e-3)
    assert seizes(limits, 49.65e-3, 0.10e-3, print_size_error=0.40e-3, **COLD) == [True, False]


def test_skirt_and_bore_grow_from_the_air_s_temperature() -> None:
    """Settled between a bore of 400 K (300 W/m2K on a round of 25 mm) and a crankcase of 360 K (100 W/m2K on the inner 20 mm), a
    skirt that conducts well has (300 x 25 x 400 + 100 x 20 x 360)/(300 x 25 + 100 x 20) = 391.6 K: it grows by
    8e-5 x 91.6 = 0.00733, the bore by 1e-5 x 100 = 0.001. Drawn at 49.90 mm: (49.90 x 1.00733 - 50 x 1.001)/2 = 0.1079 mm."""
    draws = conditions(2, seizure_interference=(0.107e-3, 0.109e-3))
    conducts = polymer(2, thermal_conductivity=1e3)
    warm = skirt_temperature(draws, conducts, TIMES)
    fit = skirt_fit(case(), draws, conducts, TIMES, warm, 49.90e-3)
    assert warm[-1] == pytest.approx([391.6, 391.6], abs=0.1)
    assert np.isfinite(fit.seizes_at).tolist() == [True, False]


def test_copy_has_the_metal_parts_clearance() -> None:
    """50 - 0.002 x 50 = 49.90 mm, printed 0.40 mm larger: 0.15 mm on the radius."""
    draws = conditions(2, seizure_interference=(0.149e-3, 0.151e-3), print_size_error=0.40e-3, **COLD)
    plastic = polymer(2)
    fit = skirt_fit(case(), draws, plastic, TIMES, skirt_temperature(draws, plastic, TIMES), 49.0e-3)
    assert np.isfinite(fit.copy_seizes_at).tolist() == [True, False]
    assert np.isinf(fit.seizes_at).all()
