"""Strength, modulus and printed strength against temperature: shapes, measured points, laws, refusals."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from screening.errors import OutOfRange
from screening.physics.strength.conditioned import conditioned_strength
from screening.physics.strength.default_strength import (
    AmorphousShape,
    CrystallineShape,
    amorphous_strength,
    semicrystalline_strength,
)
from screening.physics.strength.measured_strength import measured_strength
from screening.physics.strength.modulus import modulus_at_deflection_temperature, modulus_curve
from screening.physics.strength.printed import printed_strength_factor
from screening.physics.strength.strength_curve import StrengthCurve

ROOM = 296.15
GLASSY = AmorphousShape(retained=0.35, gone_above=10.0)
CRYSTALLINE = CrystallineShape(0.55, 0.28, 0.12, 0.06, glassy_span=120.0, decay=73.0)
PEI_LIKE = (105e6, 490.15)
PEEK_LIKE = (98e6, 416.15, 616.15)


def test_amorphous_curve_passes_its_three_points() -> None:
    """The design's own points: sigma_23, 0.35 of it at Tg - 5 K, none at Tg + 10 K."""
    curve = amorphous_strength(60e6, 420.0, GLASSY)
    np.testing.assert_allclose(curve.at([250.0, ROOM, 415.0, 430.0, 500.0]), [60e6, 60e6, 21e6, 0.0, 0.0])
    halfway = (ROOM + 415.0) / 2
    np.testing.assert_allclose(curve.at(halfway), 40.5e6)


def test_semicrystalline_curve_passes_the_design_fractions() -> None:
    """0.55, 0.28, 0.12, 0.06 and 0 of sigma_23 at Tg, Tg + 50 K, Tm - 60 K, Tm - 10 K and Tm."""
    sigma, glass, melt = PEEK_LIKE
    curve = semicrystalline_strength(sigma, glass, melt, CRYSTALLINE)
    at = [glass, glass + 50, melt - 60, melt - 10, melt, melt + 1]
    np.testing.assert_allclose(curve.at(at) / sigma, [0.55, 0.28, 0.12, 0.06, 0.0, 0.0], atol=1e-12)


def test_low_transition_falls_exponentially() -> None:
    """Tg below 23 degC: exp(-(T - 23 degC)/73 K) to Tm - 60 K, the straight lines within 2 % of sigma_23
    (chords of an exponential: (27 K/73 K)^2/8 = 1.7 %)."""
    curve = semicrystalline_strength(33e6, 268.0, 438.0, CRYSTALLINE)
    temperature = np.linspace(ROOM, 378.0, 50)
    exact = np.exp(-(temperature - ROOM) / 73.0)
    np.testing.assert_allclose(curve.at(temperature) / 33e6, exact, atol=0.018)
    assert curve.at(438.0 - 10.0) / 33e6 == pytest.approx(0.06)


def test_strength_is_continuous_where_the_transition_crosses_room_temperature() -> None:
    below = semicrystalline_strength(60e6, ROOM - 1e-6, 490.0, CRYSTALLINE).at(330.0)
    above = semicrystalline_strength(60e6, ROOM + 1e-6, 490.0, CRYSTALLINE).at(330.0)
    assert above == pytest.approx(float(below), rel=0.12)
    plain = semicrystalline_strength(60e6, ROOM + 1e-6, 490.0, replace(CRYSTALLINE, glassy_span=1e-9)).at(330.0)
    assert plain < 0.8 * below  # taken as they stand, the fractions jump


def test_ether_ketone_outlasts_ether_imide_although_its_modulus_is_gone() -> None:
    """At 230 degC a semicrystalline polymer (Tg 143, Tm 343) still has strength, an amorphous one (Tg 217)
    has none."""
    assert semicrystalline_strength(*PEEK_LIKE, CRYSTALLINE).at(503.15) > 10e6
    assert amorphous_strength(*PEI_LIKE, GLASSY).at(503.15) == 0.0
    assert amorphous_strength(*PEI_LIKE, GLASSY).at(453.15) > semicrystalline_strength(*PEEK_LIKE, CRYSTALLINE).at(
        453.15
    )


@settings(deadline=None, max_examples=60)
@given(
    glass=st.floats(230.0, 520.0),
    gap=st.floats(15.0, 300.0),
    factor=st.floats(0.5, 1.5),
    warm=st.floats(200.0, 800.0),
)
def test_strength_never_rises_with_temperature(glass: float, gap: float, factor: float, warm: float) -> None:
    melt = max(glass + gap, 310.0)
    curve = semicrystalline_strength(50e6, glass, melt, replace(CRYSTALLINE, factor=factor))
    values = curve.at(np.array([warm, warm + 5.0]))
    assert 0.0 <= values[1] <= values[0] + 1e-6 <= 50e6 + 1e-5


def test_draws_broadcast_and_unknown_stays_in_its_own_draw() -> None:
    curve = semicrystalline_strength([90e6, np.nan, 80e6], 416.0, [616.0, 616.0, np.nan], CRYSTALLINE)
    values = curve.at(np.full((4, 3), 350.0))
    assert values.shape == (4, 3)
    assert np.isfinite(values[:, 0]).all()
    assert np.isnan(values[:, 1:]).all()
    assert np.isnan(amorphous_strength(20e6, 240.0, GLASSY).at(300.0)), "a rubber at 23 degC has no glassy curve"


def test_strength_scales_with_its_unit() -> None:
    """Pascal scaled by 7.3: the curve scales as its first power."""
    plain = semicrystalline_strength(*PEEK_LIKE, CRYSTALLINE).at(450.0)
    np.testing.assert_allclose(
        semicrystalline_strength(7.3 * PEEK_LIKE[0], *PEEK_LIKE[1:], CRYSTALLINE).at(450.0), 7.3 * plain
    )


def test_default_passes_through_measured_shares_and_keeps_its_end() -> None:
    """By hand: 60 MPa falls straight to 21 MPa at 415 K; half of it measured at 373.15 K takes the default's
    60 - 39 x 77/118.85 = 34.7 MPa to 30, and what follows by the same 0.864: 21 MPa to 18.1, nothing at 430 K."""
    default = amorphous_strength(np.array([60e6, 66e6]), np.array([420.0, 424.0]), GLASSY)
    curve = measured_strength([373.15], [0.5], default)
    np.testing.assert_allclose(curve.at(np.full(2, 373.15)), [30e6, 33e6])
    np.testing.assert_allclose(curve.at(np.full(2, ROOM)), [60e6, 66e6])
    assert curve.at(np.array([415.0, 419.0]))[0] == pytest.approx(18.13e6, rel=2e-3)
    assert curve.at(np.array([430.0, 434.0])) == pytest.approx(0.0, abs=1.0)
    assert curve.at(np.array([429.0, 433.0])).min() > 0


def test_draws_of_another_shape_meet_at_the_point_and_part_away_from_it() -> None:
    shape = replace(CRYSTALLINE, factor=np.array([0.7, 1.0, 1.3]))
    default = semicrystalline_strength(np.full(3, 98e6), 416.15, 616.15, shape)
    curve = measured_strength([480.0], [0.3], default)
    assert np.ptp(curve.at(np.full(3, 480.0))) == pytest.approx(0.0, abs=1.0)
    assert np.ptp(curve.at(np.full(3, 400.0))) > 0.05 * 98e6
    spread = measured_strength([480.0], np.array([[0.2, 0.3, 0.4]]), default).at(np.full(3, 480.0))
    np.testing.assert_allclose(spread, [19.6e6, 29.4e6, 39.2e6])


def test_measured_points_beyond_the_end_count_as_nothing_left() -> None:
    curve = measured_strength([400.0, 450.0], [0.5, 1 / 3], amorphous_strength(60e6, 420.0, GLASSY))
    assert curve.at(431.0) == 0.0
    assert curve.at(400.0) == pytest.approx(30e6)


def test_water_takes_what_heat_has_not_yet_taken() -> None:
    """Polyamide 66 yields at 51.7 MPa conditioned at 50 % humidity and at 69 MPa dry (Callister, appendix B): 0.749. Dry 69 MPa
    falling to 29 MPa at 376.15 K is met at 366.15 K: 34 MPa; halfway there (331.15 K) 51.7 and 34 make 42.85 MPa."""
    dry = StrengthCurve([ROOM, 376.15, 500.0], [69e6, 29e6, 0.0])
    wet = conditioned_strength(dry, 51.7 / 69, 366.15)
    np.testing.assert_allclose(wet.at([ROOM, 331.15, 366.15, 376.15]), [51.7e6, 42.85e6, 34e6, 29e6])
    np.testing.assert_allclose(wet.at([400.0, 450.0]), dry.at([400.0, 450.0]))


def test_conditioned_is_never_stronger_than_dry_and_never_gains_with_heat() -> None:
    dry = semicrystalline_strength(np.full(4, 80e6), np.full(4, 324.0), 493.0, CRYSTALLINE)
    warm = np.linspace(280.0, 495.0, 200)[:, None] * np.ones(4)
    wet = conditioned_strength(dry, np.array([0.3, 0.56, 0.9, 1.0]), np.array([350.0, 368.0, 390.0, 368.0])).at(warm)
    assert np.all(wet <= dry.at(warm) + 1.0)
    assert np.all(np.diff(wet, axis=0) <= 1.0)
    np.testing.assert_allclose(wet[:, 3], dry.at(warm)[:, 3])


def test_deflection_strain_is_a_fifth_of_a_per_cent_more() -> None:
    """ISO 75-1: flexural strain increase 0.2 % (from memory); by hand: 1.8/(0.002 + 1.8/2400) = 655
    MPa."""
    np.testing.assert_allclose(
        modulus_at_deflection_temperature([1.80e6, 0.45e6], 2.4e9), [654.5e6, 205.7e6], rtol=2e-4
    )
    stress, modulus = 1.80e6, 2.4e9
    increase = stress / modulus_at_deflection_temperature(stress, modulus) - stress / modulus
    assert increase == pytest.approx(0.002, rel=1e-12)


def test_modulus_curve_passes_the_pair_and_bears_crossed_draws() -> None:
    curve = modulus_curve(np.array([2.4e9, 2.4e9]), np.array([400.0, 410.0]), np.array([415.0, 405.0]), 440.0)
    np.testing.assert_allclose(curve.at(np.array([400.0, 300.0]))[0], 654.5e6, rtol=2e-4)
    assert curve.at(np.array([440.0, 441.0])) == pytest.approx(0.0, abs=1.0)
    assert np.isfinite(curve.at(np.full(2, 408.0))).all()


def test_printed_strength_weighs_layers_and_infill() -> None:
    assert printed_strength_factor(0.5, 1.0) == pytest.approx(0.5)
    assert printed_strength_factor(0.5, 0.0) == pytest.approx(1.0)
    assert printed_strength_factor(1.0, 0.0, infill=0.25) == pytest.approx(0.125)
    factors = printed_strength_factor(np.linspace(0, 1, 9), 0.4)
    assert (np.diff(factors) > 0).all()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: AmorphousShape(1.2, 10.0), "retained.*0 to 1"),
        (lambda: StrengthCurve([300.0, 290.0], [1.0, 0.0]), "must rise"),
        (lambda: StrengthCurve([300.0, 310.0], [1.0, -1.0]), "0 or more"),
        (lambda: StrengthCurve([300.0], [1.0]), "2 knots"),
        (lambda: StrengthCurve([300.0, 310.0], [1.0]), "same number"),
        (lambda: semicrystalline_strength(50e6, 450.0, 440.0, CRYSTALLINE), "below the melting point"),
        (lambda: replace(CRYSTALLINE, factor=0.0), "factor.*above 0"),
        (lambda: replace(CRYSTALLINE, near_melting=-0.1), "near_melting.*0 to 1"),
        (lambda: modulus_at_deflection_temperature(0.0, 2e9), "above 0"),
        (lambda: measured_strength([290.0], [0.5], StrengthCurve([300.0, 400.0], [1.0, 0.0])), "above 23 degC"),
        (lambda: measured_strength([350.0], [-0.5], StrengthCurve([300.0, 400.0], [1.0, 0.0])), "0 or more"),
        (lambda: conditioned_strength(StrengthCurve([300.0, 400.0], [1.0, 0.0]), 1.2, 360.0), "share.*0 to 1"),
        (lambda: printed_strength_factor(1.3), "layer_adhesion.*0 to 1"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
