"""The crown as drawings: its heat against time and against depth, and what it can carry against what it must."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from markupsafe import Markup

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import Standing
from screening.report.parts.colours import COOL, GREY, MARK, WARM
from screening.report.parts.plot import BOLD, Plot, Points
from screening.report.parts.svg import Axis, band, beam, lettering, line, upright
from screening.report.shortlist.heat_rows import FACE, UNDERSIDE, median_and_range, nearest_times, telling_moments
from screening.report.shortlist.time_bars import SHORTEST
from screening.sentences import TRADE, Units, sentence, worded
from screening.words import duration

_LABELS_END = 0.75
"""Labels begin within this share of the width, so that they stay inside."""
_DASHES = ("2 3", "5 3", "9 4", "")
_LATER = "time after the start, logarithmic"


def warm_up_svg(story: Story, units: Units = TRADE) -> Markup:
    """Return gas-side face and underside against time with their 90 % bands, and the softening band.

    A line ends where half of the draws have burned through. Raises ValueError for a material that was not computed.
    """
    history, standing = _computed(story)
    drawn = (history.times > 0) & (np.isfinite(history.surface[1]) | np.isfinite(history.back[1]))
    last = float(history.times[drawn][-1])
    end = standing.late if np.isfinite(standing.late) else last
    across = Axis(SHORTEST, min(last, max(1.5 * end, 10.0)), logarithmic=True)
    drawn &= (history.times >= across.low) & (history.times <= across.high * 1.001)
    times, face, back = history.times[drawn], history.surface[:, drawn], history.back[:, drawn]
    plot = Plot(across, _temperatures(history, np.concatenate([face, back]), units))
    lines, letters = [], []
    for name, kelvin, colour, dash in ((FACE, face, WARM, ""), (UNDERSIDE, back, COOL, "7 4")):
        there = np.isfinite(kelvin).all(axis=0)
        low, middle, high = (plot.points(times[there], map(units.degrees, row[there])) for row in kelvin)
        lines += [band(low, high, colour), line(middle, colour, dash)]
        if middle:
            x, y = middle[len(middle) // 2]
            letters.append(lettering(x, plot.top + y - 7, name, "end", BOLD))
    return plot.drawn(
        "warm-up",
        f"How a crown of {story.material.name} warms",
        f"{_softening(story, units)} The table below holds the numbers.",
        lines=lines,
        over=[*letters, *_median_end(plot, standing.median)],
        beneath=[_softening_band(plot, history, units)],
        scale=_degree_marks(plot, units),
        times=across.times(),
        axis_title=_LATER,
    )


def depth_svg(story: Story, units: Units = TRADE) -> Markup:
    """Return median temperature against depth at three or four moments, and the softening band.

    A line that starts deeper down shows how far the face has burned back. Raises ValueError for a material that was not
    computed.
    """
    history, standing = _computed(story)
    moments = nearest_times(history, telling_moments(standing.median))
    across = Axis(0.0, 1e3 * history.thickness)
    depths = 1e3 * history.thickness * history.depth_share
    kelvin = [history.temperature[1, i] for i in moments if np.isfinite(history.temperature[1, i]).any()]
    texts = [duration(float(history.times[i])) for i in moments if np.isfinite(history.temperature[1, i]).any()]
    plot = Plot(across, _temperatures(history, np.array(kelvin), units))
    curves = [plot.points(depths, map(units.degrees, row)) for row in kelvin]
    return plot.drawn(
        "depth",
        f"Temperature through a crown of {story.material.name}",
        f"Median temperature against depth at several moments. {_softening(story, units)} The table below holds the numbers.",
        lines=[line(points, MARK, _DASHES[order % len(_DASHES)]) for order, points in enumerate(curves)],
        over=_labels(plot, curves, texts),
        beneath=[_softening_band(plot, history, units)],
        scale=_degree_marks(plot, units),
        times=[(depth, f"{depth:g} mm") for depth in across.steps()],
        axis_title="depth below the gas-side face",
    )


def pressure_svg(story: Story) -> Markup:
    """Return the cylinder pressure that the crown can carry against time with its 90 % band, and what it must carry.

    Raises ValueError for a material that was not computed.
    """
    history, standing = _computed(story)
    drawn = (history.times >= SHORTEST) & np.isfinite(history.limit_pressure).all(axis=0)
    times, carried = history.times[drawn], history.limit_pressure[:, drawn] / 1e5
    load = history.load / 1e5
    across = Axis(SHORTEST, max(float(history.times[-1]), 10.0), logarithmic=True)
    most = min(
        float(carried.max(initial=load[2])), 6 * load[2]
    )  # a cold crown carries so much that the rest would be flat
    plot = Plot(across, Axis(0.0, 10.0 * np.ceil(most / 10.0)))
    low, middle, high = (plot.points(times, row) for row in carried)
    need = (plot.height_of(load[2]), plot.height_of(load[0]))
    letters = [lettering(0, need[0] - 4, "must carry", "start", BOLD)]
    if middle:
        x, y = middle[len(middle) // 2]
        letters.append(lettering(x, plot.top + max(y - 7, 12), "can carry", "start", BOLD))
    return plot.drawn(
        "pressure",
        f"What a crown of {story.material.name} can carry",
        f"Cylinder pressure against time: the crown must carry {load[1]:.1f} bar, the level band. The table below holds the "
        "numbers.",
        lines=[band(low, high, MARK), line(middle, MARK)],
        over=[*letters, *_median_end(plot, standing.median)],
        beneath=[beam(*need, WARM)],
        scale=[(value, f"{value:g} bar") for value in plot.up.steps()],
        times=across.times(),
        axis_title=_LATER,
    )


def _computed(story: Story) -> tuple[CrownHistory, Standing]:
    if story.history is None or story.standing is None:
        raise ValueError(f"{story.material.id}: nothing was computed of it; must be a material with a time")
    return story.history, story.standing


def _median_end(plot: Plot, median: float) -> list[str]:
    """Return the median time to the end [s] as an upright; nothing where it lies outside."""
    if not plot.across.low <= median <= plot.across.high:
        return []
    at = plot.across.share(median)
    return [
        upright(at, plot.top, plot.bottom, 'stroke="currentColor" stroke-dasharray="5 4"'),
        lettering(at, plot.bottom - 6, "median end", "end" if at > 0.5 else "start"),
    ]


def _labels(plot: Plot, curves: Sequence[Points], texts: Sequence[str]) -> list[str]:
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
        letters.append(lettering(at + 0.015, plot.top + above, text, "start", BOLD))
    return letters


def _softening(story: Story, units: Units) -> str:
    history, _ = _computed(story)
    word = "melts" if story.material.morphology == "semicrystalline" else "softens"
    at = median_and_range(history.softening)
    return worded(sentence("It {softens} at about {at}, the grey band.", softens=word, at=at), units)


def _softening_band(plot: Plot, history: CrownHistory, units: Units) -> str:
    low, high = (plot.height_of(units.degrees(float(history.softening[i]))) for i in (0, 2))
    return beam(high, low, GREY)


def _temperatures(history: CrownHistory, kelvin: np.ndarray, units: Units) -> Axis:
    """Return an axis of the unit chosen from nought to above the hottest and the softening temperature [K]."""
    hottest = units.degrees(max(float(np.nanmax(kelvin)), float(history.softening[2])))
    return Axis(0.0, 50.0 * np.ceil(hottest / 50.0))


def _degree_marks(plot: Plot, units: Units) -> list[tuple[float, str]]:
    return [(value, f"{value:.0f} {units.temperature}") for value in plot.up.steps()]
