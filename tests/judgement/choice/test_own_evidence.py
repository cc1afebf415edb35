"""A builder's own proofs and runs weigh the draws as two log-normal factors would by the closed form, and nothing else does."""

from __future__ import annotations

import sys
from dataclasses import replace
from types import MappingProxyType, SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from screening import load_case, screen
from screening.judgement.case.case import BookedRun, Case, ColdProof
from screening.judgement.case.case_file import case_schema
from screening.judgement.choice.own_evidence import OwnEvidence, run_log_likelihood, weighed_by_own
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.sampling import stratified
from screening.judgement.piston import ends
from screening.records.tables.assumptions import load_assumptions

N = 40_000
SHARED, OWN, ERROR = 0.147, 0.15, 0.10
"""Spread of span and edge, and of a print's own strength, whose hypotenuse is the design note's 0.21; that of the proof."""
MIDDLE = 68e5
CASE = load_case("petrol_baseline")


def factor(name: str, spread: float) -> np.ndarray:
    return np.asarray(spread * stats.norm.ppf(stratified(name, N, 0)))


SPAN, STRENGTH = factor("span", SHARED), factor("strength", OWN)


def line(values: np.ndarray, times: dict[str, np.ndarray] | None = None) -> Any:
    """Return a stand-in for a material that is run: what it should burst at, and when it ends."""
    never = {ends.COLLAPSE: np.full(N, np.inf)}
    return SimpleNamespace(
        predicted_burst=lambda thickness: values, times=lambda: times or never, material=SimpleNamespace(name="print")
    )


def weighed(monkeypatch: pytest.MonkeyPatch, lines: dict[str, Any], **book: Any) -> OwnEvidence:
    case: Case = replace(CASE, **book)
    monkeypatch.setattr(sys.modules[weighed_by_own.__module__], "burst_over_strength", lambda draws: np.exp(SPAN))
    return weighed_by_own(case, Conditions(MappingProxyType({"span": SPAN})), lines)


def closed_form(spread: float, total: float, error: float, off: float) -> tuple[float, float]:
    """Return mean and deviation of one factor once the sum of independent ones was seen `off` with an error: all normal."""
    gain = spread**2 / (total**2 + error**2)
    return gain * off, spread * np.sqrt(1 - gain)


def test_a_burst_moves_both_factors_as_the_closed_form_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """A burst at 48 bar: what all share x 0.87, the print's own likewise by its share; 0.21 narrows to 0.09."""
    own = weighed(
        monkeypatch,
        {"abs": line(MIDDLE * np.exp(SPAN + STRENGTH))},
        cold_proofs=(ColdProof("abs", None, 48e5, None),),
    )
    total, off = np.hypot(SHARED, OWN), np.log(48e5 / MIDDLE)
    for values, spread in ((SPAN, SHARED), (STRENGTH, OWN)):
        mean, deviation = closed_form(spread, total, ERROR, off)
        assert values[own.kept].mean() == pytest.approx(mean, abs=0.003)
        assert values[own.kept].std() == pytest.approx(deviation, rel=0.02)
    assert np.exp(np.mean(SPAN[own.kept])) == pytest.approx(0.87, abs=0.005)
    assert np.std((SPAN + STRENGTH)[own.kept]) == pytest.approx(0.09, abs=0.002)
    assert own.materials == {"abs"}


def test_two_materials_proofs_narrow_what_they_share(monkeypatch: pytest.MonkeyPatch) -> None:
    """Normal factors s, a, b; s + a and s + b seen: mean and covariance by conditioning a joint normal."""
    other = factor("other print", OWN)
    lines = {"abs": line(MIDDLE * np.exp(SPAN + STRENGTH)), "pc": line(MIDDLE * np.exp(SPAN + other))}
    proofs = (ColdProof("abs", None, 0.8 * MIDDLE, None), ColdProof("pc", None, 0.9 * MIDDLE, None))
    own = weighed(monkeypatch, lines, cold_proofs=proofs)
    seen = np.log([0.8, 0.9])
    covariance = np.full((2, 2), SHARED**2) + np.eye(2) * (OWN**2 + ERROR**2)
    gains = np.linalg.solve(covariance, np.full(2, SHARED**2))
    assert SPAN[own.kept].mean() == pytest.approx(gains @ seen, abs=0.004)
    assert SPAN[own.kept].std() == pytest.approx(np.sqrt(SHARED**2 - gains @ np.full(2, SHARED**2)), rel=0.03)


def test_a_held_proof_cuts_the_weak_draws_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Normal x given that x + e > h: mean s^2/v phi(h/v)/Phi(-h/v) with v^2 = s^2 + e^2 (a truncated normal's mean)."""
    own = weighed(
        monkeypatch,
        {"abs": line(MIDDLE * np.exp(SPAN + STRENGTH))},
        cold_proofs=(ColdProof("abs", None, None, MIDDLE * 1.1),),
    )
    v2 = SHARED**2 + OWN**2 + ERROR**2
    off = np.log(1.1) / np.sqrt(v2)
    mean = SHARED**2 / np.sqrt(v2) * stats.norm.pdf(off) / stats.norm.sf(off)
    assert SPAN[own.kept].mean() == pytest.approx(mean, abs=0.003)


def test_a_run_moves_both_factors_of_a_life(monkeypatch: pytest.MonkeyPatch) -> None:
    """A life of 20 s times two log-normal factors, seen to be 40 s long with the book's spread; the cause was not seen."""
    life = {ends.COLLAPSE: 20 * np.exp(2 * SPAN + 3 * STRENGTH)}
    own = weighed(monkeypatch, {"abs": line(np.ones(N), life)}, runs=(BookedRun("abs", 40.0, ends.NOT_SEEN),))
    error = load_assumptions()["booked_run_error"].typical
    total = np.hypot(2 * SHARED, 3 * OWN)
    for values, spread in ((2 * SPAN, 2 * SHARED), (3 * STRENGTH, 3 * OWN)):
        mean, deviation = closed_form(spread, total, error, np.log(2))
        assert values[own.kept].mean() == pytest.approx(mean, abs=0.005)
        assert values[own.kept].std() == pytest.approx(deviation, rel=0.02)


def test_another_end_than_was_seen_counts_for_less() -> None:
    """Two draws of one life, one that collapses and one that seizes: the second counts the table's share where a collapse was seen."""
    times = {ends.COLLAPSE: np.array([20.0, 60.0, np.inf]), ends.SEIZURE: np.array([60.0, 20.0, np.inf])}
    share = load_assumptions()["booked_run_other_end"].typical
    logs = run_log_likelihood(BookedRun("abs", 20.0, "crown caved in"), times, 300.0)
    assert np.exp(logs[:2]) == pytest.approx([1.0, share])
    assert logs[2] == pytest.approx(-0.5 * (np.log(300 / 20) / 0.5) ** 2 + np.log(share))
    none_brings_it = run_log_likelihood(BookedRun("abs", 20.0, "crown seat gave way"), times, 300.0)
    assert np.exp(none_brings_it[:2]) == pytest.approx([share, share])
    whole = run_log_likelihood(BookedRun("abs", 20.0, ends.STOPPED), times, 300.0)
    assert np.exp(whole) == pytest.approx([0.5, 0.5, stats.norm.cdf(np.log(15) / 0.5)])


def test_what_no_draw_comes_near_is_not_weighed(monkeypatch: pytest.MonkeyPatch) -> None:
    own = weighed(
        monkeypatch,
        {"abs": line(MIDDLE * np.exp(SPAN + STRENGTH))},
        cold_proofs=(ColdProof("abs", None, 10 * MIDDLE, None),),
    )
    assert not own.applied
    assert np.array_equal(own.kept, np.arange(N))
    assert "contradict" in str(own.told)


def test_a_builders_words_for_the_end_are_those_of_the_case_file() -> None:
    allowed = case_schema()["properties"]["runs"]["items"]["properties"]["ended_by"]["enum"]
    assert set(allowed) == {*ends.AS_A_BUILDER_SAYS, ends.STOPPED, ends.NOT_SEEN}


@pytest.fixture(scope="module")
def document() -> dict[str, Any]:
    found = load_case("cyclopentanone_blend").to_dict()
    del found["engine"]["warmed_metal_kg"]
    return found


MATERIALS = ("abs", "pc")


def test_a_run_three_times_as_long_raises_its_material_most(document: dict[str, Any]) -> None:
    before = screen(load_case(document), 300, materials=MATERIALS)
    lasted = 3 * before.material("abs").standing.median
    book = {"runs": [{"material": "abs", "ran_s": round(lasted, 1), "ended_by": "not seen"}]}
    after = screen(load_case(document | book), 300, materials=MATERIALS)
    rise = {id: after.material(id).standing.median / before.material(id).standing.median for id in MATERIALS}
    assert 1.1 < rise["pc"] < rise["abs"] < 3
    moved = {row.what: row for row in after.own_evidence.moved}["acrylonitrile butadiene styrene: how long it lasts"]
    assert moved.before[1] == before.material("abs").standing.median
    assert moved.after[1] == pytest.approx(after.material("abs").standing.median, rel=0.1)  # its size is advised anew


def test_a_burst_print_lowers_all_and_its_own_pairs_stay_together(document: dict[str, Any]) -> None:
    before = screen(load_case(document), 300, materials=MATERIALS)
    proof = {"cold_proofs": [{"material": "abs", "burst_bar": 45}]}
    after = screen(load_case(document | proof), 300, materials=MATERIALS)
    own = after.own_evidence
    low, middle, high = (p / 1e5 for p in after.material("abs").bursts_at)
    assert 45 < middle < before.material("abs").bursts_at[1] / 1e5
    assert np.log(high / low) / 3.29 == pytest.approx(0.1, abs=0.03)
    assert after.material("pc").bursts_at[1] < before.material("pc").bursts_at[1]
    told = {row.what: row for row in own.moved}["acrylonitrile butadiene styrene: burst pressure, cold"]
    assert np.median(after.conditions["bore"]) == np.median(before.conditions["bore"])
    assert np.array_equal(after.conditions["edge_factor_error"], before.conditions["edge_factor_error"][own.kept])
    assert told.after[1] / 1e5 == pytest.approx(middle, rel=0.02)


def test_a_change_that_is_tried_keeps_the_evidence_of_the_case_as_it_is(document: dict[str, Any]) -> None:
    """A thicker crown would have burst higher: the proof of the thin one must not be read as one of it."""
    case = load_case(document | {"cold_proofs": [{"material": "abs", "burst_bar": 45}]})
    thicker = case.to_dict()
    thicker["piston"]["crown_thickness_mm"] = 12.0
    as_it_is = screen(case, 100, materials=["abs"])
    tried = screen(load_case(thicker), 100, materials=["abs"], evidence_of=case)
    assert np.array_equal(tried.own_evidence.kept, as_it_is.own_evidence.kept)
    assert np.array_equal(tried.conditions["edge_factor_error"], as_it_is.conditions["edge_factor_error"])
    assert tried.material("abs").bursts_at[1] > 2 * as_it_is.material("abs").bursts_at[1]


def test_what_was_not_weighed_is_among_the_inputs_to_look_at_again(document: dict[str, Any]) -> None:
    result = screen(
        load_case(document | {"cold_proofs": [{"material": "abs", "burst_bar": 900}]}), 60, materials=["abs"]
    )
    assert [w.message for w in result.warnings if w.figure == "own_evidence"] == [result.own_evidence.told]
    assert result.own_evidence.effective == 1.0
