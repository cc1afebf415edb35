"""A run log and what it says: the settled temperature of the head and how fast it warmed."""

from __future__ import annotations

import io
import os
from dataclasses import dataclass

from screening.physics.warm_up import WarmUp, fit_first_order
from screening.records.run_log import LogRows, read_rows


@dataclass(frozen=True, eq=False)
class RunLog(LogRows):
    """A run log: `time` [s], `reading` [K], `fuel_used` [m3] or None, `notes` on what was assumed in reading it."""

    def fit_warm_up(self) -> WarmUp:
        """Return the robust first-order fit to the readings; see `screening.physics.warm_up`."""
        return fit_first_order(self.time, self.reading)


def read_log(source: str | os.PathLike[str] | io.TextIOBase) -> RunLog:
    """Return the run log in a text, a path or an open text file.

    Raises
    ------
    LogError
        Names the line, what stands there and what would be right.
    """
    rows = read_rows(source)
    return RunLog(rows.time, rows.reading, rows.fuel_used, rows.notes, rows.digest)
