"""What the advice on the fit comes to, on a made-up piston (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from judgement.piston.made_up_crown import case, conditions, polymer

from screening.judgement.piston.fit_advice import FitAdvice, fit_advice

SKIRT = (49.5e-3, 49.6e-3, 49.7e-3)


def advised(
    land: float | None = 49.0e-3, swell: float | None = None, build: str = "all polymer", **changed: Any
) -> FitAdvice:
    contacts = {} if swell is None else {"soak": cast(Any, SimpleNamespace(volume_swell=swell))}
    sizes = None if land is None else np.array([land])
    return fit_advice(case(build), conditions(**changed), polymer(), SKIRT, sizes, contacts)


def test_gap_around_a_narrow_land_costs_compression() -> None:
    """Printed 0.1 mm larger, a land of 49.0 mm is 49.1: above the ring, 1 mm down, pi/4 (50^2 - 49.1^2) = 70.0 mm3; the metal
    piston's, 1 % narrower than the bore, leaves pi/4 (50^2 - 49.5^2) = 39.1. The 31.0 more, 1.5 times as dense as the chamber,
    count 46.5 mm3. V_s = pi/4 x 50^2 x 40 = 78,540, V_c = 78,540/7 = 11,220: (78,540 + 11,266.5)/11,266.5 = 7.971."""
    advice = advised(print_size_error=1e-4)
    assert advice.compression == pytest.approx([7.971] * 3, abs=1e-3)
    assert advice.compression_lost == pytest.approx([0.029] * 3, abs=1e-3)


def test_skirt_and_land_keep_their_sizes() -> None:
    """The land here is 49.0 mm, the skirt 49.5 to 49.7: each under its name."""
    advice = advised()
    assert advice.skirt == SKIRT
    assert advice.land == pytest.approx((49.0e-3,) * 3)


def test_land_is_no_larger_than_the_skirt_that_guides_it() -> None:
    """A land that could be 49.65 mm is held to 49.5 and 49.6 where the skirt is that, and keeps 49.65 beside 49.7."""
    assert advised(49.65e-3).land == pytest.approx((49.5e-3, 49.6e-3, 49.65e-3))


def test_end_gap_is_the_ring_s() -> None:
    """pi x 50 x 0.0005 = 0.0785 mm in every draw, see test_print_sizes.py."""
    assert advised().ring_gap == pytest.approx((0.0785e-3, 0.0785e-3), abs=1e-7)


def test_piston_that_stood_in_fuel_has_grown_by_a_third_of_its_swell() -> None:
    """3 % in volume are 1.03^(1/3) - 1 = 0.99 % in length: 0.495 mm of 50; of 0.9 % nothing is said; what dissolves never fits."""
    assert "grown by 0.50 mm on the diameter" in " ".join(advised(swell=0.03).sentences)
    assert "stood in the fuel" not in " ".join(advised(swell=0.009).sentences)
    assert "it dissolves" in " ".join(advised(swell=np.inf).sentences)


def test_skirt_s_cold_clearance_is_that_of_the_print() -> None:
    """50 - 49.5 - 0.1 = 0.40 mm."""
    assert "about 0.40 mm of clearance on the diameter" in advised(print_size_error=1e-4).sentences[0]


def test_unknown_land_is_left_out_and_metal_keeps_its_own() -> None:
    unknown, metal = advised(None), advised(build="metal cap")
    assert (unknown.land, unknown.compression) == (None, None)
    assert unknown.ring_gap is not None
    assert (metal.land, metal.compression, metal.ring_gap) == (None, None, None)


def test_skirt_s_clearance_is_told_as_a_share_of_the_bore_with_its_tilt_beside_what_bearings_have() -> None:
    """0.5 of 50 mm are 1 %; a guiding surface of 0.65 x 50 = 32.5 mm tilts by atan(0.5/32.5) = 0.88 degrees. Plastic bearings have
    0.15 to 1 %, metal ones 0.05 to 0.3 % (a published table of relative clearances, see sources.csv)."""
    said = advised().sentences[0]
    assert "0.50 mm of clearance on the diameter, 1 % of the bore" in said
    assert "32 mm long lets it tilt by 0.9 degrees" in said
    assert "plastic bearings have 0.15 to 1 % of their diameter, metal ones 0.05 to 0.3 %" in said


@pytest.mark.parametrize(("land", "flank", "holds"), [(49.1e-3, 1.30, True), (48.7e-3, 0.90, False)])
def test_ring_s_flank_is_what_the_land_s_gap_and_rounded_edges_leave(land: float, flank: float, holds: bool) -> None:
    """A ring 2.4 mm thick beside a land 0.9 or 1.3 mm smaller than the bore, pushed to one side, and 0.2 mm of edges: 1.3 mm is more
    than half of it, 0.9 mm less. The groove is 2.4 - 0.45 + 0.5 = 2.45 mm deep from a land 0.9 mm smaller."""
    said = " ".join(advised(land, ring_depth=2.4e-3, ring_back_clearance=0.5e-3).sentences)
    assert f"{flank:.2f} mm of it" in said
    assert ("less than half" in said) is not holds
    if holds:
        assert "groove 2.45 mm deep from the printed land" in said
