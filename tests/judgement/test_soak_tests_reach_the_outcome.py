"""A soak test of one's own decides the contact of its pair: masses by the densities of both, sizes by their cube."""

from __future__ import annotations

from typing import Any

import pytest
from judgement.spied_cases import BEGIN, PLASTIC, SPIRIT

from screening import assess_contact, load_case
from screening.judgement.case.case import Case

ABS = "workshop_plastic"


def soaked(material: str = ABS, fluid: object = SPIRIT, **seen: object) -> Case:
    """Return a case with one soak test."""
    document: dict[str, Any] = BEGIN | {
        "engine": {"displacement_cc": 97},
        "fuel": "ethanol",
        "head": {"reading_C": 150},
        "own_materials": [PLASTIC],
        "soak_tests": [{"material": material, "fluid": fluid, **seen}],
    }
    return load_case(document)


@pytest.mark.parametrize(
    ("seen", "swell"),
    [
        # 0.43 g of 811 kg/m3 in 10 g of 1043 kg/m3
        ({"mass_before_g": 10.0, "mass_after_g": 10.43}, 0.0430 * 1043 / 811),
        ({"mass_before_g": 10.0, "mass_after_g": 9.7}, -0.030 * 1043 / 811),
        ({"size_before_mm": 4.7, "size_after_mm": 4.9}, (4.9 / 4.7) ** 3 - 1),
    ],
)
def test_what_was_measured_is_a_change_of_volume(seen: dict[str, float], swell: float) -> None:
    case = soaked(**seen)
    assert assess_contact(ABS, case.soak_tests[0].fluid, case=case).volume_swell == pytest.approx(swell, rel=1e-9)


@pytest.mark.parametrize(
    ("seen", "word"),
    [("dissolves", "dissolves"), ("gummy", "swells strongly"), ("cracked", "stress cracks"), ("unchanged", "none"),
     ("swells", "swells"), ("slight", "slight")],
)  # fmt: skip
def test_what_was_seen_is_the_outcome(seen: str, word: str) -> None:
    case = soaked(outcome=seen)
    contact = assess_contact(ABS, case.soak_tests[0].fluid, case=case)
    assert (contact.outcome, contact.evidence) == (word, "own soak")


def test_it_speaks_of_its_own_material_and_fluid_alone() -> None:
    case = soaked(outcome="unchanged")
    assert assess_contact("pa66", case.soak_tests[0].fluid, case=case).evidence != "own soak"
    assert assess_contact(ABS, "acetone", case=case).evidence != "own soak"
    known = soaked(fluid="acetone", outcome="unchanged")
    assert assess_contact(ABS, "acetone", case=known).evidence == "own soak"
