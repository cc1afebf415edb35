"""A crown's heat summed up for charts and sentences: quantiles over the draws that are followed to the horizon."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.choice.verdict import QUANTILES
from screening.judgement.piston.heating import SHOWN
from screening.judgement.piston.run import PartRun


@dataclass(frozen=True)
class CrownHistory:
    """Quantiles (5th, 50th, 95th) of the crown's heat over the draws; the first axis of each array is the quantile.

    `times` (n_time,) [s]; `depth_share` (n_depth,), depth over the stack's thickness [1]; `temperature`
    (3, n_time, n_depth) [K]; `surface` and `back` (3, n_time) [K]; `limit_pressure` (3, n_time) [Pa]; `load` (3,) [Pa];
    `softened_depth` (3, n_time) [m], polymer hotter than its softening temperature; `softening` (3,) [K];
    `thickness` typical stack thickness [m]; `recession` (3, n_time) [m]; `swing` (3,) [K]; `centre` (3, n_time) [K], the
    middle of a metal crown's face, of which `surface` is the mean (None: a polymer conducts nothing sideways).
    """

    times: FloatArray
    depth_share: FloatArray
    temperature: FloatArray
    surface: FloatArray
    back: FloatArray
    limit_pressure: FloatArray
    load: FloatArray
    softened_depth: FloatArray
    softening: FloatArray
    thickness: float
    recession: FloatArray
    swing: FloatArray
    centre: FloatArray | None = None


def crown_history(part: PartRun, limit: FloatArray) -> CrownHistory:
    """Return the quantiles of a crown's heat over the first SHOWN draws; `limit` (n_time, SHOWN) [Pa] is what it carries."""
    heat = part.heat

    def spread(values: FloatArray) -> FloatArray:
        # what has burned away counts as hottest, so that quantiles stay in order
        shown = values[..., :SHOWN]
        ends = np.quantile(np.where(np.isnan(shown), np.inf, shown), QUANTILES, axis=-1, method="inverted_cdf")
        return np.where(np.isinf(ends), np.nan, ends)

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
