"""The curve of uptake against activity, and the story of a pair."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import CaseError
from screening.judgement.contact.contact_story import contact_story
from screening.judgement.contact.curve import uptake_curve
from screening.judgement.contact.pair import assess_contact
from screening.records.liquids.find_fuel import find_fuel
from screening.records.liquids.placed_liquid import placed_liquid


@pytest.mark.parametrize("material", ["abs", "nbr", "pa12", "hdpe", "vmq"])
def test_uptake_rises_with_activity_and_its_band_holds_it(material: str) -> None:
    curve = uptake_curve(material, find_fuel("toluene"))
    assert curve is not None
    for values in (curve.low, curve.typical, curve.high):
        assert (np.diff(values) >= -1e-12).all()
    assert (curve.low <= curve.typical).all()
    assert (curve.typical <= curve.high).all()


def test_dilute_end_follows_henry() -> None:
    """Far below its saturation a vapour's uptake goes as its activity (Flory 1953, ch. XII: a = phi1 exp(1 + chi))."""
    curve = uptake_curve("nbr", find_fuel("isooctane"))
    assert curve is not None
    assert curve.typical[5] / curve.typical[0] == pytest.approx(curve.activity[5] / curve.activity[0], rel=0.02)


def test_exposures_stand_where_they_belong() -> None:
    curve = uptake_curve("abs", find_fuel("n-butyl acetate"))
    assert curve is not None
    at = {point.exposure: point for point in curve.points}
    assert set(at) == {"soak", "cold start", "running", "sump"}
    assert at["soak"].activity == at["cold start"].activity == 1.0
    assert at["running"].activity < 0.05
    assert at["running"].activity < at["sump"].activity < 0.2
    assert at["running"].uptake[1] < at["sump"].uptake[1] < at["soak"].uptake[1]
    assert at["soak"].uptake[1] == pytest.approx(curve.typical[-1], rel=1e-9)


def test_where_nothing_is_known_there_is_no_curve() -> None:
    assert uptake_curve("pai", find_fuel("ethanol")) is None
    assert uptake_curve("aluminium", find_fuel("ethanol")) is None


def test_story_says_what_each_assessment_says() -> None:
    story = contact_story("pc", "petrol E10")
    for contact in story.contacts:
        assert contact == assess_contact("pc", "petrol E10", exposure=contact.exposure)
    assert story.spheres[0].distance_ratio == pytest.approx(story.spheres[0].distance / story.spheres[0].radius)
    assert story.seen
    assert all(source in story.sources for contact in story.contacts for source in contact.sources)


def test_liquid_placed_where_a_known_one_lies_does_the_same() -> None:
    """Acetone by its Hansen parameters and molar volume (its table's own) is foretold as acetone by name."""
    acetone = find_fuel("acetone")
    assert acetone.hansen is not None
    assert acetone.molar_volume is not None
    d, p, h = acetone.hansen
    placed = placed_liquid(f"dD {d:.4f}, dP {p:.4f}, dH {h:.4f}, V {1e6 * acetone.molar_volume:.4f}")
    assert placed is not None
    for material in ("abs", "pc", "nbr", "pp"):
        one = assess_contact(material, placed, use_observations=False)
        other = assess_contact(material, acetone, use_observations=False)
        assert one.outcome == other.outcome
        assert one.distance_ratio == pytest.approx(other.distance_ratio, rel=1e-3)
    assert assess_contact("abs", placed, exposure="running").outcome == "unknown"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("dD 17.9, dP 11.9", "dH is missing"),
        ("dD 17.9, dP 11.9, dH 5.2", "V is missing"),
        ("dD 99, dP 11.9, dH 5.2, V 89", "dD 99: should be 10 to 30"),
        ("dD 17.9, dD 18, dP 11.9, dH 5.2, V 89", "dD is given twice"),
    ],
)
def test_badly_placed_liquid_is_refused(text: str, said: str) -> None:
    with pytest.raises(CaseError, match=said):
        placed_liquid(text)


def test_names_and_blends_are_no_places() -> None:
    for text in ("acetone", "67-64-1", "ethanol 70, cyclopentanone 30", "petrol E10"):
        assert placed_liquid(text) is None
