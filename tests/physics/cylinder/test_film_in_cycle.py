"""Each draw's film is that of its own correlation: the cycle's trace beside the formula at the trace's state."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.cylinder import film
from screening.physics.cylinder.combustion import FuelChemistry
from screening.physics.cylinder.cycle import CycleInputs, solve_cycle
from screening.physics.cylinder.volume import cylinder_volume

BORE, STROKE, ROD, RATIO, SPEED = 0.061, 0.043, 0.083, 7.3, 45.0
PISTON_SPEED = 2 * STROKE * SPEED
GAS_CONSTANT = 8.314462 / 0.0300
"""Of air with a tenth of its mass of C2H6O vapour [J/(kg K)], to 2 %."""
INPUTS = CycleInputs(
    bore=BORE, stroke=STROKE, rod_length=ROD, compression_ratio=RATIO, speed=SPEED,
    chemistry=FuelChemistry(2.0, 6.0, 1.0, 0.0, -235e3), equivalence_ratio=1.1, crown_temperature=450.0,
    head_temperature=430.0, liner_temperature=400.0, volumetric_efficiency=0.4,
    correlation=np.array([0, 1, 2]), multiplier=np.array([1.3, 1.5, 0.9]), intake_heating=25.0,
    exhaust_pressure_ratio=1.05, combustion_start=np.radians(-18.0), combustion_duration=np.radians(60.0),
    wiebe_efficiency=5.0, wiebe_shape=2.0, exhaust_opening=np.radians(130.0), blowdown_angle=np.radians(55.0),
    overlap_angle=np.radians(20.0), intake_closing=np.radians(580.0),
)  # fmt: skip
CYCLE = solve_cycle(INPUTS)
INTAKE, COMPRESSING = 2.5 * np.pi, 3.6 * np.pi


def state(angle: float, draw: int) -> tuple[float, float, float, float]:
    """Return pressure [Pa], temperature [K], volume [m3] and film coefficient [W/(m2 K)] of a draw at a crank angle."""
    at = int(np.argmin(np.abs(CYCLE.crank_angle - angle)))
    volume = float(cylinder_volume(CYCLE.crank_angle[at], BORE, STROKE, ROD, RATIO))
    return (
        float(CYCLE.pressure[at, draw]),
        float(CYCLE.temperature[at, draw]),
        volume,
        float(CYCLE.film_coefficient[at, draw]),
    )


@pytest.mark.parametrize(("angle", "factor"), [(INTAKE, 6.18), (COMPRESSING, 2.28)])
def test_woschni(angle: float, factor: float) -> None:
    """Gas as fast as 6.18 times the piston's mean speed while a valve is open, 2.28 times in compression."""
    p, t, _, h = state(angle, 0)
    assert h == pytest.approx(1.3 * film.woschni(p, t, BORE, factor * PISTON_SPEED), rel=1e-3)


@pytest.mark.parametrize("angle", [INTAKE, COMPRESSING])
def test_hohenberg(angle: float) -> None:
    p, t, volume, h = state(angle, 1)
    assert h == pytest.approx(1.5 * film.hohenberg(p, t, volume, PISTON_SPEED), rel=1e-3)


@pytest.mark.parametrize("angle", [INTAKE, COMPRESSING])
def test_annand(angle: float) -> None:
    p, t, _, h = state(angle, 2)
    assert h == pytest.approx(0.9 * film.annand(p, t, BORE, PISTON_SPEED, GAS_CONSTANT), rel=0.02)


def test_the_three_differ() -> None:
    h = [state(COMPRESSING, draw)[3] / error for draw, error in enumerate((1.3, 1.5, 0.9))]
    assert min(abs(a / b - 1) for a in h for b in h if a is not b) > 0.05
