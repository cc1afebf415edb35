"""The chart of uptake against activity, for the app, and the same as a drawing for the page to share."""

from __future__ import annotations

import math
from html import escape

import altair as alt
import numpy as np

from screening.judgement.contact_curve import UptakeCurve
from screening.report.charts import MARK, RANGE, WARM
from screening.report.contact_rows import curve_rows, point_rows

_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 640, 320, 48, 12, 14, 44


def uptake_chart(curve: UptakeCurve) -> alt.LayerChart:
    """Return the uptake against activity with its 90 % band, and each exposure marked with its own range."""
    frame, marks = curve_rows(curve), point_rows(curve)
    x = alt.X("activity:Q", title="activity of the liquid (logarithmic; 1 is the liquid)", scale=alt.Scale(type="log"))
    y = alt.Y("low:Q", title="% by volume", scale=alt.Scale(domain=[0, 100]))
    band = alt.Chart(frame).mark_area(opacity=0.3, color=RANGE).encode(x=x, y=y, y2="high:Q")
    line = alt.Chart(frame).mark_line(color=MARK).encode(x=x, y="median:Q")
    points = alt.Chart(marks)
    bars = points.mark_rule(color=WARM, strokeWidth=2).encode(x="activity:Q", y="low:Q", y2="high:Q")
    dots = points.mark_point(color=WARM, filled=True, size=90).encode(x="activity:Q", y="median:Q", shape="exposure:N")
    shapes = alt.Legend(orient="bottom", columns=1, title=None, labelLimit=300)
    dots = dots.encode(shape=alt.Shape("exposure:N", legend=shapes, sort=None))
    return (band + line + bars + dots).properties(height=320)


def uptake_drawing(curve: UptakeCurve) -> str:
    """Return the same as an SVG that adapts to dark pages (classes `grid`, `range`, `median`)."""
    frame, marks = curve_rows(curve), point_rows(curve)
    there = [f"{_x(a):.1f},{_y(v):.1f}" for a, v in zip(frame["activity"], frame["high"], strict=True)]
    back = [f"{_x(a):.1f},{_y(v):.1f}" for a, v in zip(frame["activity"], frame["low"], strict=True)][::-1]
    middle = " ".join(f"{_x(a):.1f},{_y(v):.1f}" for a, v in zip(frame["activity"], frame["median"], strict=True))
    parts = [f'<svg viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" aria-label="Uptake against activity of the liquid">']
    for percent in range(0, 101, 25):
        parts.append(f'<line class="grid" x1="{_LEFT}" x2="{_WIDTH - _RIGHT}" y1="{_y(percent):.1f}" y2="{_y(percent):.1f}"/>'
                     f'<text x="{_LEFT - 6}" y="{_y(percent) + 4:.1f}" text-anchor="end">{percent} %</text>')  # fmt: skip
    for activity in (0.001, 0.01, 0.1, 1.0):
        parts.append(f'<text x="{_x(activity):.1f}" y="{_HEIGHT - 26}" text-anchor="middle">{activity:g}</text>')
    parts.append(
        f'<text x="{(_LEFT + _WIDTH) / 2}" y="{_HEIGHT - 8}" text-anchor="middle">activity of the liquid</text>'
    )
    parts.append(f'<polygon class="range" points="{" ".join(there + back)}"/>')
    parts.append(f'<polyline points="{middle}" fill="none" stroke="currentColor" stroke-width="2"/>')
    for row in marks.to_dict("records"):
        x, low, high = _x(row["activity"]), _y(row["low"]), _y(row["high"])
        above = _y(row["median"]) > _TOP + 30
        side = "end" if x > _WIDTH / 2 else "start"
        parts.append(
            f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{low:.1f}" y2="{high:.1f}" stroke="currentColor"/>'
            f'<circle class="median" cx="{x:.1f}" cy="{_y(row["median"]):.1f}" r="5"/>'
            f'<text x="{x - 8 if side == "end" else x + 8:.1f}" y="{_y(row["median"]) + (-10 if above else 20):.1f}" '
            f'text-anchor="{side}">{escape(row["exposure"])}</text>'
        )
    return "".join([*parts, "</svg>"])


def _x(activity: float) -> float:
    share = 1 + math.log10(float(np.clip(activity, 1e-3, 1.0))) / 3
    return _LEFT + (_WIDTH - _LEFT - _RIGHT) * share


def _y(percent: float) -> float:
    return _TOP + (_HEIGHT - _TOP - _BOTTOM) * (1 - percent / 100)
