"""From the parts of a run to one material's story: times joined, heat summed up, standing and reasons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.choice.printability import judge_printability
from screening.judgement.choice.ranking import life_of, standing
from screening.judgement.choice.reasons import baseline_reasons, polymer_reasons, unknown_reasons
from screening.judgement.choice.sensitivity import IndexArray, influences, input_orders
from screening.judgement.choice.story import QUANTILES, CrownHistory, Story
from screening.judgement.contact.pair import EXPOSURES, Contact, assess_contact
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.fit_advice import fit_advice
from screening.judgement.piston.heating import SHOWN, horizon_of
from screening.judgement.piston.run import PartRun
from screening.records.materials.materials import Material

FloatArray = np.ndarray


@dataclass
class Gathered:
    """One material's run while its parts come in; the heat of the first part stands for all in the charts.

    `land_sizes` (SHOWN,) [m] are the diameters to print the crown land at, None where they are not known.
    """

    times: dict[str, list[FloatArray]] = field(default_factory=dict)
    copy_seizes_at: list[FloatArray] = field(default_factory=list)
    land_sizes: FloatArray | None = None
    history: CrownHistory | None = None

    def add(self, part: PartRun) -> None:
        """Take in the next part."""
        for name, value in part.times.items():
            self.times.setdefault(name, []).append(value)
        if part.fit is not None:
            self.copy_seizes_at.append(part.fit.copy_seizes_at)
        if self.history is None and part.limit is not None:
            self.history = _history(part, part.limit)

    def joined(self) -> dict[str, FloatArray]:
        """Return the times of all parts, (n_draw,) each."""
        return {name: np.concatenate(parts) for name, parts in self.times.items()}


def _alone(times: Mapping[str, FloatArray]) -> dict[str, FloatArray]:
    """Return the times of the draws of which every mechanism is known, whatever ends the run first."""
    return {name: values[:SHOWN] for name, values in times.items()}


def _history(part: PartRun, limit: FloatArray) -> CrownHistory:
    """Return the quantiles over the first SHOWN draws."""
    heat = part.heat

    def spread(values: FloatArray) -> FloatArray:
        # what has burned away counts as hottest, so that quantiles stay in order
        shown = values[..., :SHOWN]
        found = np.quantile(np.where(np.isnan(shown), np.inf, shown), QUANTILES, axis=-1, method="inverted_cdf")
        return np.where(np.isinf(found), np.nan, found)

    depth = heat.depth if heat.depth.ndim == 2 else heat.depth[:, None]
    return CrownHistory(
        times=heat.times,
        depth_share=np.median(depth / depth[-1], axis=1),
        temperature=spread(heat.temperature),
        surface=spread(heat.surface_temperature),
        back=spread(heat.back_temperature),
        limit_pressure=spread(limit),
        load=spread(part.load.running),
        softened_depth=spread(part.softened_depth),
        softening=spread(part.softening),
        thickness=float(np.median(depth[-1])),
        recession=spread(heat.recession),
        swing=spread(part.swing),
        centre=None if part.centre is None else spread(part.centre),
    )


def polymer_story(
    case: Case,
    conditions: Conditions,
    polymer: Polymer,
    run: Gathered,
    size: tuple[float, float, float],
    orders: Mapping[str, IndexArray],
) -> Story:
    """Return the story of a material that was run; `orders` are those of the conditions, see `input_orders`."""
    times = run.joined()
    life = life_of(times)
    place = standing(times, case.operation.target_run)
    own = input_orders({f"{polymer.material.id}.{name}": value for name, value in polymer.values.items()})
    contacts = contacts_of(case, polymer.material.id)
    printability = judge_printability(polymer.material, case.printer)
    assert run.history is not None
    copied = np.concatenate(run.copy_seizes_at)
    reasons = polymer_reasons(
        case, polymer, place, times, run.history, copied, contacts, printability, conditions["start_lasts"]
    )
    return Story(
        material=polymer.material,
        standing=place,
        life=life,
        times=_alone(times),
        history=run.history,
        printability=printability,
        contacts=contacts,
        fit=fit_advice(case, conditions, polymer, size, run.land_sizes, contacts),
        reasons=reasons,
        influences=influences(life, {**orders, **own}, horizon_of(case)),
        missing=(),
    )


def unknown_story(case: Case, material: Material, missing: tuple[str, ...]) -> Story:
    """Return the story of a material that lacks values without which nothing can be said of a run."""
    return Story(
        material=material,
        standing=None,
        life=np.empty(0),
        times={},
        history=None,
        printability=judge_printability(material, case.printer),
        contacts=contacts_of(case, material.id),
        fit=None,
        reasons=unknown_reasons(material, missing),
        influences=(),
        missing=missing,
    )


def baseline_story(case: Case, metal: Material, run: Gathered) -> Story:
    """Return the story of the metal piston."""
    times = run.joined()
    life = life_of(times)
    place = standing(times, case.operation.target_run)
    assert run.history is not None
    return Story(
        material=metal,
        standing=place,
        life=life,
        times=_alone(times),
        history=run.history,
        printability=judge_printability(metal, case.printer),
        contacts={},
        fit=None,
        reasons=baseline_reasons(case, place, run.history, life.size),
        influences=(),
        missing=(),
    )


@lru_cache(maxsize=512)
def contacts_of(case: Case, material_id: str) -> Mapping[str, Contact]:
    """Return what the fuel does to a material, by exposure; kept, as it is the same for any number of draws."""
    found = {exposure: assess_contact(material_id, case.fuel, exposure=exposure, case=case) for exposure in EXPOSURES}
    return MappingProxyType(found)
