"""How long each material lasts, as a drawing: a bar from the 5th to the 95th percentile with the median marked."""

from __future__ import annotations

from collections.abc import Sequence

from screening.judgement.choice.story import Story
from screening.report.parts.colours import RANGE, WARM
from screening.report.parts.svg import Axis, across, drawing, lettering, upright
from screening.report.shortlist.chart_numbers import SHORTEST, lasting_rows
from screening.report.shortlist.shortlist_cells import SYMBOLS, verdict_of
from screening.words import duration

_ROW, _TOP, _FOOT = 34, 24, 24
_LONGEST_NAME = 44


def time_bars_svg(stories: Sequence[Story], target: float, horizon: float) -> str:
    """Return the times on a logarithmic axis, each with its name and its numbers over it, and the wanted run marked."""
    rows = [story for story in stories if story.standing is not None]
    axis = Axis(SHORTEST, horizon, logarithmic=True)
    bottom = _TOP + _ROW * len(rows)
    wanted = axis.share(target)
    parts = [upright(axis.share(at), _TOP, bottom) for at, _ in axis.times()]
    parts += [lettering(axis.share(at), bottom + 16, label) for at, label in axis.times()]
    parts.append(upright(wanted, _TOP - 6, bottom, f'stroke="{WARM}" stroke-width="2" stroke-dasharray="5 4"'))
    parts.append(lettering(wanted, _TOP - 10, f"wanted {duration(target)}", "end" if wanted > 0.5 else "start"))
    ends = lasting_rows(rows, horizon)[["low", "median", "high"]].itertuples(index=False, name=None)
    for i, (story, places) in enumerate(zip(rows, ends, strict=True)):
        low, middle, high = (axis.share(seconds) for seconds in places)
        parts.append(_bar(story, horizon, _TOP + _ROW * i, low, middle, high))
    return drawing(
        "time-bars",
        "How long each material lasts",
        f"Bars on a logarithmic axis from {SHORTEST:g} s to {duration(horizon)}; the wanted {duration(target)} is a dashed "
        "line. The table below holds the same numbers.",
        bottom + _FOOT,
        parts,
    )


def _bar(story: Story, horizon: float, y: float, low: float, middle: float, high: float) -> str:
    s = story.standing
    assert s is not None
    name = story.material.name
    short = name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1] + "…"
    span = f"{duration(s.plan_for, horizon)} · {duration(s.median, horizon)} · {duration(s.late, horizon)}"
    return (
        lettering(0, y + 13, f"{SYMBOLS[verdict_of(story)]} {short}", "start")
        + lettering(1, y + 13, span, "end", ' class="numbers"')
        + f'<rect x="{across(low)}" y="{y + 19}" width="{across(max(high - low, 0.004))}" height="8" rx="3" fill="{RANGE}"/>'
        + upright(middle, y + 16, y + 30, 'stroke="currentColor" stroke-width="3"')
    )
