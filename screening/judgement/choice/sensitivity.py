"""Which input's uncertainty moves the result most, and therefore what to measure next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from screening.arrays import FloatArray

IndexArray = NDArray[np.int64]
_BINS = 10
_FEWEST_IN_A_BIN = 5
_SHORTEST = 1e-2
"""What is over sooner [s] counts as over then, as its logarithm would drown the rest (the project's own choice)."""


@dataclass(frozen=True)
class Influence:
    """What one input's uncertainty does to the life.

    Parameters
    ----------
    name : of the input
    share_of_spread : its share of the spread of log time [1]
    narrowing : the share by which the range narrows once it is measured [1]
    measure_by : the means of measuring it; empty where none is named
    """

    name: str
    share_of_spread: float
    narrowing: float
    measure_by: str


MEASURED_BY = {
    "crown_thickness": "a calliper on the crown, or the model's own drawing",
    "multiplier": (
        "a temperature plug or a melted witness in the crown; a head log of the first ten minutes helps a little"
    ),
    "correlation": "a temperature plug or a melted witness in the crown",
    "burned_volume_flow": "a marked tank and a stopwatch over several minutes",
    "volumetric_efficiency": "a timed burn from a marked tank",
    "equivalence_ratio": "an exhaust lambda probe, or the colour of the plug",
    "compression_ratio": "oil from a syringe into the combustion chamber at top dead centre; a compression gauge says less",
    "speed": "a tachometer, or the pitch of the exhaust note",
    "edge_factor_error": "bursting a spare crown with oil, cold, behind a shield: see the cold proof",
    "combustion_start": "a strobe on the flywheel, or the spark timing in the engine's manual",
    "combustion_duration": "an indicator, which few have",
    "crankcase_film": "a thermocouple under a metal crown",
    "crankcase": "a thermometer in the crankcase oil after a run",
    "solid_share": "weighing a printed cube",
    "emissivity": "a dot of matt black high-temperature paint on the head",
    "ambient": "a thermometer",
    "surroundings": "a dot of matt black high-temperature paint on the head, which hardly mirrors",
    "skirt_wall": "a calliper",
    "ring_groove_depth": "a calliper",
    "bore": "a calliper",
    "stroke": "a depth gauge through the plug hole",
}


def tellable_share(draws: int) -> float:
    """Return the share of spread [1] that one input in a thousand reaches by chance.

    `draws` times the share that ten bins of noise show is distributed as chi-square with nine degrees of freedom, of
    which `influences` takes the mean away: 0.19 for 100 draws, 0.019 for 1000.
    """
    return float(stats.chi2.ppf(0.999, _BINS - 1) - (_BINS - 1)) / draws


_FOLLOWS = {
    "gun_compensates_for": "ambient",
    "head_surface": "emissivity",
    "head_wall": "head_surface",
    "liner": "head_surface",
}
"""What is worked out from another input: only the other can be measured."""


def input_orders(inputs: Mapping[str, FloatArray]) -> dict[str, IndexArray]:
    """Return the draws of each input from its lowest value up, (n_draw,).

    One that does not vary is left out, and so is one that follows from another that does.
    """
    varies = {name for name, value in inputs.items() if np.all(np.isfinite(value)) and np.ptp(value) > 0}
    free = [name for name in inputs if name in varies and _FOLLOWS.get(name) not in varies]
    return {name: np.argsort(inputs[name], kind="stable") for name in free}


def influences(
    life: FloatArray, orders: Mapping[str, IndexArray], horizon: float, effective: float | None = None
) -> tuple[Influence, ...]:
    """Return the inputs by their share of the spread of log time, largest first.

    The share is the correlation ratio of log time on the input in ten bins of equal count (the first-order index of
    variance), less what ten bins of noise would show; knowing the input narrows the range by about
    1 - sqrt(1 - share).

    Parameters
    ----------
    life : (n_draw,)
        [s]; times beyond `horizon` count as the horizon.
    orders : mapping of (n_draw,)
        From `input_orders`, of each input that varies.
    horizon : float
        [s]
    effective : float, optional
        How many draws the draws are worth [1], which sets what noise shows; all of them if left out.

    Returns
    -------
    tuple of Influence
        Empty where the time does not vary, or where there are fewer than 50 draws.

    Notes
    -----
    Ten bins smooth the input: an index of a curve that swings within a bin comes out low (by an eighth for the second
    input of the Ishigami function). Effects of two inputs together count for neither.

    References
    ----------
    Pearson (1905) for the correlation ratio; Sobol (1993) and Saltelli et al., Global Sensitivity Analysis: The Primer
    (2008), chapter 1, for the index (from memory).
    """
    target = np.log(np.clip(np.nan_to_num(life, posinf=horizon), _SHORTEST, horizon))
    total = float(target.var())
    if np.ptp(target) == 0 or life.size < _FEWEST_IN_A_BIN * _BINS:
        return ()
    edges = -(-np.arange(_BINS + 1) * life.size // _BINS)
    counts = np.diff(edges)
    shares = []
    for name, order in orders.items():
        means = np.add.reduceat(target[order], edges[:-1]) / counts
        between = float(np.sum(counts * (means - target.mean()) ** 2) / life.size)
        noise = (_BINS - 1) / (effective or life.size) * (total - between)
        share = float(np.clip((between - noise) / total, 0, 1))
        measure = MEASURED_BY.get(name, "a better source for the material's value" if "." in name else "")
        shares.append(Influence(name, share, 1 - float(np.sqrt(1 - share)), measure))
    return tuple(sorted(shares, key=lambda influence: -influence.share_of_spread))
