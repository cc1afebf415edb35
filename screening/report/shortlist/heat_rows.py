"""The crown's heat in numbers, at moments that a builder can picture: the rows beside the drawings."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from screening.judgement.choice.crown_history import CrownHistory
from screening.sentences import Temperature, TemperatureRange, Text, sentence
from screening.words import duration

FACE, UNDERSIDE = "gas-side face", "underside"
GONE = "gone"
"""What has burned through or is used up."""
MOMENTS = (1.0, 3.0, 10.0, 30.0, 100.0, 300.0)
"""Moments after the start [s]."""


def heat_rows(history: CrownHistory, moments: Sequence[float]) -> list[dict[str, Text]]:
    """Return a row a moment [s], from face to what the crown carries: medians, temperatures with the range of 18 in 20 draws.

    What half of the draws have lost is gone, not unknown.

    Parameters
    ----------
    history : CrownHistory
    moments : Sequence[float]
        Times after the start [s]; the computed times nearest to them are taken, those beyond the last have no row.

    Returns
    -------
    list of dict
        Cells by the title of their column; temperatures are worded where they are shown.
    """
    rows = []
    for i in nearest_times(history, moments):
        carries, whole = float(history.limit_pressure[1, i]), 1e3 * history.thickness
        gone = bool(np.isnan(history.surface[1, i]) and np.isnan(history.back[1, i]))
        rows.append(
            {
                "after": duration(float(history.times[i])),
                FACE: median_and_range(history.surface[:, i]),
                UNDERSIDE: median_and_range(history.back[:, i]),
                "softened": GONE if gone else f"{1e3 * history.softened_depth[1, i]:.2f} of {whole:.1f} mm",
                "carries": "nothing" if gone or math.isnan(carries) else f"{carries / 1e5:.1f} bar",
                "must carry": f"{history.load[1] / 1e5:.1f} bar",
            }
        )
    return rows


def median_and_range(kelvin: Sequence[float] | np.ndarray) -> Text:
    """Return a median temperature with its range, from (low, median, high) [K]; what is gone counts as hottest.

    >>> str(median_and_range((400.15, 450.15, 500.15))), str(median_and_range((400.15, 450.15, math.nan)))
    ('177 °C (127 to 227 °C)', '177 °C (127 °C to gone)')
    """
    low, middle, high = (float(value) for value in kelvin)
    if math.isnan(middle):
        return GONE
    median = Temperature(middle)
    if math.isnan(high):
        return sentence("{median} ({low} to {gone})", median=median, low=Temperature(low), gone=GONE)
    return sentence("{median} ({ends})", median=median, ends=TemperatureRange(low, high))


def nearest_times(history: CrownHistory, moments: Sequence[float]) -> list[int]:
    """Return the indices of the computed times nearest to the moments [s] that lie within them."""
    return [int(np.argmin(np.abs(history.times - moment))) for moment in moments if moment <= history.times[-1]]


def telling_moments(median: float) -> tuple[float, ...]:
    """Return three or four of MOMENTS up to about the median time to the end [s]."""
    reached = [moment for moment in MOMENTS if moment <= max(median, MOMENTS[1])]
    return tuple(reached[-4:])
