"""Where does the head settle in a run log, how fast does it warm, and how much fuel was burned?"""

from __future__ import annotations

import io
import os
from dataclasses import dataclass

import numpy as np

from screening.physics.head.warm_up import FitRules, WarmUp, fit_first_order
from screening.records.run_log.readings import LogRows, read_rows
from screening.records.tables.assumptions import load_assumptions

LOG_ASSUMPTIONS = (
    "log_outlier", "log_settled_after", "log_end_sharpness", "log_smallest_rise", "gun_resolution", "log_constant_spread",
)  # fmt: skip
"""Assumptions by which a log is fitted, in the order of `FitRules`; they are not drawn but taken at their typical value."""


def warm_up_rules() -> FitRules:
    """Return the rules by which a head's warm-up is fitted, from the table of assumptions."""
    return FitRules(*(load_assumptions()[name].typical for name in LOG_ASSUMPTIONS))


@dataclass(frozen=True)
class FuelBurned:
    """What the fuel column of a log says: `volume` [m3] burned within `duration` [s]."""

    volume: float
    duration: float

    @property
    def flow(self) -> float:
        """Volume burned a second [m3/s]."""
        return self.volume / self.duration


@dataclass(frozen=True, eq=False)
class RunLog(LogRows):
    """A run log: `time` [s], `reading` [K], `fuel_used` [m3] or None, `notes` on what was assumed in reading it."""

    def fit_warm_up(self) -> WarmUp:
        """Return the robust first-order fit to the readings; see `screening.physics.head.warm_up`."""
        return fit_first_order(self.time, self.reading, warm_up_rules())

    def fuel_burned(self) -> FuelBurned | None:
        """Fuel burned between the first and the last entry of the fuel column.

        The column may rise (fuel used) or fall (fuel left in the tank); None without a column of fuel, with fewer than
        two entries, or where it does neither throughout: then it counts neither.
        """
        if self.fuel_used is None:
            return None
        entered = np.isfinite(self.fuel_used)
        volumes, times = self.fuel_used[entered], self.time[entered]
        steps = np.diff(volumes)
        if steps.size == 0 or volumes[0] == volumes[-1] or (np.any(steps > 0) and np.any(steps < 0)):
            return None
        return FuelBurned(float(abs(volumes[-1] - volumes[0])), float(times[-1] - times[0]))


def read_log(source: str | os.PathLike[str] | io.TextIOBase) -> RunLog:
    """Return the run log in a text, a path or an open text file.

    Understands the usual units and delimiters, and a decimal comma; see `RunLog` for what it then holds.

    Parameters
    ----------
    source : text, path or open text file; a string of one line is a path

    Returns
    -------
    RunLog

    Raises
    ------
    LogError : names the line, what stands there and what would be right

    Example
    -------
    Made to settle 100 K above 20 degC with a time constant of 180 s:

    >>> import math
    >>> lines = [f"{t},{120 - 100 * math.exp(-t / 180):.2f}" for t in range(0, 1200, 30)]
    >>> warm_up = read_log("\\n".join(["time_s,temperature_C", *lines])).fit_warm_up()
    >>> round(warm_up.settled - 273.15), round(warm_up.time_constant)
    (120, 180)
    """
    rows = read_rows(source)
    return RunLog(rows.time, rows.reading, rows.fuel_used, rows.notes, rows.digest)
