"""One material's way through the main job: drawn once, run part by part, told as a story at the end."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.choice.ranking import life_of
from screening.judgement.choice.sensitivity import IndexArray
from screening.judgement.choice.story import Story
from screening.judgement.choice.story_making import Gathered, polymer_story, unknown_story
from screening.judgement.contact.during_run import draw_contact
from screening.judgement.contact.nature import polymer_nature
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer, draw_polymer, missing_values
from screening.judgement.piston.heating import SHOWN
from screening.judgement.piston.print_sizes import land_sizes, skirt_sizes
from screening.judgement.piston.run import PartRun, run_polymer
from screening.physics.skirt.fit import diameter_range
from screening.records.materials.materials import Material

FloatArray = np.ndarray


class OneMaterial:
    """A material with its draws, and what its run has come to so far; each may go its way on a thread of its own."""

    def __init__(self, case: Case, conditions: Conditions, material: Material, seed: int) -> None:
        self.case, self.conditions, self.material = case, conditions, material
        self.missing = missing_values(material)
        self._gathered = Gathered()
        if self.missing:
            return
        self._polymer = draw_polymer(case, material, conditions["solid_share"], seed)
        # small enough that one draw in twenty would find it too large when settled
        self._size = diameter_range(skirt_sizes(case, conditions, self._polymer))
        self._contact = draw_contact(polymer_nature(material.id, case), case.fuel, case, conditions.n_draw, seed)

    def run(self, part: slice, conditions: Conditions, gas: GasSide) -> None:
        """Take one part of the draws through the run."""
        if self.missing:
            return
        contact = None if self._contact is None else self._contact.taken(part)
        polymer, first = self._polymer.taken(part), part.start == 0
        done = run_polymer(self.case, conditions, gas, polymer, contact, self._size[0], first)
        self._gathered.add(done)
        if first:
            self._gathered.land_sizes = self._land_sizes(conditions, polymer, done)

    def _land_sizes(self, conditions: Conditions, polymer: Polymer, done: PartRun) -> FloatArray | None:
        """Return the crown land's diameter in the draws that are followed to the horizon, while the run lasts."""
        few = slice(0, SHOWN)
        until = np.minimum(life_of(done.times)[few], self.case.operation.target_run)
        return land_sizes(self.case, conditions.taken(few), polymer.taken(few), done.heat, until)

    def story(self, orders: Mapping[str, IndexArray]) -> Story:
        """Return what came out, when all parts have been run; `orders` are those of the conditions."""
        if self.missing:
            return unknown_story(self.case, self.material, self.missing)
        return polymer_story(self.case, self.conditions, self._polymer, self._gathered, self._size, orders)
