"""The shortlist: one row a material, best first."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from screening.judgement.printability import CANNOT
from screening.judgement.ranking import UNKNOWN, order_of, shared_ranks
from screening.judgement.story import Story


def ranked(stories: list[Story]) -> dict[str, Story]:
    """Return the stories best first, each with its rank.

    Order: chance of lasting, then time to plan for, then median. What cannot be printed stands below what can, what
    lacks needed values below both.
    """
    keys = [_key(story) for story in stories]
    ordered = [stories[i] for i in order_of(keys)]
    ranks = shared_ranks([s.life if s.standing else None for s in ordered], [_group(s) for s in ordered])
    return {story.material.id: story.with_rank(rank) for story, rank in zip(ordered, ranks, strict=True)}


def _key(story: Story) -> tuple[bool, bool, float, float, float]:
    if story.standing is None:
        return (False, False, 0.0, 0.0, 0.0)
    s = story.standing
    return (True, story.printability.outcome != CANNOT, s.chance_of_lasting, s.plan_for, s.median)


def _group(story: Story) -> int:
    return 2 if story.standing is None else int(story.printability.outcome == CANNOT)


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
