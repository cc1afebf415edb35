"""From times to an order: verdict, time to plan for, median, chance of lasting, shared ranks. No hidden weights."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from screening.errors import OutOfRange
from screening.words import AT_ONCE

FloatArray = np.ndarray

LASTS, SHORT, FAILS, UNKNOWN = "lasts", "short run only", "fails", "unknown"
VERDICTS = (LASTS, SHORT, FAILS)
"""Best first."""
NOTHING = "nothing within the horizon"
"""What ends a run that outlasts the horizon."""
LASTING_CHANCE = 0.95
"""Chance of lasting the wanted run from which a material "lasts" (the project's own choice)."""
SHORT_RUN = 10.0
"""Time to plan for from which a run is worth starting [s] (the project's own choice)."""
TIE = (0.4, 0.6)
"""Two materials share a rank while the chance that one outlasts the other lies between these (own choice)."""


@dataclass(frozen=True)
class Standing:
    """How one material stands.

    Parameters
    ----------
    verdict : str
        One of "lasts", "short run only", "fails".
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
    """Return how a material stands, from the time (n_draw,) [s] at which each mechanism would end its run.

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
    early, median, late = np.quantile(life, (0.05, 0.5, 0.95), method="inverted_cdf")
    first = np.where(np.isfinite(life), table.argmin(axis=0), len(names))
    counts = np.bincount(first, minlength=len(names) + 1) / life.size
    shares = sorted(zip([*names, NOTHING], counts, strict=True), key=lambda pair: -pair[1])
    short_or_fails = SHORT if early >= SHORT_RUN else FAILS
    verdict = LASTS if chance >= LASTING_CHANCE else short_or_fails
    return Standing(
        verdict,
        chance,
        float(early),
        float(median),
        float(late),
        shares[0][0],
        float(shares[0][1]),
        tuple((name, float(share)) for name, share in shares if share > 0),
    )


def life_of(times: Mapping[str, FloatArray]) -> FloatArray:
    """Return when the first mechanism ends the run in each draw, (n_draw,) [s]."""
    return np.stack(list(times.values())).min(axis=0)


def order_of(place: Standing) -> tuple[int, float, float, float]:
    """Return what sorts a material, least first: verdict, then time to plan for, then median, then chance of lasting.

    The chance stands last, so that one lucky draw lifts nothing above what can be planned for longer. What ends at once
    can be planned for no time at all: then the median decides.
    """
    planned = place.plan_for if place.plan_for >= AT_ONCE else 0.0
    return (VERDICTS.index(place.verdict), -planned, -place.median, -place.chance_of_lasting)


def shared_ranks(lives: Sequence[FloatArray | None], groups: Sequence[Hashable]) -> list[int]:
    """Return ranks for materials already in order; those that cannot be told from a group's leader share its rank.

    Parameters
    ----------
    lives : (n_draw,) [s] for each material, best first, or None where nothing is known
    groups : what each material must have in common with another to share a rank with it (printable or not, verdict)
    """
    ranks: list[int] = []
    leader = 0
    for i, life in enumerate(lives):
        if i and not (groups[i] == groups[leader] and _tied(life, lives[leader])):
            leader = i
        ranks.append(leader + 1)
    return ranks


def _tied(life: FloatArray | None, leader: FloatArray | None) -> bool:
    if life is None or leader is None:
        return life is leader
    outlasts = float(np.mean(life > leader) + np.mean(life == leader) / 2)
    return TIE[0] <= outlasts <= TIE[1]
