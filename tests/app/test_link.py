"""A link carries a case whole, keeps a log of the user's own at home, and says what is wrong when it was cut."""

from __future__ import annotations

import random
from typing import Any

import pytest
from judgement.spied_cases import CAPPED, GIVEN, THROTTLED

from app.session import link
from screening.demo_cases import bundled_logs
from screening.errors import CaseError
from screening.judgement.case.case_file import demo_cases, load_case


def noisy(characters: int) -> dict[str, Any]:
    """A case with notes that do not compress."""
    notes = "".join(random.Random(1).choices("abcdefghijklmnopqrstuvwxyz0123456789", k=characters))
    return load_case("petrol_baseline").to_dict() | {"notes": notes}


def with_own_log() -> dict[str, Any]:
    document = load_case("petrol_baseline").to_dict()
    return link.with_log(document, bundled_logs()["petrol_baseline_log"].read_text("utf-8"))


@pytest.mark.parametrize("name", list(demo_cases()))
def test_round_trip(name: str) -> None:
    document = load_case(name).to_dict()
    packed = link.encoded(document)
    assert packed is not None
    assert len(packed) <= link.LONGEST
    assert link.decoded(packed) == document


@pytest.mark.parametrize("broken", ["", "x", "eJw", "!!!!", "bm90IHppcA", "file.0123456789abcdef"])
def test_broken_link_is_refused(broken: str) -> None:
    with pytest.raises(CaseError, match="link"):
        link.decoded(broken)


@pytest.mark.parametrize("lost", [1, 2, 30, 200])
def test_a_link_that_lost_its_end_is_refused(lost: int) -> None:
    packed = link.encoded(load_case("petrol_baseline").to_dict())
    assert packed is not None
    with pytest.raises(CaseError, match="cut or changed"):
        link.decoded(packed[:-lost])


def test_too_long_a_case_has_no_link() -> None:
    assert link.encoded(noisy(4900)) is None


def test_the_address_holds_more_than_a_link_and_then_names_the_case() -> None:
    long = noisy(4900)
    assert link.decoded(link.for_address(long)) == long
    endless = link.for_address(long | {"title": noisy(20_000)["notes"]})
    assert endless.startswith(link.TOO_LONG)
    with pytest.raises(CaseError, match="open its case file"):
        link.decoded(endless)


def test_an_own_log_stays_behind_and_is_named_by_its_digest() -> None:
    document = with_own_log()
    sent = link.without_own_log(document)
    text = link.own_log(document)
    assert text is not None
    assert link.own_log(sent) is None
    assert link.missing_log(sent) == link.log_digest(text)
    assert link.with_log(sent, text) == document
    with pytest.raises(CaseError, match="is not here"):
        load_case(sent)


def test_a_log_is_the_same_whatever_ends_its_lines() -> None:
    assert link.log_digest("time_s,temperature_C\r\n0,20\r\n") == link.log_digest("time_s,temperature_C\n0,20")
    assert link.log_digest("0,20") != link.log_digest("0,21")


@pytest.mark.parametrize("document", [GIVEN, THROTTLED, CAPPED], ids=["given", "throttled", "capped"])
def test_no_key_is_lost_on_the_way(document: dict[str, Any]) -> None:
    """Everything that a case can give, own liquids and materials, soak tests and a log's text among it."""
    assert link.decoded(link.for_address(document)) == document
    assert load_case(link.decoded(link.for_address(document))) == load_case(document)


def test_only_the_own_log_stays_behind() -> None:
    sent = link.without_own_log(CAPPED)
    assert {key: value for key, value in sent.items() if key != "head"} == {
        key: value for key, value in CAPPED.items() if key != "head"
    }
    assert sent["head"] == CAPPED["head"] | {"log": {"digest": link.log_digest(CAPPED["head"]["log"])}}
