"""One material's story as rows of tables."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import streamlit as st

from app import shown_units
from screening.judgement.screening import Screening
from screening.judgement.story import CrownHistory, Story
from screening.judgement.what_if import Change
from screening.judgement.wording import chance, duration
from screening.report.shortlist_cells import verdict_cell

Rows = list[dict[str, str]]
_MOMENTS = (1, 3, 10, 30, 100, 300)
GONE = "gone"


def chosen_material(result: Screening) -> str:
    """Draw the choice of a material, best first, and keep it while other pages are looked at."""
    ids = list(result.stories)
    former = st.session_state.get("looked_at")
    names = {id: f"{story.rank}. {story.material.name}" for id, story in result.stories.items()}
    place = ids.index(former) if former in ids else 0
    found: str = st.selectbox("Material", ids, index=place, format_func=lambda id: names[id], key="material",
                              on_change=lambda: st.session_state.update(looked_at=st.session_state.material))  # fmt: skip
    return found


def moments_of(history: CrownHistory) -> list[int]:
    """Return the moments [s] that table and chart show."""
    return [moment for moment in _MOMENTS if moment <= history.times[-1]]


def heat_rows(history: CrownHistory, moments: Sequence[float]) -> Rows:
    """Return the crown at each moment; a part that is used up is gone, not unknown."""
    found: Rows = []
    for moment in moments:
        i = int(np.argmin(np.abs(history.times - moment)))
        face, under = float(history.surface[1, i]), float(history.back[1, i])
        carries, gone = float(history.limit_pressure[1, i]) / 1e5, math.isnan(face) and math.isnan(under)
        found.append(
            {
                "after": duration(float(history.times[i])),
                "face": GONE if math.isnan(face) else shown_units.temperature(face),
                "underside": GONE if math.isnan(under) else shown_units.temperature(under),
                "softened": GONE
                if gone
                else f"{1e3 * float(history.softened_depth[1, i]):.2f} of {1e3 * history.thickness:.1f} mm",
                "carries": "nothing" if gone or math.isnan(carries) else f"{carries:.1f} bar",
                "must carry": f"{float(history.load[1]) / 1e5:.1f} bar",
            }
        )
    return found


def time_rows(stories: Sequence[Story], horizon: float) -> Rows:
    """Return the time to plan for, the median and the time that one draw in twenty outlasts, best first."""
    found: Rows = []
    for story in stories:
        s = story.standing
        times = (s.plan_for, s.median, s.late) if s else (math.nan,) * 3
        shown = dict(zip(("plan for", "median", "one in twenty outlasts"), times, strict=True))
        found.append({"material": story.material.name} | {name: duration(t, horizon) for name, t in shown.items()})
    return found


def mechanism_rows(story: Story, horizon: float) -> Rows:
    """Return when each mechanism would end the run, the soonest first."""
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
    """Return how the material stands with each thing changed."""
    return [
        {
            "change": change.what,
            "verdict": verdict_cell(s.verdict) if (s := change.standing) else f"not possible: {change.why_not}",
            "plan for": duration(s.plan_for) if s else "-",
            "median": duration(s.median) if s else "-",
        }
        for change in changes
    ]
