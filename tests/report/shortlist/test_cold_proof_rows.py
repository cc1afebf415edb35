"""What is told of a cold proof: pressures and energies that belong together, and nothing where there is no bare crown."""

from __future__ import annotations

import json
import re

import numpy as np
import pytest

from screening import load_case, report_html, report_json, screen
from screening.judgement.choice.screening import Screening
from screening.report.shortlist.cold_proof_rows import burst_rows, how_to_try, moved_rows, proof_pressure
from screening.report.shortlist.shortlist_text import shortlist_text

MATERIALS = ("abs", "pei")
NOTE = "<b>loud</b>"


@pytest.fixture(scope="module")
def result() -> Screening:
    document = load_case("petrol_baseline").to_dict()
    proof = {"material": "abs", "burst_bar": 55, "note": NOTE}
    return screen(load_case(document | {"cold_proofs": [proof]}), 100, materials=MATERIALS)


def test_proof_is_a_quarter_over_the_starts_load_in_whole_steps(result: Screening) -> None:
    pressure, load = proof_pressure(result), np.quantile(result.gas["start_load"], 0.95)
    assert pressure % 5e5 == 0
    assert 1.25 * load <= pressure < 1.25 * load + 5e5


def test_steps_tell_the_energies_of_that_pressure(result: Screening) -> None:
    """By hand: p^2 V/(2 K) of 30 mL of oil, 1.5 GPa, and p V ln(p/1.013 bar) of air."""
    told = " ".join(how_to_try(result))
    bar = proof_pressure(result) / 1e5
    oil, air = (bar * 1e5) ** 2 * 30e-6 / 3e9, bar * 1e5 * 30e-6 * np.log(bar / 1.01325)
    found = re.search(r"30 mL at (\d+) bar hold ([\d.]+) J as oil and (\d+) J as air", told)
    assert found is not None
    assert [float(x) for x in found.groups()] == pytest.approx([bar, oil, air], rel=0.1)


def test_rows_tell_whether_a_print_should_hold(result: Screening) -> None:
    rows = {row["material"]: row for row in burst_rows(result, result.stories.values())}
    asked = proof_pressure(result)
    for story in result.stories.values():
        *_, verdict = rows[story.material.name].values()
        assert (verdict == "should hold") == (asked <= story.bursts_at[0])


def test_all_reports_tell_what_the_evidence_moved(result: Screening) -> None:
    page, text, document = report_html(result), shortlist_text(result), json.loads(report_json(result))
    assert "A cold proof before running" in page
    assert NOTE not in page
    for row in moved_rows(result.own_evidence):
        assert row["with your evidence"] in page
        assert row["what is foretold"].split(":")[0] in text
    moved = document["own_evidence"]["moved"][0]
    assert moved["now"]["p95"] - moved["now"]["p05"] < moved["before"]["p95"] - moved["before"]["p05"]
    low, middle, high = document["materials"]["abs"]["bursts_cold_at_bar"]
    assert low < middle < high


def test_no_proof_of_a_crown_whose_ring_sits_in_metal() -> None:
    capped = screen(load_case("metal_cap_blend"), 20, materials=["abs"])
    assert how_to_try(capped) == []
    assert "A cold proof before running" not in report_html(capped)
    assert capped.own_evidence is None
