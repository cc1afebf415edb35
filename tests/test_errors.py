"""The error family: each is caught as what it is, and says what would be right."""

from __future__ import annotations

import pickle

import pytest

from screening import errors
from screening.errors import CaseError, Fault, ScreeningError, UnknownName, nearest_names


@pytest.mark.parametrize(
    ("kind", "also"),
    [
        (errors.CaseError, ValueError),
        (errors.DataError, ValueError),
        (errors.LogError, ValueError),
        (errors.OutOfRange, ValueError),
        (errors.NotBuiltYet, NotImplementedError),
        (errors.UnknownName, LookupError),
    ],
)
def test_each_is_one_of_ours_and_of_pythons(kind: type[Exception], also: type[Exception]) -> None:
    assert issubclass(kind, ScreeningError)
    assert issubclass(kind, also)
    assert kind.__doc__


def test_a_case_error_lists_its_faults() -> None:
    faults = [Fault("engine.speed_rpm", "got 0; allowed 300 to 15000 rpm"), Fault("", "empty")]
    error = CaseError(faults)
    assert error.faults == tuple(faults)
    assert str(error) == "the case has 2 faults: engine.speed_rpm: got 0; allowed 300 to 15000 rpm; empty"
    assert str(CaseError(faults[1:])) == "the case has 1 fault: empty"


def test_an_unknown_name_offers_the_nearest() -> None:
    error = UnknownName("surface", "Matt_Black", ["matt_black_paint", "soot", "cast_iron"])
    assert error.near == ("matt_black_paint",)
    assert str(error) == "unknown surface 'Matt_Black'; nearest known: matt_black_paint"


def test_an_unknown_name_near_none_lists_a_few_and_not_many() -> None:
    assert str(UnknownName("bore", "zzz", ["steel", "iron"])) == "unknown bore 'zzz'; known: steel, iron"
    assert str(UnknownName("fuel", "zzz", map(str, range(100)))) == (
        "unknown fuel 'zzz'; 100 are known, such as 0, 33, 66"
    )
    assert str(UnknownName("fuel", " ", ["a"], "must be a name")) == "no fuel is named; known: a; must be a name"


def test_nearest_names_are_three_at_most_best_first() -> None:
    names = ["peek", "peek_cf", "pekk", "peek_amorphous", "abs"]
    assert nearest_names("PEEK", names)[0] == "peek"
    assert len(nearest_names("peek", names)) == 3
    assert nearest_names("", names) == ()


@pytest.mark.parametrize(
    "error", [CaseError([Fault("fuel", "missing")]), UnknownName("fuel", "etanol", ["ethanol"]), errors.LogError("x")]
)
def test_errors_cross_a_process_border(error: Exception) -> None:
    """A worker hands its error over by pickle."""
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
