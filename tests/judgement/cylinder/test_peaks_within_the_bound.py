"""A study of ours: no peak that a crown is asked to carry is above what its own charge could give, burned at once."""

from __future__ import annotations

import numpy as np
import pytest

from screening import load_case
from screening.judgement.cylinder import peaks
from screening.judgement.cylinder.gas_side import solve_gas_side
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.piston.load import crown_load
from screening.physics.cylinder.pressure_bound import pressure_bound


@pytest.mark.parametrize("name", ["petrol_baseline", "cyclopentanone_blend"])
def test_mean_cycle_is_below_the_bound_by_itself(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is cut off: of a thousand draws none has a mean peak above its bound, running or starting.

    The cycle loses heat and takes time, the bound neither. A charge that burned whole before top dead centre could in principle
    pass it, as the burned gas is compressed on: no draw of the table does.
    """
    bounds = []

    def kept(*given):  # type: ignore[no-untyped-def]
        bounds.append(pressure_bound(*given))
        return bounds[-1]

    monkeypatch.setattr(peaks, "pressure_bound", kept)
    case = load_case(name)
    draws = draw_conditions(case, 1000)
    gas = solve_gas_side(case, draws)
    for bound, way in zip(bounds, (gas.peaks, gas.starts.governed, gas.starts.held), strict=True):
        share = way.mean / bound.burned_pressure
        print(f"\nmean peak over its bound: {np.quantile(share, (0.05, 0.5, 0.95)).round(2)}")
        assert np.all(share < 1)


@pytest.mark.parametrize("name", ["petrol_baseline", "cyclopentanone_blend"])
def test_no_load_is_above_its_bound(name: str) -> None:
    case = load_case(name)
    draws = draw_conditions(case, 1000)
    gas = solve_gas_side(case, draws)
    load = crown_load(case, draws, gas)
    assert np.all(load.running < gas.peaks.bound)
    assert np.all(load.start_pressure < gas.starts.governed.bound)
    assert np.all(load.held.pressure < gas.starts.held.bound)
    assert np.all(load.held.pressure <= load.start_pressure)
