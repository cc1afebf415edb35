"""One material's story as rows of tables."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import streamlit as st

from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.choice.what_if import Change
from screening.report.shortlist.shortlist_cells import verdict_cell
from screening.words import chance, duration

Rows = list[dict[str, str]]


def chosen_material(result: Screening) -> str:
    """Draw the choice of a material, best first, and keep it while other pages are looked at."""
    ids = list(result.stories)
    former = st.session_state.get("looked_at")
    names = {id: f"{story.rank}. {story.material.name}" for id, story in result.stories.items()}
    place = ids.index(former) if former in ids else 0
    found: str = st.selectbox("Material", ids, index=place, format_func=lambda id: names[id], key="material",
                              on_change=lambda: st.session_state.update(looked_at=st.session_state.material))  # fmt: skip
    return found


def mechanism_rows(story: Story, horizon: float) -> Rows:
    """Times at which each mechanism would end the run, the soonest first."""
    medians = {name: float(np.quantile(t, 0.5, method="inverted_cdf")) for name, t in story.times.items()}
    return [
        {
            "what ends it": name,
            f"within {duration(horizon)} in": chance(
                float(np.mean(np.isfinite(story.times[name]))), story.times[name].size
            ),
            "half of the draws by": duration(medians[name], horizon),
        }
        for name in sorted(medians, key=lambda name: (medians[name], -float(np.mean(np.isfinite(story.times[name])))))
    ]


def change_rows(changes: Sequence[Change]) -> Rows:
    """Standing of the material with each thing changed."""
    return [
        {
            "change": change.what,
            "verdict": verdict_cell(s.verdict) if (s := change.standing) else f"not possible: {change.why_not}",
            "plan for": duration(s.plan_for) if s else "-",
            "median": duration(s.median) if s else "-",
        }
        for change in changes
    ]
