"""Charts of the app; they do not lean on hue alone. The page draws the same numbers as text."""

from __future__ import annotations

import json
from collections.abc import Sequence

import altair as alt
import numpy as np
import pandas as pd

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.story import Story
from screening.report.parts.colours import COOL, MARK, RANGE, WARM
from screening.report.parts.svg import Axis
from screening.report.shortlist.chart_numbers import (
    FACE,
    SHORTEST,
    UNDERSIDE,
    degrees,
    depth_rows,
    lasting_rows,
    warm_up_rows,
)

LATER = ["#2f6fb8", "#3f7f93", "#3d8a4f", "#8a7a1e", "#c8641e", "#c2504f"]
"""Moments from early to late."""
GREY = "#808080"
_ROW = 32
"""Height of a material's row [px]: its name stands over its bar, so that a narrow screen leaves the bar its width."""


def lasting_chart(stories: Sequence[Story], target: float, horizon: float) -> alt.LayerChart:
    """Return bars from the 5th to the 95th percentile of each material's time, the median ticked, the wanted run dashed."""
    rows = lasting_rows(stories, horizon)
    order = list(rows["material"])
    ticked = dict(Axis(SHORTEST, horizon, logarithmic=True).times())
    axis = alt.X(
        "low:Q",
        title="time (logarithmic)",
        scale=alt.Scale(type="log", domain=[SHORTEST, horizon], clamp=True, nice=False),
        axis=alt.Axis(values=list(ticked), labelExpr=f"{json.dumps(ticked)}[datum.value]", orient="top"),
    )
    names = alt.Axis(labelAlign="left", labelPadding=-4, labelOffset=-11, labelLimit=420, labelOverlap=False,
                     ticks=False, domain=False)  # fmt: skip
    base = alt.Chart(rows).encode(y=alt.Y("material:N", sort=order, title=None, axis=names))
    bars = base.mark_bar(height=8, yOffset=6, color=RANGE).encode(x=axis, x2="high:Q")
    ticks = base.mark_tick(thickness=4, size=14, yOffset=6, color=MARK).encode(x="median:Q")
    wanted = alt.Chart(pd.DataFrame({"at": [target]})).mark_rule(strokeDash=[5, 4], color=WARM).encode(x="at:Q")
    return (bars + ticks + wanted).properties(height=max(_ROW * len(rows), 60))


def warm_up_chart(history: CrownHistory, unit: str, melts: bool) -> alt.LayerChart:
    """Return face and underside of the crown against time with their 90 % bands, and the softening band."""
    frame = warm_up_rows(history, unit)
    x = alt.X("time:Q", title="seconds (logarithmic)", scale=alt.Scale(type="log"))
    where = alt.Scale(domain=[FACE, UNDERSIDE], range=[WARM, COOL])
    beneath = alt.Legend(orient="bottom", title=None, symbolOpacity=1)
    colour = alt.Color("where:N", scale=where, legend=beneath)
    band = alt.Chart(frame).mark_area(opacity=0.25).encode(x=x, y=alt.Y("low:Q", title=unit), y2="high:Q", color=colour)
    dash = alt.StrokeDash("where:N", legend=beneath)
    line = alt.Chart(frame).mark_line().encode(x=x, y="median:Q", color=colour, strokeDash=dash)
    low, middle, high = (degrees(v, unit) for v in history.softening)
    soft = pd.DataFrame({"low": [low], "high": [high], "middle": [middle], "word": ["melts" if melts else "softens"]})
    rule = alt.Chart(soft).mark_rect(opacity=0.3, color=GREY).encode(y="low:Q", y2="high:Q")
    text = alt.Chart(soft).mark_text(align="left", x=6, dy=-6, color=GREY).encode(y="middle:Q", text="word:N")
    return (rule + band + line + text).properties(height=320)


def depth_chart(history: CrownHistory, moments: Sequence[float], unit: str) -> alt.LayerChart:
    """Return median temperature against depth at several moments, with the softening temperature ruled."""
    rows = depth_rows(history, moments, unit)
    after = list(dict.fromkeys(rows["after"]))
    beneath = alt.Legend(orient="bottom", columns=3, title="after", titleOrient="left")
    line = (
        alt.Chart(rows)
        .mark_line()
        .encode(
            x=alt.X("depth:Q", title="depth below the gas-side face [mm]"),
            y=alt.Y("temperature:Q", title=unit),
            color=alt.Color("after:N", scale=alt.Scale(domain=after, range=LATER[: len(after)]), legend=beneath),
            strokeDash=alt.StrokeDash("after:N", scale=alt.Scale(domain=after), legend=beneath),
        )
    )
    soft = pd.DataFrame({"at": [degrees(history.softening[1], unit)]})
    return (line + alt.Chart(soft).mark_rule(color=GREY, strokeDash=[5, 4]).encode(y="at:Q")).properties(height=320)


def pressure_chart(history: CrownHistory) -> alt.LayerChart:
    """Return what the crown can carry against time with its 90 % band, and what it must carry."""
    keep = (history.times > 0) & np.isfinite(history.limit_pressure).all(axis=0)
    low, middle, high = history.limit_pressure[:, keep] / 1e5
    frame = pd.DataFrame({"time": history.times[keep], "low": low, "median": middle, "high": high})
    x = alt.X("time:Q", title="seconds (logarithmic)", scale=alt.Scale(type="log"))
    band = alt.Chart(frame).mark_area(opacity=0.25, color=MARK).encode(x=x, y=alt.Y("low:Q", title="bar"), y2="high:Q")
    line = alt.Chart(frame).mark_line(color=MARK).encode(x=x, y="median:Q")
    load = pd.DataFrame({"low": [history.load[0] / 1e5], "high": [history.load[2] / 1e5]})
    need = alt.Chart(load).mark_rect(opacity=0.35, color=WARM).encode(y="low:Q", y2="high:Q")
    return (need + band + line).properties(height=280)
