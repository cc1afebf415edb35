"""How long each material lasts, as a drawing: a bar from the 5th to the 95th percentile with the median marked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from screening.judgement.story import Story
from screening.judgement.wording import duration

_TICKS = (1, 3, 10, 30, 100, 300, 1000, 3600)
_FIRST = 0.3
_WIDTH, _LABEL, _ROW, _TOP = 760, 230, 22, 34


def time_bars_svg(stories: Sequence[Story], target: float, horizon: float) -> str:
    """Return an SVG of the stories' times on a logarithmic axis, with the wanted run marked; it adapts to dark pages."""
    rows = [story for story in stories if story.standing is not None]
    height = _TOP + _ROW * len(rows) + 26
    parts = [
        f'<svg viewBox="0 0 {_WIDTH} {height}" role="img" aria-label="Time each material lasts, 5th to 95th percentile">',
        *(_tick(seconds, height) for seconds in _TICKS if seconds <= horizon),
        f'<line class="wanted" x1="{_x(target, horizon):.1f}" x2="{_x(target, horizon):.1f}" y1="{_TOP - 6}" y2="{height - 24}"/>',
        f'<text class="wanted" x="{_x(target, horizon):.1f}" y="{_TOP - 10}" text-anchor="middle">wanted {duration(target)}</text>',
    ]
    for i, story in enumerate(rows):
        parts.append(_bar(story, _TOP + _ROW * i, horizon))
    return "".join([*parts, "</svg>"])


def _x(seconds: float, horizon: float) -> float:
    inside = min(max(seconds, _FIRST), horizon)
    return _LABEL + (_WIDTH - _LABEL - 12) * math.log(inside / _FIRST) / math.log(horizon / _FIRST)


def _tick(seconds: float, height: int) -> str:
    x = _x(seconds, 3600.0)
    return (
        f'<line class="grid" x1="{x:.1f}" x2="{x:.1f}" y1="{_TOP}" y2="{height - 24}"/>'
        f'<text x="{x:.1f}" y="{height - 8}" text-anchor="middle">{duration(seconds)}</text>'
    )


def _bar(story: Story, y: int, horizon: float) -> str:
    s = story.standing
    assert s is not None
    low, middle, high = (_x(value, horizon) for value in (s.plan_for, s.median, s.late))
    name = escape(story.material.name if len(story.material.name) <= 34 else story.material.name[:33] + "…")
    return (
        f'<text x="{_LABEL - 8}" y="{y + 14}" text-anchor="end">{name}</text>'
        f'<rect class="range" x="{low:.1f}" y="{y + 5}" width="{max(high - low, 2):.1f}" height="10" rx="3"/>'
        f'<rect class="median" x="{middle - 2:.1f}" y="{y + 2}" width="4" height="16"/>'
    )
