"""A run log's warm-up fit, as text and as a document."""

from __future__ import annotations

from typing import Any

import numpy as np

from screening.judgement.head.run_log import RunLog
from screening.quantities import from_si
from screening.sentences import TRADE, Temperature, TemperatureRange, Text, Units, sentence, worded

_HARDLY_WARMED = 5.0
"""Rise of the reading [K] under which a warm-up tells nothing of its pace (the project's own choice)."""


def log_document(log: RunLog) -> dict[str, Any]:
    """Return the fit of a log; temperatures are the gun's readings in degC, not yet corrected for emissivity."""
    fit = log.fit_warm_up()
    burned = log.fuel_burned()
    return {
        "rows": int(log.time.size),
        "duration_s": float(log.time[-1]),
        "settled_reading_C": float(from_si(fit.settled, "degC")),
        "settled_interval_C": [float(from_si(value, "degC")) for value in fit.settled_interval],
        "time_constant_s": fit.time_constant,
        "time_constant_interval_s": list(fit.time_constant_interval),
        "start_reading_C": float(from_si(fit.start, "degC")),
        "is_settled": fit.is_settled,
        "outliers": [
            {"time_s": float(log.time[i]), "reading_C": float(from_si(log.reading[i], "degC"))}
            for i in np.flatnonzero(fit.outliers)
        ],
        "burned_mL": None if burned is None else float(from_si(burned.volume, "mL")),
        "burn_duration_s": None if burned is None else burned.duration,
        "notes": list(log.notes),
    }


def log_sheet(log: RunLog, units: Units = TRADE) -> str:
    """Return the fit as text for a terminal, temperatures in the unit chosen."""
    fit = log.fit_warm_up()
    fast, slow = fit.time_constant_interval
    lines: list[Text] = [
        f"{log.time.size} rows over {log.time[-1]:.0f} s.",
        sentence(
            "Settles at a reading of {settled} (90 % interval {ends}), before any correction for emissivity.",
            settled=Temperature(fit.settled, 1),
            ends=TemperatureRange(*fit.settled_interval, 1),
        ),
        f"Time constant {fit.time_constant:.0f} s (90 % interval {fast:.0f} to {slow:.0f} s).",
    ]
    if abs(fit.settled - fit.start) < _HARDLY_WARMED:
        lines.append("The head hardly warmed in this log: its time constant says next to nothing.")
    if not fit.is_settled:
        lines.append("Not settled yet: the log is too short for its settled value to be more than an extrapolation.")
    for i in np.flatnonzero(fit.outliers):
        lines.append(
            sentence(
                "Far from the curve, marked and left out of the fit: {reading} at {time}.",
                reading=Temperature(float(log.reading[i]), 1),
                time=f"{log.time[i]:.0f} s",
            )
        )
    lines += [fuel_sentence(log), *(f"Note: {note}." for note in log.notes)]
    return "\n".join(worded(line, units) for line in lines)


def fuel_sentence(log: RunLog) -> str:
    """Return a sentence on the fuel burned in the log, or on why that is unknown."""
    burned = log.fuel_burned()
    if burned is not None:
        volume = from_si(burned.volume, "mL")
        return f"Fuel: {volume:.4g} mL in {burned.duration:.0f} s, {60 * volume / burned.duration:.3g} mL a minute."
    if log.fuel_used is None:
        return "No column of fuel: how much was burned is not known from this log."
    return "The column of fuel neither only rises nor only falls: what was burned cannot be told from it."
