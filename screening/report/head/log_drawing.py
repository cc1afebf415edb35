"""A run log as a drawing: readings, the ones far from the curve marked, the fitted curve and where it settles."""

from __future__ import annotations

import numpy as np
from markupsafe import Markup

from screening.judgement.head.run_log import RunLog
from screening.report.parts.colours import MARK, RANGE, WARM
from screening.report.parts.plot import Plot
from screening.report.parts.svg import Axis, beam, cross, dot, lettering, line
from screening.sentences import TRADE, Quantity, Temperature, Text, Units, sentence, worded

KEPT, FAR = "reading", "far from the curve, left out"
_MOST_DOTS = 400
_CURVE_POINTS = 120


def log_rows(log: RunLog, most: int) -> list[dict[str, Text | Quantity]]:
    """Return a row a reading, the first `most` of them, with whether it lies far from the curve."""
    far = log.fit_warm_up().outliers
    return [
        {
            "seconds": f"{log.time[i]:.0f}",
            "gun shows": Temperature(float(log.reading[i]), 1),
            "": FAR if far[i] else KEPT,
        }
        for i in range(min(most, log.time.size))
    ]


def log_svg(log: RunLog, units: Units = TRADE) -> Markup:
    """Return readings against time, with the fitted curve and the 90 % interval of the settled reading as a band.

    Of more than 400 readings that lie on the curve only some are drawn, evenly spread; those far from it all are.

    Parameters
    ----------
    log : RunLog
    units : Units
        Unit of the temperatures.

    Returns
    -------
    Markup

    Raises
    ------
    OutOfRange
        Where the log cannot be fitted.
    """
    fit, last = log.fit_warm_up(), float(log.time[-1])
    seconds = np.linspace(0.0, last, _CURVE_POINTS)
    curve = fit.settled - (fit.settled - fit.start) * np.exp(-seconds / fit.time_constant)
    kelvin = np.concatenate([log.reading, curve, fit.settled_interval])
    plot = Plot(Axis(0.0, last), _temperatures(kelvin, units), 280.0)
    kept, far = np.flatnonzero(~fit.outliers), np.flatnonzero(fit.outliers)
    marks = [
        dot(plot.across.share(float(log.time[i])), plot.height_of(units.degrees(float(log.reading[i]))), MARK)
        for i in kept[:: kept.size // _MOST_DOTS + 1]
    ]
    marks += [
        cross(plot.across.share(float(log.time[i])), plot.height_of(units.degrees(float(log.reading[i]))), WARM)
        for i in far
    ]
    low, high = (plot.height_of(units.degrees(end)) for end in fit.settled_interval)
    settles = worded(sentence("settles at {at}", at=Temperature(fit.settled, 1)), units)
    return plot.drawn(
        "run-log",
        "Readings against time",
        f"Readings against time with the fitted curve, which {settles}, the level band; {far.size} readings lie far from it.",
        lines=[line(plot.points(seconds, map(units.degrees, curve)), MARK)],
        over=[*marks, lettering(0.01, high - 5, settles, "start")],
        beneath=[beam(high, low, RANGE)],
        scale=[(value, f"{value:g} {units.temperature}") for value in plot.up.steps()],
        times=[(at, f"{at:g} s") for at in plot.across.steps()],
        axis_title="time; a dot is a reading, a cross one far from the curve"
        if far.size
        else "time; a dot is a reading",
    )


def _temperatures(kelvin: np.ndarray, units: Units) -> Axis:
    """Return an axis of the unit chosen that holds all temperatures [K], from ten to ten degrees."""
    low, high = (units.degrees(float(end)) for end in (np.min(kelvin), np.max(kelvin)))
    return Axis(10.0 * np.floor(low / 10.0 - 0.2), 10.0 * np.ceil(high / 10.0 + 0.2))
