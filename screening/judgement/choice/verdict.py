"""From times to a verdict: lasts, short run only, gamble, fails; and how the start fares.

The verdict follows from two chances, of the wanted run and of a short one, and is in words only: the order has its own rule
(`worth`). Near a limit the draws cannot tell on which side a material stands, and the verdict says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.judgement.choice.worth import worth
from screening.judgement.piston.load import StartOutcome

LASTS, SHORT, GAMBLE, FAILS, UNKNOWN = "lasts", "short run only", "gamble", "fails", "unknown"
VERDICTS = (LASTS, SHORT, GAMBLE, FAILS)
"""Best first."""
NOTHING = "nothing within the horizon"
"""What ends a run that outlasts the horizon."""
LASTING_CHANCE = 0.95
"""Chance of lasting the wanted run from which a material "lasts" (the project's choice)."""
SHORT_RUN = 10.0
"""A run of this length [s] is worth starting (the project's choice)."""
SHORT_CHANCE, GAMBLE_CHANCE = 0.8, 0.5
"""Chances of lasting a short run from which it is a "short run only", and a "gamble" (the project's choice)."""
QUANTILES = (0.05, 0.5, 0.95)
"""The time to plan for, the median and the other end [1]: of twenty draws one ends sooner, one later."""
_NINETY = 1.645
"""Standard deviations of a normal distribution on either side of its middle nine tenths."""


@dataclass(frozen=True)
class Standing:
    """One material's verdict and the times that it rests on.

    Parameters
    ----------
    verdict : str
        "lasts" where the chance of lasting is `LASTING_CHANCE` or more; else by the chance of a short run: "short run only",
        "gamble", "fails".
    on_the_line : bool
        Whether so few draws could as well have given the verdict above or below.
    chance_of_lasting, chance_of_short_run : float
        Share of draws that reach the wanted run, and `SHORT_RUN` [1].
    plan_for, median, late : float
        5th, 50th and 95th percentile of the time to the end [s]; inf: beyond the horizon.
    start_breaks, held_start_breaks : float
        Share of draws that end within the start of the case, and that would with the throttle held nearly shut [1].
    holding_plan_for, holding_median : float
        5th and 50th percentile of the time to the end of those that the start does not break [s]; NaN where it breaks all.
    worth : float
        What its lives are worth [s]; it sets the order, see `screening.judgement.choice.worth`.
    ends_by, ends_by_share : str, float
        What ends most runs, and the share of draws it ends [1].
    shares : tuple of (str, float)
        Every mechanism that ends any draw, and its share [1], largest first.
    """

    verdict: str
    on_the_line: bool
    chance_of_lasting: float
    chance_of_short_run: float
    plan_for: float
    median: float
    late: float
    start_breaks: float
    held_start_breaks: float
    holding_plan_for: float
    holding_median: float
    worth: float
    ends_by: str
    ends_by_share: float
    shares: tuple[tuple[str, float], ...]


def standing(
    times: Mapping[str, FloatArray], target_run: float, start: StartOutcome, effective: float | None = None
) -> Standing:
    """Return the verdict on a material, from the time at which each mechanism would end its run.

    Percentiles are taken as order statistics, so that inf (never within the horizon) is allowed; a draw without an end counts
    as "nothing within the horizon".

    Parameters
    ----------
    times : when each mechanism would end the run, inf where it would not, (n_draw,) [s] each
    target_run : the wanted run [s]
    start : how long the start lasts, and what a held one would break, (n_draw,)
    effective : how many draws the draws are worth [1]; all of them if left out

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
    lasting, short = float(np.mean(life >= target_run)), float(np.mean(life >= min(SHORT_RUN, target_run)))
    early, median, late = (float(time) for time in np.quantile(life, QUANTILES, method="inverted_cdf"))
    broken_at_start = life <= start.lasts
    holding = life[~broken_at_start]
    first = np.where(np.isfinite(life), table.argmin(axis=0), len(names))
    counts = np.bincount(first, minlength=len(names) + 1) / life.size
    shares = sorted(zip([*names, NOTHING], counts, strict=True), key=lambda pair: -pair[1])
    plan_if_held, median_if_held = (
        (float(t) for t in np.quantile(holding, QUANTILES[:2], method="inverted_cdf"))
        if holding.size
        else (np.nan,) * 2
    )
    return Standing(
        verdict=verdict_of(lasting, short),
        on_the_line=on_the_line(lasting, short, life.size if effective is None else effective),
        chance_of_lasting=lasting,
        chance_of_short_run=short,
        plan_for=early,
        median=median,
        late=late,
        start_breaks=float(np.mean(broken_at_start)),
        held_start_breaks=float(np.mean(start.held_breaks)),
        holding_plan_for=plan_if_held,
        holding_median=median_if_held,
        worth=worth(life, target_run),
        ends_by=shares[0][0],
        ends_by_share=float(shares[0][1]),
        shares=tuple((name, float(share)) for name, share in shares if share > 0),
    )


def verdict_of(chance_of_lasting: float, chance_of_short_run: float) -> str:
    """Return the verdict on the chances of lasting the wanted run and a short one [1]."""
    if chance_of_lasting >= LASTING_CHANCE:
        return LASTS
    if chance_of_short_run >= SHORT_CHANCE:
        return SHORT
    return GAMBLE if chance_of_short_run >= GAMBLE_CHANCE else FAILS


def on_the_line(chance_of_lasting: float, chance_of_short_run: float, effective: float) -> bool:
    """Return whether a limit of the verdict lies within what so many draws leave open of its chance (9 in 10).

    Of the short run's two limits only matters what the chance of lasting does not decide.
    """
    low, high = chance_range(chance_of_lasting, effective)
    if low < LASTING_CHANCE <= high or chance_of_lasting >= LASTING_CHANCE:
        return low < LASTING_CHANCE <= high
    low, high = chance_range(chance_of_short_run, effective)
    return any(low < limit <= high for limit in (SHORT_CHANCE, GAMBLE_CHANCE))


def chance_range(share: float, draws: float) -> tuple[float, float]:
    """Return between which chances [1] the true one lies (9 in 10) when so many draws show this share [1].

    References
    ----------
    Wilson, Journal of the American Statistical Association 22 (1927) 209 (from memory).

    >>> [round(end, 3) for end in chance_range(0.8, 250)]
    [0.755, 0.838]
    """
    z2 = _NINETY**2
    middle = (share + z2 / (2 * draws)) / (1 + z2 / draws)
    half = _NINETY / (1 + z2 / draws) * np.sqrt(share * (1 - share) / draws + z2 / (4 * draws**2))
    return float(middle - half), float(middle + half)


def life_of(times: Mapping[str, FloatArray]) -> FloatArray:
    """Return the time at which the first mechanism ends the run in each draw, (n_draw,) [s]."""
    return np.stack(list(times.values())).min(axis=0)
