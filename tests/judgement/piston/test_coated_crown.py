"""A coating of the table can be a layer of the crown: it insulates a little and carries nothing."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from screening import load_case, screen
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.piston import ends
from screening.records.materials.materials import load_materials

COATINGS = [i for i in load_materials().ids if load_materials().get(i).morphology == "ceramic"]


def coated(*layers: tuple[str, float], build: str = "coated crown") -> dict[str, Any]:
    document = load_case("cyclopentanone_blend").to_dict()
    document["piston"] |= {
        "build": build,
        "crown_layers": [{"material": material, "thickness_mm": thickness} for material, thickness in layers],
    }
    return document


@pytest.mark.parametrize("coating", COATINGS)
def test_every_coating_can_be_computed(coating: str) -> None:
    story = screen(load_case(coated((coating, 0.1))), 20, materials=["pei"]).material("pei")
    assert story.standing is not None
    assert story.standing.median > 0


def test_a_thicker_coating_delays_the_end() -> None:
    """Law: more insulation on the gas side, a later collapse."""
    medians = []
    for thickness in (0.05, 0.2, 0.5):
        story = screen(load_case(coated(("zirconia_sprayed", thickness))), 40, materials=["pei"]).material("pei")
        assert story.standing is not None
        medians.append(story.standing.median)
    assert medians == sorted(medians)
    assert medians[-1] > 1.05 * medians[0]


def test_a_coating_without_a_strength_carries_nothing() -> None:
    draws = draw_conditions(load_case(coated(("silicone_ceramic_paint", 0.1))), 20, 0)
    assert not draws["silicone_ceramic_paint.tensile_strength"].any()


def test_a_thin_coating_does_not_keep_the_polymer_beneath_from_decomposing() -> None:
    """Limit: a coating of hardly any thickness leaves the time at which the polymer's face comes to its onset as it was.

    Bare, the crown then begins to recede; coated, it lets go of the coating.
    """
    bare = load_case("cyclopentanone_blend")
    thin = load_case(coated(("silicone_ceramic_paint", 0.05)))
    stories = [screen(case, 60, materials=["ppa_cf"]).material("ppa_cf") for case in (bare, thin)]
    assert np.isfinite(stories[1].times[ends.DECOMPOSITION]).mean() > 0.9
    assert np.median(stories[1].life) < 1.2 * np.median(stories[0].life)
