"""The main job: one case in, all materials ranked out.

The draws are run in parts of a fixed size, so that memory stays the same for any number of draws and the answer does
not depend on how they are parted.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd

from screening.arrays import FloatArray
from screening.errors import OutOfRange, UnknownName
from screening.judgement.case.case import Case
from screening.judgement.choice.assumed import assumptions_used
from screening.judgement.choice.cautions import cautions_of
from screening.judgement.choice.headline import headline_of
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.one_material import OneMaterial
from screening.judgement.choice.order import ranked
from screening.judgement.choice.sensitivity import shapes_of
from screening.judgement.choice.shortlist import shortlist_frame
from screening.judgement.choice.stop_rule import stop_rule_of
from screening.judgement.choice.story import Story
from screening.judgement.choice.story_making import baseline_story
from screening.judgement.cylinder.calibration import Evidence, weighed_by_log
from screening.judgement.cylinder.gas_side import GasSide, solve_gas_side
from screening.judgement.cylinder.plausibility import Implausible, implausibilities
from screening.judgement.draws.conditions import Conditions, baseline_metal, draw_conditions
from screening.judgement.draws.polymer import case_material
from screening.judgement.piston.heating import SHOWN, horizon_of
from screening.judgement.piston.run import run_metal
from screening.records.liquids.open_tables import read_all_tables
from screening.records.materials.materials import Material, load_materials
from screening.records.tables.assumptions import Assumption

PART = 1000
"""Draws computed at a time, at most."""
FEWEST_DRAWS = 10
Progress = Callable[[float, str], object]


@dataclass(frozen=True, eq=False)
class Screening:
    """All materials of a case, ranked. Times are seconds; `inf` means not within the horizon.

    `evidence` is what the log's heat did to the draws (None: no log, or what warmed was not weighed).
    """

    case: Case
    draws: int
    seed: int
    horizon: float
    stories: Mapping[str, Story]
    baseline: Story
    conditions: Conditions
    gas: Mapping[str, FloatArray]
    warnings: tuple[Implausible, ...]
    evidence: Evidence | None = None

    @cached_property
    def shortlist(self) -> pd.DataFrame:
        """One row a material, best first."""
        return shortlist_frame(self.stories)

    @property
    def materials(self) -> tuple[str, ...]:
        """Ids of the materials, best first."""
        return tuple(self.stories)

    def material(self, id: str) -> Story:
        """Return the whole story of one material (or of the baseline); UnknownName for an id not screened."""
        if id == self.baseline.material.id:
            return self.baseline
        if id not in self.stories:
            raise UnknownName("material", id, self.stories)
        return self.stories[id]

    @property
    def headline(self) -> str:
        """The honest answer in two or three sentences."""
        return headline_of(self.case, self.stories, self.baseline)

    @property
    def stop_rule(self) -> str:
        """When to stop the engine with the best material."""
        return stop_rule_of(self.case, self.stories)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt, for this fuel and the leading materials."""
        return cautions_of(self.case, self.stories)

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """The rows of the table of assumptions that the answer rests on; what the case gives itself is not among them."""
        return assumptions_used(self.case, self.conditions)


def screen(
    case: Case,
    draws: int = 1000,
    seed: int = 0,
    progress: Progress | None = None,
    materials: Sequence[str] | None = None,
) -> Screening:
    """Return all printable materials ranked for a case.

    Parameters
    ----------
    case : Case
        From `load_case`.
    draws : int
        Number of draws, 10 or more; 1000 tell chances to about 1.5 points.
    seed : int
        Same case, draws and seed give the same answer to the last digit.
    progress : callable, optional
        Called with a share done (0 to 1) and a sentence on what is being done; raise in it to stop.
    materials : sequence of str, optional
        Ids to rank; all printable ones and the case's own if left out.

    Raises
    ------
    ScreeningError
        When the case cannot be computed; the message says why.

    Returns
    -------
    Screening

    Examples
    --------
    >>> from screening import load_case
    >>> result = screen(load_case("petrol_baseline"), draws=20, materials=["abs"])
    >>> result.material("abs").standing.ends_by
    'crown collapse'
    """
    tell = progress or (lambda share, text: None)
    if draws < FEWEST_DRAWS:
        raise OutOfRange(f"draws: got {draws}; must be {FEWEST_DRAWS} or more")
    tell(0.0, "Drawing the conditions")
    wanted = materials or (*load_materials().printable, *(material.id for material in case.own_materials))
    parts = _parts(draws, _abreast(len(wanted)))
    conditions, evidence = weighed_by_log(case, draw_conditions(case, draws, seed), parts)
    effective = draws * (evidence.effective if evidence is not None and evidence.applied else 1.0)
    metal = load_materials().get(baseline_metal())
    read_all_tables()  # they must not be read by two threads at once
    with ThreadPoolExecutor(os.cpu_count()) as pool:  # nothing beneath starts threads of its own
        lines = list(pool.map(lambda id: OneMaterial(case, conditions, case_material(case, id), seed), wanted))
        gas, metal_run = _run_parts(pool, lines, metal, parts, tell)
        gas["head_surface"] = conditions["head_surface"]
        tell(1.0, "Judging")
        # names with a dot are the metals' values
        shapes = shapes_of({name: value for name, value in conditions.values.items() if "." not in name})
        stories = list(pool.map(lambda line: line.story(shapes, effective), lines))
    return Screening(
        case=case,
        draws=draws,
        seed=seed,
        horizon=horizon_of(case),
        stories=ranked(stories, case.operation.target_run, effective),
        baseline=baseline_story(case, metal, metal_run, effective),
        conditions=conditions,
        gas=gas,
        warnings=implausibilities(case, gas, conditions.head_redrawn, evidence),
        evidence=evidence,
    )


def _abreast(materials: int) -> int:
    """Return the number of parts to run abreast, so that few materials keep every processor busy too."""
    return -(-(os.cpu_count() or 1) // materials)


def _parts(draws: int, abreast: int) -> list[slice]:
    """Return the draws in parts of PART at most; the first holds all that are shown."""
    size = min(PART, max(SHOWN, -(-draws // abreast)))
    return [slice(start, min(start + size, draws)) for start in range(0, draws, size)]


def _run_parts(
    pool: ThreadPoolExecutor, lines: Sequence[OneMaterial], metal: Material, parts: Sequence[slice], tell: Progress
) -> tuple[dict[str, FloatArray], JoinedRun]:
    """Run all materials and the metal piston part by part; the kernels release the interpreter's lock.

    Returns
    -------
    The gas side's numbers of all parts, (n_draw,) each, and the metal's run.
    """
    case, conditions = lines[0].case, lines[0].conditions
    numbers: list[dict[str, FloatArray]] = []
    metal_run = JoinedRun()

    def run_baseline(part: slice, of_part: Conditions, gas: GasSide) -> None:
        metal_run.add(run_metal(case, of_part, gas, metal), part.start)

    runs = [(metal.name, run_baseline), *((line.material.name, line.run) for line in lines)]
    waiting: deque[tuple[str, Future[None]]] = deque()
    ended, all_runs = 0, len(runs) * len(parts)
    try:
        for part in parts:
            tell(ended / all_runs, "Solving the engine's cycle")
            of_part = conditions.taken(part)
            gas = solve_gas_side(case, of_part)
            numbers.append(gas.numbers())
            waiting.extend((name, pool.submit(run, part, of_part, gas)) for name, run in runs)
            # what is computed of a part is large: no more of them at a time than keep the processors busy
            left = 0 if part is parts[-1] else len(runs) * (_abreast(len(lines)) - 1)
            while len(waiting) > left:
                name, run_of_part = waiting[0]
                tell(ended / all_runs, f"Heating a crown of {name}")
                run_of_part.result()
                waiting.popleft()
                ended += 1
    except BaseException:
        for _, run_of_part in waiting:
            run_of_part.cancel()
        raise
    return {name: np.concatenate([values[name] for values in numbers]) for name in numbers[0]}, metal_run
