"""A builder's own proofs and runs weigh the draws as two log-normal factors would by the closed form, and nothing else does."""

from __future__ import annotations

import copy
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
from screening.judgement.choice.own_evidence import (
    OwnEvidence,
    pistons_of_evidence,
    run_log_likelihood,
    weighed_by_own,
)
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.sampling import stratified
from screening.judgement.piston import ends
from screening.records.tables.assumptions import load_assumptions

N = 40_000
SHARED, OWN, ERROR = 0.147, 0.15, 0.10
"""Spread of span and edge, and of a print's own strength, whose hypotenuse is the design note's 0.21; that of the proof."""
MIDDLE = 68e5
ABS, PC = ("abs", None), ("pc", None)
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


def weighed(monkeypatch: pytest.MonkeyPatch, lines: dict[Any, Any], **book: Any) -> OwnEvidence:
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
        {ABS: line(MIDDLE * np.exp(SPAN + STRENGTH))},
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
    lines = {ABS: line(MIDDLE * np.exp(SPAN + STRENGTH)), PC: line(MIDDLE * np.exp(SPAN + other))}
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
        {ABS: line(MIDDLE * np.exp(SPAN + STRENGTH))},
        cold_proofs=(ColdProof("abs", None, None, MIDDLE * 1.1),),
    )
    v2 = SHARED**2 + OWN**2 + ERROR**2
    off = np.log(1.1) / np.sqrt(v2)
    mean = SHARED**2 / np.sqrt(v2) * stats.norm.pdf(off) / stats.norm.sf(off)
    assert SPAN[own.kept].mean() == pytest.approx(mean, abs=0.003)


def test_a_run_moves_both_factors_of_a_life(monkeypatch: pytest.MonkeyPatch) -> None:
    """A life of 20 s times two log-normal factors, seen to be 40 s long with the book's spread; the cause was not seen."""
    life = {ends.COLLAPSE: 20 * np.exp(2 * SPAN + 3 * STRENGTH)}
    own = weighed(monkeypatch, {ABS: line(np.ones(N), life)}, runs=(BookedRun("abs", None, 40.0, ends.NOT_SEEN),))
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
    logs = run_log_likelihood(BookedRun("abs", None, 20.0, "crown caved in"), times, 300.0)
    assert np.exp(logs[:2]) == pytest.approx([1.0, share])
    assert logs[2] == pytest.approx(-0.5 * (np.log(300 / 20) / 0.5) ** 2 + np.log(share))
    none_brings_it = run_log_likelihood(BookedRun("abs", None, 20.0, "crown seat gave way"), times, 300.0)
    assert np.exp(none_brings_it[:2]) == pytest.approx([share, share])
    whole = run_log_likelihood(BookedRun("abs", None, 20.0, ends.STOPPED), times, 300.0)
    assert np.exp(whole) == pytest.approx([0.5, 0.5, stats.norm.cdf(np.log(15) / 0.5)])


@pytest.mark.parametrize("alike", [False, True], ids=["draws that differ", "draws that are all alike"])
def test_what_no_draw_comes_near_is_not_weighed(monkeypatch: pytest.MonkeyPatch, alike: bool) -> None:
    """Ten times the middle: few draws carry all weight where they differ; where all are alike none does, and all are far off."""
    burst = np.full(N, MIDDLE) if alike else MIDDLE * np.exp(SPAN + STRENGTH)
    own = weighed(monkeypatch, {ABS: line(burst)}, cold_proofs=(ColdProof("abs", None, 10 * MIDDLE, None),))
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


def test_a_run_of_a_thinner_crown_is_read_as_one(document: dict[str, Any]) -> None:
    """A piston of 4 mm that lasted what 4 mm should moves little; read as one of the case's 6 mm it would shorten its life."""
    thin = copy.deepcopy(document)
    thin["piston"]["crown_thickness_mm"] = 4.0
    lasted = screen(load_case(thin), 200, materials=["abs"]).material("abs").standing.holding_median
    run = {"material": "abs", "ran_s": round(lasted, 1), "ended_by": "not seen"}
    medians = {}
    for name, row in (("thin", run | {"crown_thickness_mm": 4.0}), ("as the case", run)):
        result = screen(load_case(document | {"runs": [row]}), 200, materials=["abs"])
        medians[name] = result.material("abs").standing.holding_median
    assert medians["as the case"] < 0.9 * medians["thin"]


def test_the_cases_own_thickness_is_no_piston_of_its_own(document: dict[str, Any]) -> None:
    rows = [{"material": "abs", "ran_s": 9, "ended_by": "not seen", "crown_thickness_mm": mm} for mm in (6.0, 4.0)]
    assert pistons_of_evidence(load_case(document | {"runs": rows})) == (("abs", None), ("abs", pytest.approx(4e-3)))


def test_many_rows_that_agree_are_no_contradiction(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fifty bursts scattered by their own spread: no row is far off, though together they are as unlikely as one five off."""
    scatter = 0.1 * stats.norm.ppf((np.arange(50) + 0.5) / 50)
    proofs = tuple(ColdProof("abs", None, MIDDLE * float(np.exp(off)), None) for off in scatter)
    own = weighed(monkeypatch, {ABS: line(MIDDLE * np.exp(SPAN + STRENGTH))}, cold_proofs=proofs)
    assert own.applied
    assert np.std((SPAN + STRENGTH)[own.kept]) == pytest.approx(0.1 / np.sqrt(50), rel=0.1)


def test_evidence_that_leaves_too_few_draws_is_not_weighed_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the first 100 draws a burst at their middle leaves the worth of more than twenty; fifty bursts there, together a seventh as wide, of fewer."""
    few = slice(0, 100)
    monkeypatch.setattr(sys.modules[weighed_by_own.__module__], "burst_over_strength", lambda draws: np.exp(SPAN[few]))
    values = (MIDDLE * np.exp(SPAN + STRENGTH))[few]
    for bursts, applied in ((1, True), (50, False)):
        proofs = tuple(ColdProof("abs", None, MIDDLE, None) for _ in range(bursts))
        case = replace(CASE, cold_proofs=proofs)
        own = weighed_by_own(case, Conditions(MappingProxyType({"span": SPAN[few]})), {ABS: line(values)})
        assert own.applied is applied
        assert ("too few to read an answer from" in str(own.told)) is not applied
        assert applied or own.kept.tolist() == list(range(100))
