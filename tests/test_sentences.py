"""Sentences are worded in the unit chosen, from the same numbers, and what a person typed stays as it was typed."""

from __future__ import annotations

import math

import pytest

from screening.sentences import (
    TRADE,
    Sentence,
    Temperature,
    TemperatureRange,
    Units,
    joined,
    sentence,
    worded,
)
from screening.words import with_and

FAHRENHEIT = Units("°F")


@pytest.mark.parametrize(
    ("kelvin", "digits", "celsius", "fahrenheit"),
    [
        (373.15, 0, "100 °C", "212 °F"),  # water boils
        (273.15, 0, "0 °C", "32 °F"),
        (233.15, 0, "-40 °C", "-40 °F"),  # where the two scales meet
        (334.25, 1, "61.1 °C", "142.0 °F"),  # 61.1 x 1.8 + 32 = 141.98
        (273.05, 0, "0 °C", "32 °F"),  # -0.1 rounds to 0, without a sign
        (math.nan, 0, "unknown", "unknown"),
    ],
)
def test_a_temperature_in_either_unit(kelvin: float, digits: int, celsius: str, fahrenheit: str) -> None:
    assert Temperature(kelvin, digits).worded(TRADE) == celsius
    assert Temperature(kelvin, digits).worded(FAHRENHEIT) == fahrenheit


def test_a_range_says_its_unit_once() -> None:
    assert TemperatureRange(473.15, 573.15).worded(FAHRENHEIT) == "392 to 572 °F"
    assert TemperatureRange(473.15, 473.25).worded(TRADE) == "200 °C"


def test_a_frame_within_a_frame_follows_the_unit() -> None:
    inner = sentence("at {there}", there=Temperature(373.15))
    outer = sentence("It softens {where}, {again}.", where=inner, again=joined([Temperature(273.15), "never"], " and "))
    assert str(outer) == "It softens at 100 °C, 0 °C and never."
    assert outer.worded(FAHRENHEIT) == "It softens at 212 °F, 32 °F and never."


def test_what_a_person_typed_is_no_frame() -> None:
    typed = "{at} 100 °C {0.__class__}"
    said = joined([sentence("{name} softens.", name=typed), typed])
    assert said.worded(FAHRENHEIT) == f"{typed} softens. {typed}"
    assert worded(typed, FAHRENHEIT) == typed


def test_nothing_and_one_and_three_are_joined() -> None:
    assert [with_and(items) for items in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
    assert str(joined(["a", "", "b"], between=" {} ")) == "a {} b"


def test_a_frame_without_its_value_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        str(Sentence("at {where}", {}))
