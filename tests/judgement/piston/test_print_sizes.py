"""What to print and what gap to file, on a made-up piston (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, TIMES, case, conditions, heat, polymer, warming

from screening.judgement.piston.print_sizes import land_sizes, ring_gaps, skirt_sizes

STIFF = {"tensile_modulus": 3e9, "deflection_temperature_180": 470.0, "deflection_temperature_045": 470.0}


def warm(kelvin: list[float]) -> np.ndarray:
    """Return a skirt's temperature (4, 1) [K] at MOMENTS."""
    return np.array(kelvin)[:, None]


MOMENTS = np.array([0.0, 10.0, 20.0, 300.0])


def test_skirt_runs_free_by_its_clearance_when_bore_and_skirt_have_grown() -> None:
    """At the end, 300 s, the skirt has 390 K and has grown by 8e-5 x 90 = 0.0072; the bore, at 400 K from the first moment on, by
    0.001: (50 x 1.001 - 0.001 x 50)/1.0072 - 0.10 = 49.6426 - 0.10 = 49.543 mm, as the printer makes it 0.10 mm too large. (With
    the bore left cold: 49.493 mm.)"""
    skirt = warm([300.0, 330.0, 350.0, 390.0])
    size = skirt_sizes(case(), conditions(print_size_error=1e-4), polymer(), MOMENTS, skirt, 300.0)
    assert 1e3 * size == pytest.approx([49.543], abs=1e-3)


def test_skirt_is_sized_for_the_end_of_the_run_not_for_what_comes_after() -> None:
    """A run of 15 s ends halfway between 330 and 350 K: it has grown by 8e-5 x 40 = 0.0032: (50.05 - 0.05)/1.0032 = 49.8405 mm."""
    skirt = warm([300.0, 330.0, 350.0, 390.0])
    size = skirt_sizes(case(), conditions(), polymer(), MOMENTS, skirt, 15.0)
    assert 1e3 * size == pytest.approx([49.8405], abs=1e-3)


def test_skirt_that_is_soft_guides_nothing_so_it_counts_as_no_warmer_than_where_it_softens() -> None:
    """Softening at 365 K it counts as 360 K: 8e-5 x 60 = 0.0048, 50/1.0048 = 49.7611 mm. One that is past its glass transition but
    melts far above, and one that is soft in the room, are sized for what they come to: 8e-5 x 90 = 0.0072, 49.643 mm."""
    skirt = warm([300.0, 330.0, 350.0, 390.0])
    size = skirt_sizes(case(), conditions(), polymer(softening=365.0), MOMENTS, skirt, 300.0)
    assert 1e3 * size == pytest.approx([49.7611], abs=1e-3)
    for soft in (500.0, 280.0):
        other = polymer(glass_transition=310.0, softening=soft, thermal_expansion_hot=8e-5)
        assert 1e3 * skirt_sizes(case(), conditions(), other, MOMENTS, skirt, 300.0) == pytest.approx(
            [49.643], abs=1e-3
        )


def test_skirt_that_would_shrink_is_printed_for_the_cold() -> None:
    """A bore colder than the air by 20 K: the skirt counts as not shrunk, (50 (1 - 0.0002) - 0.05)/1 = 49.94."""
    size = skirt_sizes(case(), conditions(liner=280.0), polymer(), MOMENTS, warm([300.0, 290.0, 285.0, 280.0]), 300.0)
    assert 1e3 * size == pytest.approx([49.94], abs=1e-4)


def test_land_stays_clear_at_the_hottest_it_gets_while_the_run_lasts() -> None:
    """Up to 16 s the crown has 400 K at most and grows by 8e-5 x 100 = 0.008, the bore by 0.001: (50.05 - 0.05)/1.008 =
    49.603 mm. (At 128 s it would have 460 K.)"""
    size = land_sizes(case(), conditions(), polymer(**STIFF), heat(warming()), np.array([16.0]))
    assert size is not None
    assert 1e3 * size == pytest.approx([49.603], abs=1e-3)


def test_soft_layers_of_the_land_follow_the_stiff_ones() -> None:
    """The upper 2 mm, at 600 K, have no stiffness left; the lower 2 mm, at 360 K, grow by 8e-5 x 60 = 0.0048:
    50/1.0048 = 49.761 mm."""
    field = np.where(TIMES[:, None] > 0, np.where(DEPTH < 0.002, 600.0, 360.0), 300.0)[:, :, None]
    size = land_sizes(case(), conditions(), polymer(**STIFF), heat(field), np.array([16.0]))
    assert size is not None
    assert 1e3 * size == pytest.approx([49.761], abs=0.01)


def test_land_of_unknown_stiffness_or_of_metal_has_no_size() -> None:
    until = np.array([16.0])
    assert land_sizes(case(), conditions(), polymer(), heat(warming()), until) is None
    assert land_sizes(case("metal cap"), conditions(), polymer(**STIFF), heat(warming()), until) is None


def test_ring_is_hotter_than_its_bore_settled() -> None:
    """Ring and bore of 1e-5, 150 and 100 K warmer than the air: pi x 50 x (0.0015 - 0.001) = 0.0785 mm."""
    assert 1e3 * ring_gaps(case(), conditions()) == pytest.approx([0.0785], abs=1e-4)


def test_ring_is_hotter_than_a_bore_that_is_still_cold() -> None:
    """In a bore of 2.4e-5 the settled ring has room, 0.0015 against 0.0024; but 50 K above a cold bore it has grown by 0.0005:
    pi x 50 x 0.0005 = 0.0785 mm."""
    draws = conditions(aluminium__thermal_expansion=2.4e-5)
    assert 1e3 * ring_gaps(case(bore_material="aluminium"), draws) == pytest.approx([0.0785], abs=1e-4)


def test_ring_of_another_metal_than_the_bore() -> None:
    """A ring of 2e-5, 150 K warmer, in a bore of 1e-5, 100 K warmer: aluminium bore's part stands for the iron's here,
    pi x 50 x (0.003 - 0.001) = 0.3142 mm."""
    draws = conditions(aluminium__thermal_expansion=1e-5, cast_iron__thermal_expansion=2e-5)
    assert 1e3 * ring_gaps(case(bore_material="aluminium"), draws) == pytest.approx([0.3142], abs=1e-4)
