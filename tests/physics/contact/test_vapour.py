"""The activity of the fuel vapour over the cycle."""

from __future__ import annotations

import pytest

from screening.physics.contact.vapour import compressed_vapour_pressure, mean_and_peak_activity


def test_vapour_activity():
    trace = compressed_vapour_pressure(2e4, 8.0, 720)
    assert trace.max() == pytest.approx(2e4, rel=1e-3)  # the last step before top dead centre
    mean, peak = mean_and_peak_activity(trace, 1e5)
    assert peak == pytest.approx(0.2, rel=1e-3)
    assert 0 < mean < 0.1
    assert mean_and_peak_activity(trace, 1.0)[1] == 1.0
