"""From times to a verdict: lasts, short run only, fails."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.errors import OutOfRange

LASTS, SHORT, FAILS, UNKNOWN = "lasts", "short run only", "fails", "unknown"
VERDICTS = (LASTS, SHORT, FAILS)
"""Best first."""
NOTHING = "nothing within the horizon"
"""What ends a run that outlasts the horizon."""
LASTING_CHANCE = 0.95
"""Chance of lasting the wanted run from which a material "lasts" (the project's own choice)."""
SHORT_RUN = 10.0
"""Time to plan for from which a run is worth starting [s] (the project's own choice)."""
QUANTILES = (0.05, 0.5, 0.95)
"""The time to plan for, the median and the other end [1]: of twenty draws one ends sooner, one later."""


@dataclass(frozen=True)
class Standing:
    """One material's verdict and the times that it rests on.

    Parameters
    ----------
    verdict : str
        "lasts" where the chance of lasting is `LASTING_CHANCE` or more, else "short run only" where the time to plan for is
        `SHORT_RUN` or more, else "fails".
    chance_of_lasting : float
        Share of draws that reach the wanted run [1].
    plan_for, median, late : float
        5th, 50th and 95th percentile of the time to the end [s]; inf: beyond the horizon.
    ends_by, ends_by_share : str, float
        What ends most runs, and the share of draws it ends [1].
    shares : tuple of (str, float)
        Every mechanism that ends any draw, and its share [1], largest first.
    """

    verdict: str
    chance_of_lasting: float
    plan_for: float
    median: float
    late: float
    ends_by: str
    ends_by_share: float
    shares: tuple[tuple[str, float], ...]


def standing(times: dict[str, FloatArray], target_run: float) -> Standing:
    """Return the verdict on a material, from the time (n_draw,) [s] at which each mechanism would end its run.

    The 5th, 50th and 95th percentiles are taken as order statistics, so that inf (never within the horizon) is
    allowed; a draw without an end counts as "nothing within the horizon".

    Parameters
    ----------
    times : dict of arrays (n_draw,)
        When each mechanism would end the run [s], inf where it would not.
    target_run : float
        The wanted run [s].

    Returns
    -------
    Standing

    Raises
    ------
    OutOfRange
        A time is not a number: it must not pass for "never".
    """
    names = list(times)
    table = np.stack([times[name] for name in names])
    if np.isnan(table).any():
        broken = ", ".join(name for name, time in times.items() if np.isnan(time).any())
        raise OutOfRange(f"times: {broken} gives no number in some draws; must be seconds, or inf for never")
    life = table.min(axis=0)
    chance = float(np.mean(life >= target_run))
    early, median, late = (float(time) for time in np.quantile(life, QUANTILES, method="inverted_cdf"))
    first = np.where(np.isfinite(life), table.argmin(axis=0), len(names))
    counts = np.bincount(first, minlength=len(names) + 1) / life.size
    shares = sorted(zip([*names, NOTHING], counts, strict=True), key=lambda pair: -pair[1])
    return Standing(
        verdict=verdict_of(chance, early),
        chance_of_lasting=chance,
        plan_for=early,
        median=median,
        late=late,
        ends_by=shares[0][0],
        ends_by_share=float(shares[0][1]),
        shares=tuple((name, float(share)) for name, share in shares if share > 0),
    )


def verdict_of(chance_of_lasting: float, plan_for: float) -> str:
    """Return the verdict on a chance of lasting the wanted run [1] and a time to plan for [s]."""
    if chance_of_lasting >= LASTING_CHANCE:
        return LASTS
    return SHORT if plan_for >= SHORT_RUN else FAILS


def life_of(times: Mapping[str, FloatArray]) -> FloatArray:
    """Return the time at which the first mechanism ends the run in each draw, (n_draw,) [s]."""
    return np.stack(list(times.values())).min(axis=0)
