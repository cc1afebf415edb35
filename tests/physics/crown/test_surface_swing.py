"""The swing of the surface within a cycle: exact harmonics, Duhamel, depth, metals and polymers, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from screening.errors import OutOfRange
from screening.physics.crown.conduction import Film, Layer, heat_crown
from screening.physics.crown.swing import (
    flux_harmonics,
    surface_swing,
    swing_depth,
    swing_over_cycle,
)

Floats = NDArray[np.float64]
POLYMER = 670.0  # sqrt(0.25 1200 1500) [J/(m2 K s^0.5)]
ALUMINIUM = 19700.0  # sqrt(150 2700 960)
CYCLES = 25.0  # 3,000 rev/min of a four-stroke [1/s]


def turn(samples: int) -> Floats:
    return 2 * np.pi * np.arange(samples) / samples


def pulse(mean_to_peak: float = 8.0, samples: int = 720) -> Floats:
    """A flux like an engine's: one peak after firing, almost nothing else; mean 1."""
    angle = turn(samples)
    width = 1.0 / mean_to_peak
    shape = np.exp(-0.5 * ((angle / (2 * np.pi) - 0.06) / (width / 2.5)) ** 2)
    return np.asarray(shape / shape.mean())


def test_one_harmonic_is_exact() -> None:
    """q = Q cos wt gives T = Q/(e sqrt w) cos(wt - pi/4): Carslaw & Jaeger 1959, section 2.6, from memory."""
    samples = 400
    swing = swing_over_cycle([1e5], 15.0, POLYMER, samples)
    expected = 1e5 / (POLYMER * np.sqrt(2 * np.pi * 15.0)) * np.cos(turn(samples) - np.pi / 4)
    assert swing == pytest.approx(expected, abs=1e-9)
    assert float(surface_swing([1e5], 15.0, POLYMER)) == pytest.approx(expected.max(), rel=1e-9)


@pytest.mark.parametrize("order", [1, 2, 5])
def test_amplitude_and_phase_of_a_periodic_flux(order: int) -> None:
    """The m-th harmonic alone: amplitude down by sqrt m, 45 degrees behind whatever m and the flux's own phase."""
    phase = 0.7
    flux = 3e4 + 1e5 * np.cos(order * turn(256) + phase)
    swing = swing_over_cycle(flux_harmonics(flux), CYCLES, POLYMER, 256)
    expected = 1e5 / (POLYMER * np.sqrt(2 * np.pi * CYCLES * order)) * np.cos(order * turn(256) + phase - np.pi / 4)
    assert swing == pytest.approx(expected, abs=1e-6)


def test_harmonics_give_the_flux_back() -> None:
    """The harmonics and the mean are the flux again (Fourier)."""
    flux = 2e5 * pulse(samples=361)
    harmonics = flux_harmonics(flux, 1000)
    orders = np.arange(1, harmonics.size + 1)
    again = flux.mean() + (np.exp(1j * np.outer(turn(361), orders)) @ harmonics).real
    assert harmonics.size == 180
    assert again == pytest.approx(flux, abs=1e-6)


def test_against_conduction_in_time() -> None:
    """Duhamel's integral of the flux over forty cycles, a way without any Fourier series, within 1 % of the swing.

    T(t) = integral q(t - s)/(e sqrt(pi s)) ds (Carslaw & Jaeger 1959, section 2.9, from memory).
    """
    samples, cycles = 720, 40
    flux = 2e5 * (pulse(samples=samples) - 1.0)
    step = 1.0 / CYCLES / samples
    long = np.tile(flux, cycles)
    edges = np.sqrt(np.arange(long.size + 1) * step)
    weight = 2.0 * np.diff(edges) / (POLYMER * np.sqrt(np.pi))
    # flux at the middle of each interval against the weight of its age
    middle = 0.5 * (long + np.roll(long, -1))
    count = long.size
    late = [float(np.dot(middle[: n + 1][::-1], weight[: n + 1])) for n in range(count - samples, count)]
    shifted = np.roll(late, 1)
    swing = swing_over_cycle(flux_harmonics(flux, 300), CYCLES, POLYMER, samples)
    assert shifted - shifted.mean() == pytest.approx(swing, abs=0.01 * np.ptp(swing))


def test_metals_swing_little_and_polymers_much() -> None:
    """A flux that swings by 100-300 kW/m2 at 25 cycles a second: a few kelvin in a metal, tens in a polymer.

    Heywood 1988, section 12.6 (swing of metal walls under about 10-20 K), from memory; for polymers from effusivity.
    """
    for mean in (100e3, 300e3):
        harmonics = flux_harmonics(mean * pulse())
        metal, polymer = (float(surface_swing(harmonics, CYCLES, e)) for e in (ALUMINIUM, POLYMER))
        assert 0.5 < metal < 10.0
        assert 10.0 < polymer < 200.0
        assert polymer / metal == pytest.approx(ALUMINIUM / POLYMER, rel=1e-9)
    sine = [float(surface_swing([swing / 2], CYCLES, POLYMER)) for swing in (100e3, 300e3)]
    assert sine[0] == pytest.approx(5.95, abs=0.05)
    assert sine[1] == pytest.approx(17.9, abs=0.1)


def test_depth() -> None:
    """1/e at sqrt(2 a/w), exp(-2 pi) = 0.19 % a wavelength down, sqrt m sooner for the m-th harmonic."""
    a = 0.25 / (1200.0 * 1500.0)
    depth = float(swing_depth(CYCLES, a))
    assert depth == pytest.approx(np.sqrt(2 * a / (2 * np.pi * CYCLES)), rel=1e-12)
    assert 30e-6 < depth < 60e-6


def test_swing_on_top_of_the_mean_is_no_error_of_the_mean() -> None:
    """The layer is far deeper than the swing: 6 mm of polymer against 42 um, nothing of it arrives 0.5 mm down."""
    a = 0.25 / (1200.0 * 1500.0)
    assert np.exp(-0.5e-3 / swing_depth(CYCLES, a)) < 1e-5
    crown = heat_crown([Layer(6e-3, 0.25, 1200.0, 1500.0)], Film(150.0, 1000.0), Film(80.0, 360.0), 300.0, [60.0])
    assert crown.depth[1] < 0.5e-3


def test_draws_broadcast_and_nan_stays_in_its_draw() -> None:
    """One flux, many walls; NaN in one leaves the others."""
    harmonics = flux_harmonics(2e5 * pulse())
    e = np.array([500.0, np.nan, 900.0])
    swing = surface_swing(harmonics, CYCLES, e)
    assert np.isnan(swing).tolist() == [False, True, False]
    assert float(swing[0]) == pytest.approx(float(surface_swing(harmonics, CYCLES, 500.0)), rel=1e-12)
    many = flux_harmonics(np.outer(2e5 * pulse(), [1.0, 2.0]))
    pair = surface_swing(many, np.array([CYCLES, CYCLES]), POLYMER)
    assert float(pair[1] / pair[0]) == pytest.approx(2.0, rel=1e-12)


def test_scales_with_the_units() -> None:
    """K = W/m2 / (s^-0.5 J/(m2 K s^0.5)): flux by 7, effusivity by 3, frequency by 4."""
    harmonics = flux_harmonics(2e5 * pulse())
    one = float(surface_swing(harmonics, CYCLES, POLYMER))
    other = float(surface_swing(harmonics * 7.0, CYCLES * 4.0, POLYMER * 3.0))
    assert other == pytest.approx(one * 7.0 / (3.0 * 2.0), rel=1e-12)


@pytest.mark.parametrize(
    ("frequency", "effusivity", "text"),
    [(0.0, 700.0, "cycle_frequency: got 0; must be above 0"), (25.0, -1.0, "effusivity: got -1; must be above 0")],
)
def test_refused(frequency: float, effusivity: float, text: str) -> None:
    """No frequency or effusivity of nothing or less."""
    with pytest.raises(OutOfRange) as caught:
        surface_swing([1e5], frequency, effusivity)
    assert text in str(caught.value)
