"""What to print and file so that a piston fits: against the trade's experience, the laws, and what is not known."""

from __future__ import annotations

import copy
import json

import numpy as np
import pytest

from screening import load_case, report_html, report_json, screen
from screening.judgement.choice.screening import Screening
from screening.judgement.piston.fit_advice import FitAdvice

DRAWS = 64


def advice(result: Screening, id: str) -> FitAdvice:
    fit = result.material(id).fit
    assert fit is not None
    return fit


@pytest.fixture(scope="module")
def bare() -> Screening:
    return screen(load_case("petrol_baseline"), DRAWS, materials=("abs", "pa66", "pps_gf", "tpu"))


def test_unfilled_polymer_loses_more_compression_than_a_filled_one(bare: Screening) -> None:
    """Common practice, no source: an unfilled polymer needs several times the metal's clearance, fibres halve its growth."""
    plain, filled = advice(bare, "pa66"), advice(bare, "pps_gf")
    assert plain.compression_lost is not None
    assert filled.compression_lost is not None
    assert plain.skirt[0] < filled.skirt[0] < 0.056
    assert plain.compression_lost[1] > filled.compression_lost[1]
    assert 0.0 < plain.compression_lost[1] < 1.0, "a gap costs tenths of a ratio, not whole ones"


def test_land_is_no_larger_than_the_skirt_that_guides_it(bare: Screening) -> None:
    for id in ("abs", "pa66", "pps_gf"):
        fit = advice(bare, id)
        assert fit.land is not None
        assert all(land <= skirt for land, skirt in zip(fit.land, fit.skirt, strict=True))
        assert list(fit.land) == sorted(fit.land)


def test_top_ring_is_given_about_the_usual_gap_or_more(bare: Screening) -> None:
    """A workshop textbook on small engines (2012, looked up): at least 0.004 of the bore in a metal piston; here the ring
    runs hotter, and the gap at which it just does not butt is told."""
    gap = advice(bare, "abs").ring_gap
    assert gap is not None
    assert 0.001 < gap[0] / 0.056 < gap[1] / 0.056 < 0.010


def test_growth_of_the_land_is_unknown_without_a_deflection_temperature(bare: Screening) -> None:
    fit = advice(bare, "tpu")
    assert fit.land is None
    assert fit.compression is None
    assert any("unknown" in sentence for sentence in fit.sentences)


def test_advice_is_told_on_the_page_and_in_the_document(bare: Screening) -> None:
    page, document = report_html(bare), json.loads(report_json(bare))
    assert "end gap" in page
    assert "compression ratio" in page
    told = document["materials"]["abs"]["fit"]
    land = advice(bare, "abs").land
    assert land is not None
    assert told["land_mm"] == pytest.approx([1e3 * size for size in land], abs=1e-3)
    assert document["materials"]["tpu"]["fit"]["land_mm"] is None


def test_metal_land_keeps_the_metal_pistons_sizes() -> None:
    capped = advice(screen(load_case("metal_cap_blend"), DRAWS, materials=("pei",)), "pei")
    assert (capped.land, capped.compression, capped.ring_gap) == (None, None, None)
    assert any("metal piston's" in sentence for sentence in capped.sentences)


def test_longer_land_costs_more_compression() -> None:
    document = copy.deepcopy(load_case("petrol_baseline").to_dict())
    lost = []
    for depth in (3.0, 6.0):
        document.setdefault("piston", {})["ring_groove_depth_mm"] = depth
        fit = advice(screen(load_case(document), DRAWS, materials=("pa66",)), "pa66")
        assert fit.compression_lost is not None
        lost.append(fit.compression_lost[1])
    assert lost[1] > 1.5 * lost[0] > 0
    assert np.isfinite(lost).all()
