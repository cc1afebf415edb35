"""A crown that its rings drain at the rim, against a disc cut into rings and the parabola of an even flux."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import solve_banded

from screening.physics.crown.disc import drained_at_rim

RADIUS, DRAIN, GAS, BENEATH, CRANKCASE = 0.028, 420.0, 1250.0, 90.0, 370.0


def cut_into_rings(film: float, rim: float, thickness: float, conductivity: float) -> tuple[float, float]:
    """Return mean and centre of a disc by finite volumes: films on both faces, `rim` (a face's W/m2K) at its edge."""
    count = 4000
    edges = np.linspace(0.0, RADIUS, count + 1)
    area = np.pi * np.diff(edges**2)
    link = conductivity * thickness * 2 * np.pi * edges[1:-1] / (edges[1] - edges[0])
    drain = 1 / (
        1 / (rim * np.pi * RADIUS**2) + (edges[1] - edges[0]) / (4 * np.pi * RADIUS * conductivity * thickness)
    )
    own = (film + BENEATH) * area
    own[:-1] += link
    own[1:] += link
    own[-1] += drain
    right = (film * GAS + BENEATH * CRANKCASE) * area
    right[-1] += drain * DRAIN
    field = solve_banded((1, 1), [np.append(0.0, -link), own, np.append(-link, 0.0)], right)
    return float(np.sum(field * area) / area.sum()), float(field[0])


@pytest.mark.parametrize("conductivity", [390.0, 150.0, 50.0, 15.0, 7.0])
def test_crown_drained_at_its_rim_is_a_disc(conductivity: float) -> None:
    """Copper, aluminium, iron, stainless steel, titanium: mean and centre of the disc by itself to 0.05 K."""
    film, rim, thickness = 300.0, 4500.0, 5e-3
    whole, excess = drained_at_rim(rim, film + BENEATH, RADIUS, thickness, conductivity)
    mean = (film * GAS + BENEATH * CRANKCASE + whole * DRAIN) / (film + BENEATH + whole)
    exact_mean, exact_centre = cut_into_rings(film, rim, thickness, conductivity)
    assert mean == pytest.approx(exact_mean, abs=0.05)
    assert mean + excess * (mean - DRAIN) == pytest.approx(exact_centre, abs=0.05)


def test_even_flux_makes_a_parabola() -> None:
    """Limit: where nothing answers to the temperature centre over rim is q R^2/(4 k t), half of it over the mean."""
    flux, thickness, conductivity, rim = 2e5, 5e-3, 150.0, 4500.0
    whole, excess = drained_at_rim(rim, 1e-6, RADIUS, thickness, conductivity)
    over_bore = flux / whole
    assert 2 * excess * over_bore == pytest.approx(flux * RADIUS**2 / (4 * conductivity * thickness), rel=1e-6)
    assert (1 - excess) * over_bore == pytest.approx(flux / rim, rel=1e-6)


def test_a_crown_that_conducts_without_end_is_all_as_warm_as_its_rim() -> None:
    whole, excess = drained_at_rim(4500.0, 300.0, RADIUS, 5e-3, 1e9)
    assert whole == pytest.approx(4500.0, rel=1e-5)
    assert excess == pytest.approx(0.0, abs=1e-6)
