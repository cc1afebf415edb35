"""From a solved cycle to its peaks: the charge as it is where the intake closes, on a made-up cycle."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from screening.judgement.cylinder import peaks
from screening.judgement.cylinder.peaks import peaks_of
from screening.physics.cylinder.combustion import FuelChemistry
from screening.physics.cylinder.pressure_bound import PressureBound

ANGLES = np.radians(np.arange(0.0, 720.0))


def peaks_of_a_made_up_cycle(monkeypatch: pytest.MonkeyPatch, mean_peak: float) -> tuple[peaks.Peaks, list[Any]]:
    """Return the peaks where the charge gives 11 bar unburned and 59 burned at once, and what the bound was asked of."""
    asked: list[Any] = []

    def bound(*given: Any) -> PressureBound:
        asked.extend(given)
        one = np.ones(1)
        return PressureBound(600 * one, 11e5 * one, 2700 * one, 59e5 * one)

    monkeypatch.setattr(peaks, "pressure_bound", bound)
    degrees = np.arange(720.0)[:, None]
    cycle = SimpleNamespace(
        crank_angle=ANGLES, charge_mass=np.ones(1), residual_fraction=np.array([0.07]), peak_pressure=np.array([mean_peak]),
        pressure=1e5 + 100 * degrees, temperature=300 + degrees / 10,
    )  # fmt: skip
    inputs = SimpleNamespace(
        bore=0.05, stroke=0.04, rod_length=1e3, compression_ratio=8.0, intake_closing=np.radians(580.5),
        equivalence_ratio=1.1, chemistry=FuelChemistry(8, 18, 0, 0, -224e3),
    )  # fmt: skip
    return peaks_of(cast(Any, inputs), cast(Any, cycle)), asked


def test_charge_is_compressed_from_where_the_intake_closes(monkeypatch: pytest.MonkeyPatch) -> None:
    """At 580.5 degrees, 40.5 after bottom dead centre, a piston on a very long rod has (1 + cos 40.5)/2 = 0.8802 of its stroke above
    it: 1 + 7 x 0.8802 = 7.161 of the clearance volume, not 8. Pressure and temperature are those of the last whole degree: 1.58
    bar, 358 K."""
    _, (_, phi, residual, temperature, pressure, ratio) = peaks_of_a_made_up_cycle(monkeypatch, 30e5)
    assert ratio == pytest.approx([7.161], abs=1e-3)
    assert (pressure[0], temperature[0], residual[0], phi) == pytest.approx((1.58e5, 358.0, 0.07, 1.1))


@pytest.mark.parametrize(("mean", "motored", "bound"), [(30e5, 11e5, 59e5), (9e5, 9e5, 59e5), (60e5, 11e5, 60e5)])
def test_mean_peak_lies_between_motored_and_bound(
    mean: float, motored: float, bound: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A late burn may peak below what compression without loss would give, and rounding may lift it over the bound: then the
    mean itself is the end."""
    found, _ = peaks_of_a_made_up_cycle(monkeypatch, mean)
    assert (found.mean[0], found.motored[0], found.bound[0]) == (mean, motored, bound)
