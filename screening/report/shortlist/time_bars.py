"""How long each material lasts, as a drawing: a bar from the 5th to the 95th percentile with the median marked."""

from __future__ import annotations

import math
from collections.abc import Sequence

from markupsafe import Markup

from screening.judgement.choice.story import Story
from screening.report.parts.colours import RANGE, WARM
from screening.report.parts.svg import Axis, across, drawing, lettering, upright
from screening.report.shortlist.shortlist_cells import SYMBOLS
from screening.words import duration

SHORTEST = 0.3
"""Left end of the time axes [s]; what ends sooner is drawn there."""
_ROW, _TOP, _FOOT = 34, 24, 24
_LONGEST_NAME = 44


def time_rows(stories: Sequence[Story], horizon: float) -> list[dict[str, str]]:
    """Return the time to plan for, the median and the time that one draw in twenty outlasts, a row a material."""
    rows = []
    for story in stories:
        s = story.standing
        times = (s.plan_for, s.median, s.late) if s else (math.nan,) * 3
        cells = dict(zip(("plan for", "median", "one in twenty outlasts"), times, strict=True))
        rows.append({"material": story.material.name} | {name: duration(t, horizon) for name, t in cells.items()})
    return rows


def time_bars_svg(stories: Sequence[Story], target: float, horizon: float) -> Markup:
    """Return the times on a logarithmic axis, each with its name and its numbers over it, and the wanted run marked.

    Parameters
    ----------
    stories : Sequence[Story]
        Best first; one without a time has no bar.
    target, horizon : float
        The wanted run and the longest run that was followed [s]; what lies outside the axis is drawn at its end.

    Returns
    -------
    Markup
    """
    rows = [story for story in stories if story.standing is not None]
    axis = Axis(SHORTEST, horizon, logarithmic=True)
    bottom = _TOP + _ROW * len(rows)
    wanted = axis.share(target)
    parts = [upright(axis.share(at), _TOP, bottom) for at, _ in axis.times()]
    parts += [lettering(axis.share(at), bottom + 16, label) for at, label in axis.times()]
    parts.append(upright(wanted, _TOP - 6, bottom, f'stroke="{WARM}" stroke-width="2" stroke-dasharray="5 4"'))
    parts.append(lettering(wanted, _TOP - 10, f"wanted {duration(target)}", "end" if wanted > 0.5 else "start"))
    parts += [_bar(story, axis, _TOP + _ROW * i) for i, story in enumerate(rows)]
    return drawing(
        "time-bars",
        "How long each material lasts",
        f"Bars on a logarithmic axis from {SHORTEST:g} s to {duration(horizon)}; the wanted {duration(target)} is a dashed "
        "line. The table below holds the same numbers.",
        bottom + _FOOT,
        parts,
    )


def _bar(story: Story, axis: Axis, y: float) -> str:
    s, name, horizon = story.standing, story.material.name, axis.high
    if s is None:
        return ""
    low, middle, high = (axis.share(seconds) for seconds in (s.plan_for, s.median, s.late))
    short = name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1] + "…"
    span = " · ".join(duration(seconds, horizon) for seconds in (s.plan_for, s.median, s.late))
    return (
        lettering(0, y + 13, f"{SYMBOLS[s.verdict]} {short}", "start")
        + lettering(1, y + 13, span, "end", ' class="numbers"')
        + f'<rect x="{across(low)}" y="{y + 19}" width="{across(max(high - low, 0.004))}" height="8" rx="3" fill="{RANGE}"/>'
        + upright(middle, y + 16, y + 30, 'stroke="currentColor" stroke-width="3"')
    )
