"""The shortlist: one row a material, best first."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.ranking import UNKNOWN, order_of, shared_ranks
from screening.judgement.choice.story import Story

KNOWN_AND_PRINTABLE, NOT_PRINTABLE, TOO_LITTLE_KNOWN = range(3)
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
    """Return what sorts a story, least first: its group, how it stands, its name."""
    return (group_of(story), order_of(story.standing) if story.standing else (), story.material.name)


def group_of(story: Story) -> int:
    """Return the group of a story: what can be printed stands above what cannot, what too little is known of below both."""
    if story.standing is None:
        return TOO_LITTLE_KNOWN
    return NOT_PRINTABLE if story.printability.outcome == CANNOT else KNOWN_AND_PRINTABLE


def leading(stories: Mapping[str, Story]) -> list[Story]:
    """Return what can be printed and of which something is known, best first as the stories are."""
    return [story for story in stories.values() if group_of(story) == KNOWN_AND_PRINTABLE]


def shortlist_frame(stories: Mapping[str, Story]) -> pd.DataFrame:
    """Return the table of all stories, which come in order."""
    return pd.DataFrame([_row(story) for story in stories.values()])


def _row(story: Story) -> dict[str, object]:
    s = story.standing
    diameter = story.print_diameter
    return {
        "material": story.material.id,
        "name": story.material.name,
        "rank": story.rank,
        "verdict": s.verdict if s else UNKNOWN,
        "chance_of_lasting": s.chance_of_lasting if s else np.nan,
        "plan_for_s": s.plan_for if s else np.nan,
        "median_s": s.median if s else np.nan,
        "late_s": s.late if s else np.nan,
        "ends_by": s.ends_by if s else UNKNOWN,
        "ends_by_share": s.ends_by_share if s else np.nan,
        **{f"contact_{name.replace(' ', '_')}": contact.outcome for name, contact in story.contacts.items()},
        "printable": story.printability.outcome,
        "print_diameter_mm": diameter[0] * 1e3 if diameter else np.nan,
        "reasons": list(story.reasons),
    }
