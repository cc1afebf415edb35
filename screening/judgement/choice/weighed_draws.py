"""The draws of one screening, weighed by what the builder has measured: the head's log, cold proofs and runs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.choice.one_material import OneMaterial
from screening.judgement.choice.own_evidence import OwnEvidence, Piston, pistons_of_evidence, weighed_by_own
from screening.judgement.cylinder.calibration import Evidence, weighed_by_log
from screening.judgement.draws.conditions import Conditions, draw_conditions
from screening.judgement.draws.polymer import case_material

RunAll = Callable[[Sequence[OneMaterial]], object]
"""What takes materials through all parts of their run."""


@dataclass(frozen=True)
class WeighedDraws:
    """What is drawn for a case: `conditions` for all materials, and each material's `line`.

    `before` are the conditions before the builder's `own` evidence weighed them, `evidence` is what the log's heat did.
    """

    case: Case
    seed: int
    before: Conditions
    conditions: Conditions
    evidence: Evidence | None
    own: OwnEvidence | None

    @property
    def effective(self) -> float:
        """How many draws the draws are worth [1]."""
        log = self.evidence.effective if self.evidence is not None and self.evidence.applied else 1.0
        return self.conditions.n_draw * log * (1.0 if self.own is None else self.own.effective)

    def line(self, id: str) -> OneMaterial:
        """Return a material with its draws; one that was proofed or run keeps those that foretold it."""
        material = case_material(self.case, id)
        if self.own is None or id not in self.own.materials:
            return OneMaterial(self.case, self.conditions, material, self.seed)
        return OneMaterial(self.case, self.before, material, self.seed).with_its_pairs(self.own.kept, self.conditions)


def weighed_draws(
    case: Case, evidence_of: Case, draws: int, seed: int, parts: Sequence[slice], run_all: RunAll
) -> WeighedDraws:
    """Return the draws for a case, weighed by the log, the cold proofs and the runs of the same or of another one.

    Where a change is only tried, what was measured belongs to the case without it: the other case says which draws are kept,
    and how often, and the same ones stand in this one, as a draw's number means the same guess in both.

    Parameters
    ----------
    case : what is computed
    evidence_of : the case that was measured
    draws, seed : as in `screen`
    parts : slices of the draws that are computed at a time
    run_all : what takes the materials that the builder has proofed or run through their run
    """
    seen, evidence = weighed_by_log(evidence_of, draw_conditions(evidence_of, draws, seed), parts)
    own = _own_evidence(evidence_of, seen, seed, run_all)
    before = seen
    if case is not evidence_of:
        before = draw_conditions(case, draws, seed)
        if evidence is not None and evidence.chosen is not None:
            before = before.taken(evidence.chosen)
    after = before if own is None else before.taken(own.kept)
    return WeighedDraws(case, seed, before, after, evidence, own)


def _own_evidence(case: Case, conditions: Conditions, seed: int, run_all: RunAll) -> OwnEvidence | None:
    """Return what the case's cold proofs and runs do to the draws; None where there are none."""
    pistons = pistons_of_evidence(case)
    if not pistons:
        return None
    lines: dict[Piston, OneMaterial] = {}
    for thickness in dict.fromkeys(thickness for _, thickness in pistons):
        of_crown = conditions if thickness is None else _with_crown(conditions, thickness)
        alike = [OneMaterial(case, of_crown, case_material(case, id), seed) for id, t in pistons if t == thickness]
        known = [line for line in alike if not line.missing]
        if known:
            run_all(known)
        lines |= {(line.material.id, thickness): line for line in known}
    return weighed_by_own(case, conditions, lines)


def _with_crown(conditions: Conditions, thickness: float) -> Conditions:
    """Return the same draws with a crown whose thickness [m] was measured on the print."""
    measured = np.full(conditions.n_draw, thickness)
    return replace(conditions, values=MappingProxyType({**conditions.values, "crown_thickness": measured}))
