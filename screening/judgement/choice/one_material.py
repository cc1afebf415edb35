"""One material's way through the main job: drawn once, run part by part, its story at the end."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.sensitivity import Shapes
from screening.judgement.choice.story import Story
from screening.judgement.choice.story_making import contacts_of, missing_story, polymer_story
from screening.judgement.choice.verdict import QUANTILES, life_of
from screening.judgement.contact.during_run import draw_contact
from screening.judgement.contact.nature import polymer_nature
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer, draw_polymer, missing_values
from screening.judgement.piston.cold_proof import predicted_burst
from screening.judgement.piston.fit_advice import fit_advice
from screening.judgement.piston.heating import SHOWN, horizon_of, output_times
from screening.judgement.piston.print_sizes import land_sizes, skirt_sizes
from screening.judgement.piston.run import PartRun, run_polymer
from screening.judgement.piston.seizure import skirt_fit, skirt_temperature
from screening.judgement.piston.stack import ring_in_metal
from screening.physics.skirt.fit import diameter_range
from screening.records.materials.materials import Material


class OneMaterial:
    """A material with its draws and the parts of its run so far; it shares nothing with another, so each may be on a thread."""

    def __init__(self, case: Case, conditions: Conditions, material: Material, seed: int) -> None:
        self.case, self.conditions, self.material, self.seed = case, conditions, material, seed
        self.missing = missing_values(material)
        self._run = JoinedRun()
        self._land_sizes: FloatArray | None = None
        if self.missing:
            return
        self._polymer = draw_polymer(case, material, conditions["solid_share"], seed)
        self._contact = draw_contact(polymer_nature(material.id, case), case.fuel, case, conditions.n_draw, seed)

    def with_its_pairs(self, kept: NDArray[np.intp], conditions: Conditions) -> OneMaterial:
        """Return the material, not yet run, with its own draws taken as the common ones were (`conditions`: taken already)."""
        line = OneMaterial(self.case, conditions, self.material, self.seed)
        if not self.missing:
            line._polymer = self._polymer.taken(kept)
            line._contact = None if self._contact is None else self._contact.taken(kept)
        return line

    def run(self, part: slice, conditions: Conditions, gas: GasSide) -> None:
        """Take the draws of one part through the run; `conditions` and `gas` are the part's."""
        if self.missing:
            return
        contact = None if self._contact is None else self._contact.taken(part)
        polymer, first = self._polymer.taken(part), part.start == 0
        part_run = run_polymer(self.case, conditions, gas, polymer, contact, first)
        self._run.add(part_run, part.start)
        if first:
            self._land_sizes = self._sizes_of_land(conditions, polymer, part_run)

    def _sizes_of_land(self, conditions: Conditions, polymer: Polymer, part_run: PartRun) -> FloatArray | None:
        """Return the crown land's diameter in the draws that are followed to the horizon, while the run lasts."""
        few = slice(0, SHOWN)
        until = np.minimum(life_of(part_run.times)[few], self.case.operation.target_run)
        return land_sizes(self.case, conditions.taken(few), polymer.taken(few), part_run.heat, until)

    def predicted_burst(self, thickness: float | None = None) -> FloatArray:
        """Return the pressure at which a bare crown of a `thickness` [m] bursts cold, (n_draw,) [Pa], see `predicted_burst`."""
        return predicted_burst(self.conditions, self._polymer, thickness)

    def times(self) -> dict[str, FloatArray]:
        """Return when each mechanism would end the run, its skirt's seizing among them, when all parts have been run."""
        self._fitted_skirt()
        return self._run.times

    def story(self, shapes: Shapes, effective: float) -> Story:
        """Return the story, when all parts have been run.

        `shapes` are those of the conditions, see `shapes_of`; `effective` is how many draws the draws are worth [1].
        """
        if self.missing:
            return missing_story(self.case, self.material, self.missing)
        contacts = contacts_of(self.case, self.material.id)
        skirt = self._fitted_skirt()
        fit = fit_advice(self.case, self.conditions, self._polymer, skirt, self._land_sizes, contacts)
        if not ring_in_metal(self.case):
            self._run.bursts_at = tuple(np.quantile(self.predicted_burst(), QUANTILES).tolist())
        return polymer_story(self.case, self._polymer, self._run, fit, shapes, self.conditions.assumed, effective)

    def _fitted_skirt(self) -> tuple[float, float, float]:
        """Return the range of the skirt's diameter [m], and let the run know when one of that size seizes.

        It is sized for the wanted run, or for the time that one draw in twenty outlasts where that is shorter; small enough
        that one draw in twenty would find it too large.
        """
        times = output_times(horizon_of(self.case))
        late = float(np.quantile(life_of(self._run.times), QUANTILES[2], method="inverted_cdf"))
        until = max(min(self.case.operation.target_run, late), float(times[1]))
        warm = skirt_temperature(self.conditions, self._polymer, times)
        size = diameter_range(skirt_sizes(self.case, self.conditions, self._polymer, times, warm, until))
        self._run.take_fit(skirt_fit(self.case, self.conditions, self._polymer, times, warm, size[0]))
        return size
