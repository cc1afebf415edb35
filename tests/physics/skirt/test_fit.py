"""Thermal growth and the diameter to print: worked examples, rules of thumb, laws, refusals."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.skirt.fit import (
    compression_with_crevice,
    crevice_volume,
    diameter_range,
    print_diameter,
)
from screening.physics.skirt.growth import expansion_strain, shared_growth
from screening.physics.skirt.ring_gap import ring_gap_needed

PUBLISHED = Path(__file__).parents[2] / "published" / "thermal_growth.csv"


def published() -> list[dict[str, str]]:
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", published(), ids=lambda row: row["case"])
def test_worked_examples_of_growth(row: dict[str, str]) -> None:
    strain = expansion_strain(float(row["to_K"]), float(row["from_K"]), float(row["expansion_per_K"]))
    growth = float(row["length_m"]) * float(strain)
    assert growth == pytest.approx(float(row["growth_m"]), rel=float(row["relative_tolerance"]))


@pytest.mark.parametrize(
    ("skirt", "bore", "bore_expansion"),
    [(383.0, 363.0, 11e-6), (400.0, 380.0, 11e-6), (420.0, 395.0, 12e-6), (430.0, 400.0, 21e-6)],
    ids=["light load, iron", "middling, iron", "full load, iron", "full load, aluminium barrel"],
)
def test_aluminium_clearance_rule_of_thumb(skirt: float, bore: float, bore_expansion: float) -> None:
    """Common practice: an aluminium piston (19 to 23e-6/K) has 0.05 to 0.15 % of the bore cold; hot it needs
    about 0.02 %. Temperatures are our judgement of an air-cooled engine."""
    diameter = print_diameter(
        0.056,
        expansion_strain(bore, 293.0, bore_expansion),
        expansion_strain(skirt, 293.0, 20e-6),
        0.0,
        0.0002 * 0.056,
    )
    assert 0.0005 <= 1 - diameter / 0.056 <= 0.0016


def test_polymer_needs_several_times_the_clearance() -> None:
    """A polymer of 60 to 100e-6/K in iron needs 3 to 8 times the aluminium piston's clearance."""
    bore = expansion_strain(380.0, 293.0, 11e-6)
    metal = 0.056 - print_diameter(0.056, bore, expansion_strain(400.0, 293.0, 20e-6), 0.0, 15e-6)
    print_of = 0.056 - print_diameter(
        0.056, bore, expansion_strain(380.0, 293.0, np.array([60e-6, 100e-6])), 0.0, 15e-6
    )
    assert ((print_of / metal > 3) & (print_of / metal < 9)).all()


def test_part_as_printed_runs_at_the_clearance_asked_for() -> None:
    """Round trip, exact: grown and swollen, it leaves the running clearance."""
    diameter = print_diameter(0.056, 0.0011, 0.0081, 0.004, 30e-6, print_error=50e-6)
    hot = (diameter + 50e-6) * 1.0081 * 1.004
    assert 0.056 * 1.0011 - hot == pytest.approx(30e-6, rel=1e-9)


def test_laws_of_the_diameter() -> None:
    base = print_diameter(0.056, 0.001, 0.006, 0.0, 30e-6)
    assert print_diameter(0.056, 0.001, 0.007, 0.0, 30e-6) < base
    assert print_diameter(0.056, 0.001, 0.006, 0.01, 30e-6) < base
    assert print_diameter(0.056, 0.002, 0.006, 0.0, 30e-6) > base
    assert print_diameter(0.056, 0.001, 0.006, 0.0, 60e-6) < base
    assert print_diameter(2.5 * 0.056, 0.001, 0.006, 0.0, 2.5 * 30e-6) == pytest.approx(2.5 * float(base))


def test_range_is_the_safe_side_first_and_ignores_unknown() -> None:
    draws = np.append(np.linspace(0.0550, 0.0560, 1001), np.nan)
    low, middle, high = diameter_range(draws)
    assert (low, middle, high) == pytest.approx((0.05505, 0.0555, 0.05595))
    assert np.isnan(diameter_range(np.array([np.nan]))).all()


def test_growth_bends_at_the_transition_and_stays_unknown() -> None:
    assert expansion_strain(450.0, 300.0, 60e-6, 180e-6, 400.0) == pytest.approx(60e-6 * 100 + 180e-6 * 50)
    assert expansion_strain(450.0, 300.0, 60e-6) == pytest.approx(60e-6 * 150)
    assert np.isnan(expansion_strain(450.0, 300.0, np.nan))


def test_shared_growth_follows_the_stiff_layers() -> None:
    """Two halves, 100 K and 20 K warm, moduli 1 and 3 GPa: (1 100 + 3 20)/4 = 40 K of growth."""
    depth = np.array([0.0, 0.002, 0.002, 0.004])
    strain = 80e-6 * np.array([[100.0, 100.0, 20.0, 20.0]])
    modulus = np.array([[1e9, 1e9, 3e9, 3e9]])
    assert shared_growth(depth, strain, modulus)[0] == pytest.approx(80e-6 * 40.0)
    assert shared_growth(depth, strain + 0.001, modulus)[0] == pytest.approx(80e-6 * 40.0 + 0.001)
    assert np.isnan(shared_growth(depth, strain, 0.0 * modulus)).all(), "nothing stiff, no answer"


def test_crevice_costs_compression() -> None:
    """98 cc, ratio 8: clearance 14 cc; 0.3 mm more radial gap over a 6 mm land is 0.31 cc: ratio 7.85."""
    crevice = crevice_volume(0.056, 0.0554, 0.006)
    assert crevice == pytest.approx(np.pi / 4 * (0.056**2 - 0.0554**2) * 0.006)
    assert compression_with_crevice(8.0, 98e-6, crevice) == pytest.approx(7.847, abs=2e-3)
    assert compression_with_crevice(8.0, 98e-6, 0.0) == pytest.approx(8.0)
    assert compression_with_crevice(8.0, 98e-6, crevice, 1.8) < compression_with_crevice(8.0, 98e-6, crevice)
    assert crevice_volume(0.056, 0.057, 0.006) == 0.0


def test_looser_land_costs_and_tighter_land_gains_compression() -> None:
    extra = np.array([-0.2e-6, 0.0, 0.2e-6])
    left = compression_with_crevice(8.0, 98e-6, extra)
    assert left[0] > left[1] > left[2]
    assert compression_with_crevice(8.0, 1e3 * 98e-6, 1e3 * extra) == pytest.approx(left), "volumes scale together"


def test_ring_gap_by_hand() -> None:
    assert ring_gap_needed(0.056, 0.0011, 0.0014) == pytest.approx(np.pi * 0.056 * 0.0003)
    assert ring_gap_needed(0.056, 0.0014, 0.0011) == 0.0, "a bore that grows more opens the gap"


def test_usual_ring_gap_leaves_a_usual_ring_open() -> None:
    """A workshop textbook on small engines (2012, looked up) asks for at least 0.004 of the bore. In a metal piston the ring
    runs some 30 to 100 K above an iron bore of 100 degC (our judgement): 0.10 to 0.35 % must then do, and not by far."""
    needed = ring_gap_needed(0.056, 11e-6 * 80, 11e-6 * np.array([110.0, 180.0])) / 0.056
    assert (needed < 0.004).all()
    assert needed[1] > 0.003


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: print_diameter(0.0, 0, 0, 0, 0), "bore_diameter"),
        (lambda: print_diameter(0.056, 0, 0, -0.1, 0), "swelling"),
        (lambda: print_diameter(0.056, 0, -1.5, 0, 0), "above -1"),
        (lambda: compression_with_crevice(1.0, 98e-6, 0.0), "above 1"),
        (lambda: compression_with_crevice(8.0, 98e-6, -20e-6), "whole chamber"),
        (lambda: diameter_range(np.ones(3), 0.7), "0 to 1"),
        (lambda: shared_growth([0.0, 1.0], np.ones((1, 3)), np.ones((1, 3))), "n_depth"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
