"""The public table of a screening: one row a material, best first."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import UNKNOWN
from screening.sentences import worded


def shortlist_frame(stories: Mapping[str, Story]) -> pd.DataFrame:
    """Return the table of all stories, which come best first.

    Times in seconds (`inf`: beyond the horizon), the diameter in millimetres, chances and shares from 0 to 1, contacts by
    exposure; the reasons are sentences in trade units. What was not run has NaN and "unknown".
    """
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
        "worth_s": s.worth if s else np.nan,
        "start_breaks": s.start_breaks if s else np.nan,
        "held_start_breaks": s.held_start_breaks if s else np.nan,
        "holding_plan_for_s": s.holding_plan_for if s else np.nan,
        "holding_median_s": s.holding_median if s else np.nan,
        "on_the_line": bool(s and s.on_the_line),
        "plan_for_s": s.plan_for if s else np.nan,
        "median_s": s.median if s else np.nan,
        "late_s": s.late if s else np.nan,
        "ends_by": s.ends_by if s else UNKNOWN,
        "ends_by_share": s.ends_by_share if s else np.nan,
        **{f"contact_{name.replace(' ', '_')}": contact.outcome for name, contact in story.contacts.items()},
        "softens": worded(story.softens),
        "swells": story.swells,
        "printable": story.printability.outcome,
        "print_diameter_mm": diameter[0] * 1e3 if diameter else np.nan,
        "reasons": [worded(reason) for reason in story.reasons],
    }
