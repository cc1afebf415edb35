"""The whole story of one material."""

from __future__ import annotations

import numpy as np
import pandas as pd
import streamlit as st

from app import case_state, compute, shown_units, widgets
from screening.judgement.wording import duration, percent
from screening.records.cautions import material_cautions
from screening.report.charts import depth_chart, pressure_chart, warm_up_chart
from screening.report.shortlist_cells import SYMBOLS, verdict_of

st.title("One material")
case = case_state.case_or_stop()
result = compute.result_or_stop(case)
names = {i: found.material.name for i, found in result.stories.items()}
id = st.selectbox("Material", list(names), format_func=lambda i: f"{names[i]} ({i})")
assert id is not None
story = result.material(id)
verdict = verdict_of(story)
st.subheader(f"{SYMBOLS[verdict]} {verdict}, rank {story.rank}")
st.markdown("\n".join(f"- {reason}" for reason in story.reasons))

history = story.history
if history is not None and story.standing is not None:
    unit = shown_units.chosen()
    st.subheader("How the crown warms")
    st.markdown(
        "Gas-side face and underside against time, with the range of 18 in 20 draws; the grey band is where it softens."
    )
    st.altair_chart(warm_up_chart(history, unit, story.material.morphology == "semicrystalline"), width="stretch")
    moments = [t for t in (1, 3, 10, 30, 100, 300) if t <= history.times[-1]]
    st.markdown("Median temperature against depth at several moments; the dashed line is the softening temperature.")
    st.altair_chart(depth_chart(history, moments, unit), width="stretch")
    st.markdown("What the crown can carry (blue) against what it must carry (orange band).")
    st.altair_chart(pressure_chart(history), width="stretch")
    index = [int(np.argmin(np.abs(history.times - t))) for t in moments]
    st.dataframe(
        pd.DataFrame(
            {
                "after": [duration(float(history.times[i])) for i in index],
                "face": [shown_units.temperature(float(history.surface[1, i])) for i in index],
                "underside": [shown_units.temperature(float(history.back[1, i])) for i in index],
                "softened [mm]": [round(1e3 * float(history.softened_depth[1, i]), 2) for i in index],
                "carries [bar]": [round(float(history.limit_pressure[1, i]) / 1e5, 1) for i in index],
                "must carry [bar]": [round(float(history.load[1]) / 1e5, 1) for _ in index],
            }
        ),
        hide_index=True,
    )
    st.subheader("What would end the run, and when")
    rows = [
        {
            "mechanism": name,
            "ends within the horizon in": percent(float(np.mean(np.isfinite(times)))),
            "median": duration(float(np.quantile(times, 0.5, method="inverted_cdf")), result.horizon),
        }
        for name, times in story.times.items()
    ]
    st.dataframe(pd.DataFrame(rows), hide_index=True)
    st.subheader("What would have to change")
    if st.button("Compute it with one thing changed at a time"):
        rows = [
            {
                "change": change.what,
                "verdict": change.standing.verdict if change.standing else f"not possible: {change.why_not}",
                "plan for": duration(change.standing.plan_for) if change.standing else "",
                "median": duration(change.standing.median) if change.standing else "",
            }
            for change in compute.changes_of(case, id)
        ]
        st.dataframe(pd.DataFrame(rows), hide_index=True)

st.subheader("What the fuel does to it")
for exposure, contact in story.contacts.items():
    with st.expander(f"{exposure}: {contact.outcome} ({contact.evidence}, confidence {contact.confidence})"):
        st.markdown("\n".join(f"- {reason}" for reason in contact.reasons))
st.subheader(f"Printing: {story.printability.outcome}")
st.markdown("\n".join(f"- {reason}" for reason in story.printability.reasons))
if story.print_diameter is not None:
    low, middle, high = (1e3 * value for value in story.print_diameter)
    st.markdown(
        f"Print the skirt at **{low:.2f} mm** (range over the draws {low:.2f} to {high:.2f}, median {middle:.2f} mm)."
    )
st.subheader("Cautions")
known = story.material.base if story.material.base else id
st.markdown("\n".join(f"- {c.hazard}: {c.first_advice}" for c in material_cautions(known)) or "None are listed.")
widgets.page_end()
