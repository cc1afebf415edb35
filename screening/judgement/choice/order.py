"""From verdicts to an order: verdict, time to plan for, median, chance of lasting, shared ranks. No hidden weights."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import VERDICTS, Standing
from screening.words import AT_ONCE

TIE = (0.4, 0.6)
"""Two materials share a rank while the chance that one outlasts the other lies between these (the project's own choice)."""
PRINTABLE, NOT_PRINTABLE, LACKS_VALUES = range(3)
"""The groups of the shortlist, in their order."""


def ranked(stories: list[Story]) -> dict[str, Story]:
    """Return the stories best first, each with its rank.

    Order: verdict, then time to plan for, then median, then chance of lasting, then name. What cannot be printed stands
    below what can, what lacks needed values below both. A rank is shared within a verdict only: one that lasts and one
    that fails are not the same to whoever starts the engine, even where few draws part them.
    """
    ordered = sorted(stories, key=_key)
    groups = [(group_of(s), s.standing and s.standing.verdict) for s in ordered]
    ranks = shared_ranks([s.life if s.standing else None for s in ordered], groups)
    return {story.material.id: story.with_rank(rank) for story, rank in zip(ordered, ranks, strict=True)}


def _key(story: Story) -> tuple[int, tuple[float, ...], str]:
    """Return the key that sorts a story, least first: its group, its standing, its name."""
    return (group_of(story), order_of(story.standing) if story.standing else (), story.material.name)


def group_of(story: Story) -> int:
    """Return the group of a story: what can be printed, above what cannot, above what has too few values."""
    if story.standing is None:
        return LACKS_VALUES
    return NOT_PRINTABLE if story.printability.outcome == CANNOT else PRINTABLE


def leading(stories: Mapping[str, Story]) -> list[Story]:
    """Return the stories of what can be printed and was run, best first as the stories are."""
    return [story for story in stories.values() if group_of(story) == PRINTABLE]


def order_of(standing: Standing) -> tuple[int, float, float, float]:
    """Return the key that sorts a material, least first: verdict, then time to plan for, then median, then chance of lasting.

    The chance stands last, so that one lucky draw lifts nothing above what can be planned for longer. What ends at once
    can be planned for no time at all: then the median decides.
    """
    planned = standing.plan_for if standing.plan_for >= AT_ONCE else 0.0
    return (VERDICTS.index(standing.verdict), -planned, -standing.median, -standing.chance_of_lasting)


def shared_ranks(lives: Sequence[FloatArray | None], groups: Sequence[Hashable]) -> list[int]:
    """Return ranks from 1 for materials already in order; one that is as good as its group's leader shares its rank.

    Parameters
    ----------
    lives : (n_draw,) [s] for each material, best first, or None where it was not run
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
