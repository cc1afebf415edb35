"""A link carries a case whole, and says what is wrong when it was cut."""

from __future__ import annotations

import random

import pytest

from app import link
from screening.errors import CaseError
from screening.judgement.case_file import demo_cases, load_case


@pytest.mark.parametrize("name", list(demo_cases()))
def test_round_trip(name: str) -> None:
    document = load_case(name).to_dict()
    packed = link.encoded(document)
    assert packed is not None
    assert len(packed) <= link.LONGEST
    assert link.decoded(packed) == document


@pytest.mark.parametrize("broken", ["", "x", "eJw", "!!!!", "bm90IHppcA"])
def test_broken_link_is_refused(broken: str) -> None:
    with pytest.raises(CaseError, match="link"):
        link.decoded(broken)


def test_too_long_a_case_has_no_link() -> None:
    noise = "".join(random.Random(1).choices("abcdefghijklmnopqrstuvwxyz0123456789", k=4900))
    assert link.encoded(load_case("petrol_baseline").to_dict() | {"notes": noise}) is None
