"""What the builder's own cold proofs and runs say of the draws: those that foretold them stand more often, the others less.

A draw of the common conditions and the draw of a material's own values that stands in the same place are a pair: together
they foretell that material's proof or run. So the pairs are weighed, and what is left of the common draws goes for all
materials: span, edge and burn move them together, a print's own strength moves its material alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import special

from screening.arrays import FloatArray
from screening.judgement.case.case import BookedRun, Case, ColdProof
from screening.judgement.choice.one_material import OneMaterial
from screening.judgement.choice.verdict import QUANTILES, life_of
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.sampling import kept_by_weight, worth_left
from screening.judgement.piston.cold_proof import burst_over_strength, log_likelihood
from screening.judgement.piston.ends import AS_A_BUILDER_SAYS, NOT_SEEN, STOPPED
from screening.judgement.piston.heating import horizon_of
from screening.records.tables.assumptions import load_assumptions
from screening.sentences import Text, sentence
from screening.words import duration, percent

RUN_ERROR, OTHER_END, WORTH = "booked_run_error", "booked_run_other_end", "own_evidence_worth"
SHORTEST_TOLD = 1.0
"""Runs shorter than this [s] count alike: nobody tells one from another (the project's choice)."""
Range = tuple[float, float, float]
Piston = tuple[str, float | None]
"""A material's id and the thickness of its crown [m]; None: the case's."""


@dataclass(frozen=True)
class Moved:
    """One foretold quantity before and with the evidence: 5th, 50th and 95th percentile in SI, `unit` Pa, s or 1."""

    what: str
    unit: str
    before: Range
    after: Range


@dataclass(frozen=True)
class OwnEvidence:
    """What the builder's own proofs and runs did.

    `kept` (n_draw,) says which of the former draws each one is now; the `materials` that were proofed or run have their own
    draws taken with them. `effective` is the share of the draws' worth left [1]; `applied`: not, where they contradict all
    that is computed. `moved` is what they moved.
    """

    kept: NDArray[np.intp]
    materials: frozenset[str]
    effective: float
    applied: bool
    moved: tuple[Moved, ...]
    told: Text


def pistons_of_evidence(case: Case) -> tuple[Piston, ...]:
    """Return the pistons that the case's cold proofs and runs ask for; each material of them as the case has it, too."""
    materials = [*(proof.material for proof in case.cold_proofs), *(run.material for run in case.runs)]
    return tuple(dict.fromkeys([*((id, None) for id in materials), *(_piston_of(case, run) for run in case.runs)]))


def _piston_of(case: Case, run: BookedRun) -> Piston:
    as_given = case.is_given("piston", "crown_thickness_mm") and run.thickness == case.piston.crown_thickness
    return run.material, None if as_given else run.thickness


def weighed_by_own(case: Case, draws: Conditions, lines: Mapping[Piston, OneMaterial]) -> OwnEvidence:
    """Return what the case's cold proofs and runs do to the draws.

    Parameters
    ----------
    case : with its `cold_proofs` and `runs`
    draws : the common draws before
    lines : `pistons_of_evidence`, run in these draws; a material that lacks values cannot be weighed and has none

    References
    ----------
    Gordon, Salmond and Smith 1993 (weights by resampling), from memory.
    """
    proofs = [proof for proof in case.cold_proofs if (proof.material, None) in lines]
    runs = [run for run in case.runs if (run.material, None) in lines]
    times = {piston: line.times() for piston, line in lines.items()}
    rows = [log_likelihood(proof, lines[proof.material, None].predicted_burst(proof.thickness)) for proof in proofs]
    rows += [run_log_likelihood(run, times[_piston_of(case, run)], horizon_of(case)) for run in runs]
    logs = np.sum(rows, axis=0) if rows else np.zeros(draws.n_draw)
    weight = np.exp(logs - logs.max())
    effective = worth_left(weight)
    # weights are known up to a factor: that no draw comes near is told by the one that comes nearest
    nearest = int(np.argmax(logs))
    near = bool(rows) and all(row[nearest] > _LEAST_LOG for row in rows)
    agrees, left = near and effective >= load_assumptions()[WORTH].typical, effective * draws.n_draw
    applied = agrees and left >= FEWEST_LEFT
    kept = kept_by_weight(weight) if applied else np.arange(draws.n_draw)
    moved = (*_moved_bursts(draws, lines, proofs, kept), *_moved_lives(lines, times, kept))
    return OwnEvidence(
        kept=kept,
        materials=frozenset(id for id, _ in lines) if applied else frozenset(),
        effective=effective if applied else 1.0,
        applied=applied,
        moved=moved if applied else (),
        told=_told(effective, len(proofs), len(runs))
        if applied
        else _too_few(draws.n_draw, left)
        if agrees
        else _contradiction(moved, bool(lines)),
    )


FEWEST_LEFT = 20.0
"""Draws that own evidence must leave the worth of [1], or no answer can be read from them (the project's choice)."""
_LEAST_LOG = -12.5
"""Logarithm of one row's likelihood under which even the draw that comes nearest to all is five standard deviations off."""


def run_log_likelihood(run: BookedRun, times: Mapping[str, FloatArray], horizon: float) -> FloatArray:
    """Return the logarithm of how likely a run is in each draw, up to a constant, (n_draw,) [1].

    Its length lies log-normally about the draw's life t; one that was stopped whole says that the life is longer:

        ln L = -(ln(t_r/t)/e)^2/2 + (ln f where another end than the draw's was seen)   or   ln L = ln Phi(ln(t/t_r)/e)

    A life beyond the horizon counts as the horizon.

    Parameters
    ----------
    run : how long it lasted, and what ended it
    times : mechanism -> the time at which it would end the run, (n_draw,) [s]
    horizon : [s]
    """
    error, other = (load_assumptions()[name].typical for name in (RUN_ERROR, OTHER_END))
    life = life_of(times)
    off = np.log(np.clip(life, SHORTEST_TOLD, horizon) / np.clip(run.lasted, SHORTEST_TOLD, horizon)) / error
    if run.ended_by == STOPPED:
        return np.asarray(special.log_ndtr(off))
    logs = -0.5 * off**2
    if run.ended_by == NOT_SEEN:
        return logs
    # an end that no mechanism of this build brings is none of the draws'
    seen = times.get(AS_A_BUILDER_SAYS[run.ended_by], np.full(life.size, np.inf))
    return np.where(np.isfinite(life) & (seen <= life), logs, logs + np.log(other))


def _moved_bursts(
    draws: Conditions, lines: Mapping[Piston, OneMaterial], proofs: list[ColdProof], kept: NDArray[np.intp]
) -> list[Moved]:
    """Return what the evidence moved of the burst pressures: of each print, and of all others by what they share."""
    prints = dict.fromkeys((proof.material, proof.thickness) for proof in proofs)
    moved = []
    for id, thickness in prints:
        line = lines[id, None]
        what = f"{_name(line, thickness)}: burst pressure, cold"
        moved.append(_move(what, "Pa", line.predicted_burst(thickness), kept))
    shared = burst_over_strength(draws)
    return [*moved, _move(_SHARED, "1", shared / np.median(shared), kept)]


_SHARED = "all other crowns, for the same strength of the print: burst pressure"


def _moved_lives(
    lines: Mapping[Piston, OneMaterial], times: Mapping[Piston, Mapping[str, FloatArray]], kept: NDArray[np.intp]
) -> list[Moved]:
    return [
        _move(f"{_name(lines[piston], piston[1])}: how long it lasts", "s", life_of(ends), kept)
        for piston, ends in times.items()
    ]


def _name(line: OneMaterial, thickness: float | None) -> str:
    return line.material.name if thickness is None else f"{line.material.name}, {1e3 * thickness:g} mm"


def _move(what: str, unit: str, values: FloatArray, kept: NDArray[np.intp]) -> Moved:
    before, after = (
        tuple(float(v) for v in np.quantile(some, QUANTILES, method="inverted_cdf")) for some in (values, values[kept])
    )
    return Moved(what, unit, (before[0], before[1], before[2]), (after[0], after[1], after[2]))


def range_in_words(moved: Range, unit: str) -> str:
    """Return a median with its range in words.

    >>> range_in_words((48e5, 68e5, 95e5), "Pa")
    '68 bar (48 to 95)'
    """
    low, middle, high = moved
    if unit == "Pa":
        return f"{middle / 1e5:.0f} bar ({low / 1e5:.0f} to {high / 1e5:.0f})"
    if unit == "s":
        return f"{duration(middle)} ({duration(low)} to {duration(high)})"
    return f"× {middle:.2f} ({low:.2f} to {high:.2f})"


def _told(effective: float, proofs: int, runs: int) -> Text:
    return sentence(
        "Your own evidence ({proofs} and {runs}) was weighed: draws that foretold it count more, the others less. {left} of the "
        "draws' worth is left.",
        proofs="1 cold proof" if proofs == 1 else f"{proofs} cold proofs",
        runs="1 run" if runs == 1 else f"{runs} runs",
        left=percent(effective),
    )


def _too_few(draws: int, left: float) -> Text:
    return (
        f"Your own evidence was not weighed: of {draws:,} draws it leaves the worth of {left:.0f}, too few to read an answer from. Ask "
        "for more draws."
    )


def _contradiction(moved: tuple[Moved, ...], any_material: bool) -> Text:
    if not any_material:
        return "Your own evidence was not weighed: of those materials too many values are unknown."
    foretold = "; ".join(f"{m.what}, {range_in_words(m.before, m.unit)}" for m in moved if m.unit != "1")
    return sentence(
        "Your own evidence was not weighed: it and what is computed contradict each other ({foretold}). Check the pressures, the "
        "crown's thickness, and that the runs were of this case.",
        foretold=foretold,
    )
