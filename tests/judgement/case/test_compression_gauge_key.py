"""The case's compression gauge: what stands for the ratio, what is refused, and what is said where the two disagree."""

from __future__ import annotations

from typing import Any

import pytest

from screening.errors import CaseError
from screening.judgement.case.case import Case
from screening.judgement.case.case_file import case_schema, load_case
from screening.judgement.case.compression_gauge import gauge_doubt
from screening.judgement.choice.screening import screen


def engine_with(**engine: Any) -> Case:
    return load_case(load_case("petrol_baseline").to_dict() | {"engine": {"displacement_cc": 98} | engine})


def doubt(**engine: Any) -> str:
    return gauge_doubt(engine_with(**engine).engine, "compression_ratio" in engine)


def test_the_gauges_ratio_stands_for_the_one_not_given() -> None:
    """Half the stroke's rod and bore do not matter: 6.7 at 8.3 bar, as worked by hand for the case's way to physics."""
    assert engine_with(compression_gauge_bar=8.3).engine.compression_ratio == pytest.approx(6.7, abs=0.03)
    assert engine_with(compression_gauge_bar=8.3, compression_ratio=8).engine.compression_ratio == 8


@pytest.mark.parametrize("reading", [0, -8, 120, 830_000])
def test_nonsense_is_refused_with_what_is_allowed(reading: float) -> None:
    """120 is a reading in psi, 830,000 one in pascal."""
    with pytest.raises(CaseError) as refused:
        engine_with(compression_gauge_bar=reading)
    assert [str(fault) for fault in refused.value.faults] == [
        f"engine.compression_gauge_bar: got {reading:g}; allowed 3 to 20 bar"
    ]


def test_a_rod_too_short_is_said_of_the_rod_alone() -> None:
    with pytest.raises(CaseError) as refused:
        engine_with(bore_mm=56, stroke_mm=40, displacement_cc=98.5, rod_length_mm=20, compression_gauge_bar=8)
    assert [fault.where for fault in refused.value.faults] == ["engine.rod_length_mm"]


def test_a_gauge_that_fits_is_not_doubted() -> None:
    assert doubt() == doubt(compression_ratio=8) == ""
    assert doubt(compression_gauge_bar=9.5) == ""
    assert doubt(compression_gauge_bar=10, compression_ratio=8) == ""


def test_a_gauge_far_under_the_ratio_given_names_the_decompressor() -> None:
    words = doubt(compression_gauge_bar=4, compression_ratio=8.5)
    assert "the case gives 8.5, which is what was taken" in words
    assert "the decompressor on" in words
    assert "engine.compression_gauge_bar" in words


def test_a_gauge_far_above_the_ratio_given_looks_elsewhere() -> None:
    words = doubt(compression_gauge_bar=18, compression_ratio=6)
    assert "the case gives 6" in words
    assert "decompressor" not in words


def test_a_gauge_alone_that_no_such_engine_shows_is_doubted() -> None:
    assert "such engines have 7 to 9.5: look for the decompressor on" in doubt(compression_gauge_bar=3.5)
    assert "soot and oil" in doubt(compression_gauge_bar=20)


def test_the_doubt_is_among_the_warnings() -> None:
    document = load_case("petrol_baseline").to_dict()
    document["engine"] = {"displacement_cc": 98, "compression_gauge_bar": 4, "compression_ratio": 8.5}
    told = [
        w.message
        for w in screen(load_case(document), 20, materials=["abs"]).warnings
        if w.figure == "compression_gauge"
    ]
    assert len(told) == 1


def test_the_help_says_what_the_decompressor_does() -> None:
    words = case_schema()["properties"]["engine"]["properties"]["compression_gauge_bar"]["description"]
    assert "with the decompressor off; where it cannot be put off, leave this away" in words
