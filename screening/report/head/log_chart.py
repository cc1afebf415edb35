"""A run log as a chart: readings, the ones far from the curve marked, the fitted curve and where it settles."""

from __future__ import annotations

import altair as alt
import numpy as np
import pandas as pd

from screening.judgement.head.run_log import RunLog
from screening.quantities import from_si
from screening.report.parts.colours import MARK, RANGE, WARM

KEPT, FAR = "reading", "far from the curve, left out"


def log_frame(log: RunLog, degrees: str = "degC") -> pd.DataFrame:
    """Return the readings with `time` [s], `reading` in `degrees` (degC or degF) and `kind`."""
    kinds = np.where(log.fit_warm_up().outliers, FAR, KEPT)
    return pd.DataFrame({"time": log.time, "reading": np.round(from_si(log.reading, degrees), 2), "kind": kinds})


def log_chart(log: RunLog, degrees: str = "degC") -> alt.LayerChart:
    """Return readings against time with the fitted curve and the 90 % interval of the settled reading as a band."""
    fit = log.fit_warm_up()
    seconds = np.linspace(0.0, log.time[-1], 120)
    curve = fit.settled - (fit.settled - fit.start) * np.exp(-seconds / fit.time_constant)
    line = pd.DataFrame({"time": seconds, "reading": from_si(curve, degrees)})
    low, high = (float(from_si(kelvin, degrees)) for kelvin in fit.settled_interval)
    x = alt.X("time:Q", title="seconds")
    y = alt.Y("reading:Q", title="°C" if degrees == "degC" else "°F", scale=alt.Scale(zero=False))
    kinds = {"domain": [KEPT, FAR]}
    below = alt.Legend(orient="bottom", title=None, labelLimit=300)
    band = alt.Chart(pd.DataFrame({"low": [low], "high": [high]})).mark_rect(opacity=0.3, color=RANGE)
    points = (
        alt.Chart(log_frame(log, degrees))
        .mark_point(size=70, strokeWidth=2.5)
        .encode(
            x=x,
            y=y,
            shape=alt.Shape("kind:N", scale=alt.Scale(range=["circle", "cross"], **kinds), legend=below),
            color=alt.Color("kind:N", scale=alt.Scale(range=[MARK, WARM], **kinds), legend=below),
        )
    )
    return (
        band.encode(y=alt.Y("low:Q"), y2="high:Q") + alt.Chart(line).mark_line(color=MARK).encode(x=x, y=y) + points
    ).properties(height=320)
