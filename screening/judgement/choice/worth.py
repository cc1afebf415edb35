"""What a life is worth, and the order that follows: a score without cliffs, and nobody above whom he is plainly beaten by.

The rule in one place. A run of seconds counts for little and a run beyond the wanted time for no more than the wanted time;
between, each doubling counts about alike: so the score of a draw is ln(1 + life/10 s), the life cut at the wanted run, and a
material's score is the mean over the draws. Shown, it is turned back into seconds: the "worth". A share of early failures
lowers it smoothly, where a fifth percentile would jump to nothing as soon as one draw in twenty fails (compare the restricted
mean survival time, Royston and Parmar, BMC Medical Research Methodology 13 (2013) 152). The 10 s is the project's choice:
3 or 30 in its place leave the demo's leaders where they are (tests/judgement/choice).

Within a group (printable or not) materials stand by their score; but one that outlasts another in nine of ten draws never
stands below it. Those that cannot be told from the leader share its rank.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np

from screening.arrays import FloatArray

SCALE = 10.0
"""A run of this length [s] begins to count (the project's choice)."""
PLAINLY_BEATEN = 0.9
"""Share of the common draws in which one outlasts the other, from which it never stands below it (the project's choice)."""
TIE = (0.4, 0.6)
"""Share of the draws in which one outlasts the leader between which the two share a rank (the project's choice)."""
STANDARD_ERRORS = 2.0
"""Scores nearer than so many standard errors of their difference share a rank too."""


def scores(life: FloatArray, wanted: float) -> FloatArray:
    """Return the score of each draw [1]: ln(1 + min(life, wanted)/10 s); `life` (n_draw,) [s], inf for never."""
    return np.log1p(np.minimum(life, wanted) / SCALE)


def worth(life: FloatArray, wanted: float) -> float:
    """Return what a material's lives are worth [s]: the steady life that would score the same.

    >>> round(worth(np.array([0.0, 300.0]), 300.0), 1)
    45.7
    """
    return float(SCALE * np.expm1(np.mean(scores(life, wanted))))


def beaten_share(life: FloatArray, other: FloatArray) -> float:
    """Return the share of the common draws in which the other outlasts this one; equals count half [1]."""
    return float(np.mean(other > life) + np.mean(other == life) / 2)


def ordered(lives: Sequence[FloatArray], wanted: float) -> list[int]:
    """Return the places of materials, best first: by score, but nobody above whom he is plainly beaten by.

    Taken one by one: the best-scored of those that none of the rest plainly beats; where each is beaten by another (a circle,
    which takes ten materials or more), the best-scored.
    """
    by_score = sorted(range(len(lives)), key=lambda i: -worth(lives[i], wanted))
    order: list[int] = []
    rest = list(by_score)
    while rest:
        free = (i for i in rest if all(beaten_share(lives[i], lives[j]) < PLAINLY_BEATEN for j in rest if j != i))
        first = next(free, rest[0])
        order.append(first)
        rest.remove(first)
    return order


def cannot_be_told_apart(life: FloatArray, leader: FloatArray, wanted: float, effective: float) -> bool:
    """Return whether a material shares the leader's rank: it outlasts it about as often as not, or their scores differ by less
    than the draws can tell. `effective` is the number of draws that the draws are worth."""
    if TIE[0] <= beaten_share(leader, life) <= TIE[1]:
        return True
    difference = scores(life, wanted) - scores(leader, wanted)
    error = float(np.std(difference)) / np.sqrt(max(effective, 1.0))
    return abs(float(np.mean(difference))) <= STANDARD_ERRORS * error


def ranks(lives: Sequence[FloatArray | None], groups: Sequence[Hashable], wanted: float, effective: float) -> list[int]:
    """Return the ranks of materials that stand in their order; what cannot be told from a group's leader shares its rank.

    Parameters
    ----------
    lives : (n_draw,) [s] of each material, best first; None where nothing is known of it
    groups : what each must have in common with another to share a rank with it (printable or not)
    wanted : [s] the wanted run
    effective : [1] how many draws the draws are worth
    """
    given: list[int] = []
    leader = 0
    for i, life in enumerate(lives):
        first = lives[leader]
        if i and groups[i] == groups[leader]:
            alike = (
                life is first if life is None or first is None else cannot_be_told_apart(life, first, wanted, effective)
            )
        else:
            alike = False
        leader = leader if alike else i
        given.append(leader + 1)
    return given
