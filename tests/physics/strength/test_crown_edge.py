"""The crown's edge against a section of the piston: how far the belt holds it, elastic and plastic."""

from __future__ import annotations

import numpy as np
import pytest
from physics.strength.section_model import POISSON, Section, centre_tension, limit_factor

from screening.physics.strength.crown_edge import (
    FREE_EDGE,
    HELD_EDGE,
    belt_moment,
    bending_limit,
    centre_stress_factor,
    edge_factor_at_load,
)

DRAWN = 0.18
"""Half the range with which the elastic factor is drawn: what the section model leaves open."""
SECTIONS = [Section(4.0), Section(6.0), Section(8.0), Section(6.0, height=14.0), Section(6.0, wall=2.4),
            Section(6.0, r=30.0, outer=37.0), Section(4.0, r=17.0, outer=21.5, wall=3.0)]  # fmt: skip


def test_the_section_model_gives_the_clamped_plate() -> None:
    """3 (1 + nu)/8, Timoshenko and Woinowsky-Krieger 1959 art. 16; 12.5 for a clamped Mises plate, Hopkins and Wang 1954."""
    assert centre_tension(Section(4.0), clamped=True) == pytest.approx(3 * (1 + POISSON) / 8, rel=0.01)
    found = limit_factor(Section(2.0, cell=0.5, grooves=()), clamped=True)
    assert 12.5 <= found <= 12.5 * 1.06  # an upper bound, on a mesh


@pytest.mark.parametrize("section", SECTIONS, ids=str)
def test_the_underside_is_pulled_as_in_the_section_model(section: Section) -> None:
    belt = section.outer - section.r - section.groove_depth / 2  # grooves over half of its height
    formula = centre_stress_factor(section.t, section.r, belt, section.height, section.wall, POISSON)
    assert float(formula) == pytest.approx(centre_tension(section), rel=DRAWN)


SECTION_FACTOR = (0.70, 1.05)
"""Range of the factor that is drawn on the formula: what the plastic sections leave open."""


@pytest.mark.parametrize(
    "section",
    [Section(4.0), Section(6.0), Section(8.0), Section(6.0, height=14.0), Section(6.0, r=30.0, outer=37.0),
     Section(6.0, r=24.0, outer=27.4, grooves=()), Section(8.0, r=24.0, outer=27.4, grooves=())],
    ids=str,
)  # fmt: skip
def test_the_belt_holds_the_yielding_crown_as_in_the_section_model(section: Section) -> None:
    """The section's limit is an upper bound; from 0.36 R on the wall at the groove yields before the crown does."""
    belt = section.outer - section.r - section.groove_depth / 2 * bool(section.grooves)
    crown, held = section.t**2 / 4, belt_moment(belt, section.height, section.wall, section.r, 1.0)
    formula = float(bending_limit(crown, held, section.r)) * section.r**2 / crown
    low, high = SECTION_FACTOR
    assert low * formula <= limit_factor(section) <= high * formula


def test_the_edge_is_between_free_and_held_and_firmer_the_softer_the_crown() -> None:
    moments = np.array([1e9, 400.0, 200.0, 100.0, 1.0])
    factors = bending_limit(moments, 200.0, 22e-3) * 22e-3**2 / moments
    assert np.all(np.diff(factors) >= 0)
    assert factors[0] == pytest.approx(FREE_EDGE, abs=1e-3)
    assert factors[-1] == pytest.approx(HELD_EDGE)


def test_the_load_says_with_which_factor_it_is_just_carried() -> None:
    """The factor at a load times the moment that it needs is the limit of that very moment, on both sides of the belt's."""
    load = np.array([1e5, 20e5, 45e5, 120e5])
    factor = edge_factor_at_load(load, 200.0, 22e-3, 0.9)
    moment = load * 22e-3**2 / factor
    assert 0.9 * bending_limit(moment, 200.0, 22e-3) == pytest.approx(load)
