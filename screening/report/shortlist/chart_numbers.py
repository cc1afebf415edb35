"""The numbers and colours of the charts, laid out once: the page's drawings, the app's charts and the tables beside them share them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import pandas as pd

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.story import Story
from screening.words import celsius, duration

SHORTEST = 0.3
"""Left end of the time axes [s]; what ends sooner is drawn there."""
FACE, UNDERSIDE = "gas-side face", "underside"
GONE = "gone"
"""What has burned through or is used up."""
MOMENTS = (1.0, 3.0, 10.0, 30.0, 100.0, 300.0)


def lasting_rows(stories: Sequence[Story], horizon: float) -> pd.DataFrame:
    """Return a row a material with a time: `low`, `median` and `high` (5th, 50th, 95th percentile) within the axis [s]."""
    return pd.DataFrame(
        [
            {"material": story.material.name}
            | {
                name: float(np.clip(seconds, SHORTEST, horizon))
                for name, seconds in (("low", s.plan_for), ("median", s.median), ("high", s.late))
            }
            for story in stories
            if (s := story.standing) is not None
        ],
        columns=["material", "low", "median", "high"],
    )


def warm_up_rows(history: CrownHistory, unit: str) -> pd.DataFrame:
    """Return face and underside against time: `time` [s], `where`, and `low`, `median`, `high` in °C or °F."""
    return pd.DataFrame(
        [
            {"time": moment, "where": name}
            | dict(zip(("low", "median", "high"), (degrees(v, unit) for v in values[:, i]), strict=True))
            for name, values in ((FACE, history.surface), (UNDERSIDE, history.back))
            for i, moment in enumerate(history.times)
            if moment > 0 and np.isfinite(values[1, i])
        ]
    )


def depth_rows(history: CrownHistory, moments: Sequence[float], unit: str) -> pd.DataFrame:
    """Return median temperature against depth: `depth` [mm], `temperature` in °C or °F, `after` (words), `order`."""
    return pd.DataFrame(
        [
            {
                "depth": 1e3 * share * history.thickness,
                "temperature": degrees(kelvin, unit),
                "after": duration(float(history.times[i])),
                "order": order,
            }
            for order, i in enumerate(nearest_times(history, moments))
            for share, kelvin in zip(history.depth_share, history.temperature[1, i], strict=True)
            if np.isfinite(kelvin)
        ]
    )


def heat_rows(history: CrownHistory, moments: Sequence[float]) -> list[dict[str, str]]:
    """Return a row a moment, from face to what the crown carries: medians, temperatures with the range of 18 in 20 draws.

    What half of the draws have lost is gone, not unknown.
    """
    found = []
    for i in nearest_times(history, moments):
        carries, whole = float(history.limit_pressure[1, i]), 1e3 * history.thickness
        gone = bool(np.isnan(history.surface[1, i]) and np.isnan(history.back[1, i]))
        found.append(
            {
                "after": duration(float(history.times[i])),
                FACE: span(history.surface[:, i]),
                UNDERSIDE: span(history.back[:, i]),
                "softened": GONE if gone else f"{1e3 * history.softened_depth[1, i]:.2f} of {whole:.1f} mm",
                "carries": "nothing" if gone or math.isnan(carries) else f"{carries / 1e5:.1f} bar",
                "must carry": f"{history.load[1] / 1e5:.1f} bar",
            }
        )
    return found


def time_rows(stories: Sequence[Story], horizon: float) -> list[dict[str, str]]:
    """Return the time to plan for, the median and the time that one draw in twenty outlasts, a row a material."""
    found = []
    for story in stories:
        s = story.standing
        times = (s.plan_for, s.median, s.late) if s else (math.nan,) * 3
        shown = dict(zip(("plan for", "median", "one in twenty outlasts"), times, strict=True))
        found.append({"material": story.material.name} | {name: duration(t, horizon) for name, t in shown.items()})
    return found


def span(kelvin: Iterable[float]) -> str:
    """Return a temperature's median with its range, from (low, median, high) [K]; what is gone counts as hottest."""
    low, middle, high = (GONE if math.isnan(value) else celsius(float(value)) for value in kelvin)
    if middle == GONE:
        return GONE
    return f"{middle} ({low if high == GONE else low.removesuffix(' °C')} to {high})"


def nearest_times(history: CrownHistory, moments: Sequence[float]) -> list[int]:
    """Return the indices of the computed times nearest to the moments [s] that lie within them."""
    return [int(np.argmin(np.abs(history.times - moment))) for moment in moments if moment <= history.times[-1]]


def telling_moments(median: float) -> tuple[float, ...]:
    """Return three or four of MOMENTS up to about the median time to the end [s]."""
    reached = [moment for moment in MOMENTS if moment <= max(median, MOMENTS[1])]
    return tuple(reached[-4:])


def degrees(kelvin: float, unit: str) -> float:
    """Return a temperature in °C or °F."""
    celsius = kelvin - 273.15
    return float(celsius if unit == "°C" else celsius * 9 / 5 + 32)
