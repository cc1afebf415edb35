"""The compression ratio, draw by draw, from a compression gauge."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from screening.arrays import FloatArray
from screening.physics.cylinder.compression_gauge import compression_ratio_by_gauge


def ratio_by_gauge_draws(
    gauge: float, sizes: Mapping[str, FloatArray], drawn: Callable[[str], FloatArray]
) -> FloatArray:
    """Return draws (n_draw,) of the compression ratio [1] that a reading above the air's pressure [Pa] speaks for.

    `sizes` holds the draws of stroke and rod [m]; `drawn` gives those of a row of `assumptions.csv`. The intake closes in
    each draw where it does in that draw's cycle, so that the two stay together.
    """
    return compression_ratio_by_gauge(
        gauge * drawn("compression_gauge_error"),
        drawn("ambient_pressure"),
        drawn("cranking_filling"),
        drawn("cranking_exponent"),
        drawn("intake_closing"),
        sizes["stroke"],
        sizes["rod_length"],
    )
