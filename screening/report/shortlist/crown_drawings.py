"""The crown's heat as drawings: against time, and against depth at several moments."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from screening.judgement.choice.story import Story
from screening.report.parts.colours import COOL, MARK, WARM
from screening.report.parts.svg import Axis, band, drawing, lettering, level, line, stretched, upright
from screening.report.shortlist.chart_numbers import (
    FACE,
    SHORTEST,
    UNDERSIDE,
    degrees,
    depth_rows,
    span,
    telling_moments,
    warm_up_rows,
)

_TOP, _HIGH, _FOOT = 8, 230, 40
_LABELS_END = 0.75
"""Labels begin within this share of the width, so that they stay inside."""
_UNIT = "°C"
_LINES = {FACE: (WARM, ""), UNDERSIDE: (COOL, "7 4")}
_DASHES = ("2 3", "5 3", "9 4", "")
Points = list[tuple[float, float]]


def warm_up_svg(story: Story) -> str:
    """Return gas-side face and underside against time with their 90 % bands, and the softening band."""
    history, standing = story.history, story.standing
    assert history is not None
    assert standing is not None
    rows = warm_up_rows(history, _UNIT)
    last = float(rows["time"].max())
    end = standing.late if np.isfinite(standing.late) else last
    across = Axis(SHORTEST, min(last, max(1.5 * end, 10.0)), logarithmic=True)
    rows = rows[(rows["time"] >= across.low) & (rows["time"] <= across.high * 1.001)]
    up = _temperatures(story, rows[["low", "median", "high"]].to_numpy())
    lines, letters = [], []
    for name, (colour, dash) in _LINES.items():
        own = rows[rows["where"] == name].dropna()  # burned away where there is no number
        at = [across.share(moment) for moment in own["time"]]
        low, middle, high = (_points(up, at, own[column]) for column in ("low", "median", "high"))
        lines += [band(low, high, colour), line(middle, colour, dash)]
        if middle:
            x, y = middle[len(middle) // 2]
            letters.append(lettering(x, _TOP + y - 7, name, "end", ' font-weight="600"'))
    ends = across.share(standing.median) if np.isfinite(standing.median) else None
    if ends is not None and SHORTEST <= standing.median <= across.high:
        letters.append(upright(ends, _TOP, _TOP + _HIGH, 'stroke="currentColor" stroke-dasharray="5 4"'))
        letters.append(lettering(ends, _TOP + _HIGH - 6, "median end", "end" if ends > 0.5 else "start"))
    marks = [(across.share(moment), label) for moment, label in across.times()]
    return _framed(
        "warm-up",
        f"How a crown of {story.material.name} warms",
        f"{_softening(story)} The table below holds the numbers.",
        story,
        up,
        lines,
        letters,
        marks,
        "time after the start, logarithmic",
    )


def depth_svg(story: Story) -> str:
    """Return median temperature against depth at three or four moments, and the softening band."""
    history, standing = story.history, story.standing
    assert history is not None
    assert standing is not None
    rows = depth_rows(history, telling_moments(standing.median), _UNIT)
    across = Axis(0.0, 1e3 * history.thickness)
    up = _temperatures(story, rows["temperature"].to_numpy())
    curves = [
        _points(up, [across.share(depth) for depth in own["depth"]], own["temperature"])
        for _, own in rows.groupby("order")
    ]
    lines = [line(points, MARK, _DASHES[order % len(_DASHES)]) for order, points in enumerate(curves)]
    letters = _labels(curves, list(rows.groupby("order")["after"].first()))
    marks = [(across.share(depth), f"{depth:g} mm") for depth in across.steps()]
    return _framed(
        "depth",
        f"Temperature through a crown of {story.material.name}",
        f"Median temperature against depth at several moments. {_softening(story)} The table below holds the numbers.",
        story,
        up,
        lines,
        letters,
        marks,
        "depth below the gas-side face",
    )


def _labels(curves: Sequence[Points], texts: Sequence[str]) -> list[str]:
    """Return each curve's label, all at the depth where the curves lie furthest apart, none over another."""
    heights: dict[float, list[float]] = {}
    for points in curves:
        for x, y in points:
            heights.setdefault(x, []).append(y)
    shared = {x: max(ys) - min(ys) for x, ys in heights.items() if len(ys) == len(curves) and x < _LABELS_END}
    at = max(shared, key=lambda x: shared[x], default=0.0)
    placed = sorted(
        ((dict(points).get(at, points[0][1]), text) for points, text in zip(curves, texts, strict=True)), reverse=True
    )
    letters, above = [], np.inf
    for y, text in placed:
        above = min(y - 4, above - 14)
        letters.append(lettering(at + 0.015, _TOP + above, text, "start", ' font-weight="600"'))
    return letters


def _softening(story: Story) -> str:
    assert story.history is not None
    low, middle, high = story.history.softening
    word = "melts" if story.material.morphology == "semicrystalline" else "softens"
    return f"It {word} at about {span((low, middle, high))}, the grey band."


def _temperatures(story: Story, shown: np.ndarray) -> Axis:
    assert story.history is not None
    soft = degrees(story.history.softening[2], _UNIT)
    return Axis(0.0, 50.0 * np.ceil(max(float(np.nanmax(shown)), soft) / 50.0))


def _points(up: Axis, at: Sequence[float], values: pd.Series) -> Points:
    return [(x, _HIGH * (1 - up.share(v))) for x, v in zip(at, values, strict=True) if np.isfinite(v)]


def _framed(
    id: str, title: str, text: str, story: Story, up: Axis, lines: list[str], letters: list[str],
    marks: list[tuple[float, str]], under: str,
) -> str:  # fmt: skip
    """Return lines and letters over grid, scales and softening band."""
    assert story.history is not None
    low, high = (_HIGH * (1 - up.share(degrees(story.history.softening[i], _UNIT))) for i in (0, 2))
    height = max(low - high, 2.0)
    soft = f'<rect x="0" y="{_TOP + high:.1f}" width="100%" height="{height:.1f}" fill="#888888" fill-opacity="0.4"/>'
    bottom = _TOP + _HIGH
    grid = [level(_TOP + _HIGH * (1 - up.share(value))) for value in up.steps()]
    grid += [upright(share, _TOP, bottom) for share, _ in marks]
    scale = [
        lettering(1, _TOP + _HIGH * (1 - up.share(v)) - 3, f"{v:.0f} {_UNIT}", "end")
        for v in up.steps()
        if up.low < v < up.high
    ]
    scale += [lettering(share, bottom + 15, label) for share, label in marks]
    scale.append(lettering(0.5, bottom + 32, under))
    return drawing(id, title, text, bottom + _FOOT, [*grid, soft, stretched(_TOP, _HIGH, lines), *scale, *letters])
