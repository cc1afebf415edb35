"""What a compression gauge says of the compression ratio, and whether that can be true."""

from __future__ import annotations

from screening.judgement.case.case import Engine
from screening.judgement.case.section_values import typical
from screening.physics.cylinder.compression_gauge import compression_ratio_by_gauge
from screening.records.tables.assumptions import load_assumptions

_CHECK = "the decompressor on, the throttle shut, a valve or ring that leaks, a cold engine"


def ratio_by_gauge(gauge: float, stroke: float, rod: float) -> tuple[float, float, float]:
    """Return the lowest, typical and highest compression ratio [1] that a reading above the air's [Pa] speaks for.

    The range is that of the exponent while cranking, which counts for most; all else is typical. Lengths in [m].
    """
    exponent = load_assumptions()["cranking_exponent"]
    low, middle, high = compression_ratio_by_gauge(
        gauge * typical("compression_gauge_error"),
        typical("ambient_pressure"),
        typical("cranking_filling"),
        [exponent.high, exponent.typical, exponent.low],
        typical("intake_closing"),
        stroke,
        rod,
    )
    return float(low), float(middle), float(high)


def gauge_doubt(engine: Engine, ratio_is_given: bool) -> str:
    """Return what is wrong with a compression gauge's reading beside the ratio given, or the usual ones; empty: nothing."""
    if engine.compression_gauge is None:
        return ""
    low, middle, high = ratio_by_gauge(engine.compression_gauge, engine.stroke, engine.rod_length)
    said = f"The compression gauge speaks for a compression ratio of about {middle:.1f} ({low:.1f} to {high:.1f})"
    if ratio_is_given:
        if low <= engine.compression_ratio <= high:
            return ""
        reason = (
            f"a low reading has many causes ({_CHECK})" if engine.compression_ratio > high else "soot takes up room"
        )
        return (
            f"{said}, the case gives {engine.compression_ratio:g}, which is what was taken; {reason}: check "
            "engine.compression_ratio and engine.compression_gauge_bar."
        )
    usual = load_assumptions()["compression_ratio"]
    if low <= usual.high and high >= usual.low:
        return ""
    reason = (
        f"look for {_CHECK}" if high < usual.low else "look for soot and oil in the chamber, and read the gauge again"
    )
    return f"{said}, such engines have {usual.low:g} to {usual.high:g}: {reason}; or leave engine.compression_gauge_bar away."
