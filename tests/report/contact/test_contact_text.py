"""The sheet and the document of a contact."""

from __future__ import annotations

import json

import pytest

from screening.errors import OutOfRange
from screening.judgement.contact.pair import EXPOSURES, assess_contact
from screening.quantities import to_si
from screening.report.contact.contact_text import (
    SOAK_TEST_TOPICS,
    contact_document,
    contact_sheet,
    soak_test_rows,
)


def test_sheet_tells_outcome_evidence_and_cautions():
    sheet = contact_sheet([assess_contact("abs", "n-butyl acetate", exposure=e) for e in EXPOSURES])
    assert "Soak, 23 °C: DISSOLVES (published" in sheet
    assert "no flame" in sheet
    assert "gloves" in sheet
    assert "Rests on" in sheet


def test_sheet_of_the_unknown():
    sheet = contact_sheet([assess_contact("pi", "diethyl carbonate")])
    assert "UNKNOWN" in sheet
    assert "test it" in sheet


def test_document_is_plain_json():
    document = contact_document(assess_contact("abs", "n-butyl acetate"))
    text = json.dumps(document, allow_nan=False)
    assert '"volume_swell": null' in text
    assert document["dissolves"]


def test_cautions_come_from_the_table():
    assert {row.subject for row in soak_test_rows()} == set(SOAK_TEST_TOPICS)


def test_ranges_carry_the_unit_of_the_value_beside_them():
    document = contact_document(assess_contact("abs", "ethanol"))
    low, high = document["ranges"]["softened_transition_C"]
    assert low <= document["softened_transition_C"] <= high < 105.5  # dry ABS: 105 degC in the table
    assert "softened_transition" not in document["ranges"]


def test_the_story_is_in_plain_words():
    running = assess_contact("abs", "ethanol", exposure="running")
    cold = assess_contact("abs", "ethanol", exposure="cold start")
    told = contact_sheet([cold, running])
    assert "activity" not in told
    assert "hardly moves its glass transition" in " ".join(map(str, running.reasons))
    assert "lowers its glass transition from 105 °C to about" in " ".join(map(str, cold.reasons))
    assert " µm deep" in " ".join(map(str, cold.reasons))
    assert " um " not in told
    assert max(map(len, told.splitlines())) <= 100


@pytest.mark.parametrize("celsius", [-200.0, -30.1, 200.1, 900.0, float("nan")])
def test_a_soak_has_the_temperatures_of_a_soak_test(celsius: float):
    with pytest.raises(OutOfRange, match=r"must be -30 to 200 °C"):
        assess_contact("abs", "ethanol", celsius + 273.15)


@pytest.mark.parametrize("celsius", [-30.0, 200.0])
def test_the_ends_of_the_soak_are_allowed(celsius: float):
    assert assess_contact("abs", "ethanol", to_si(celsius, "degC")).outcome


def test_a_metal_is_unknown_and_has_no_distance():
    sheet = contact_sheet([assess_contact("steel", "ethanol")])
    assert sheet.startswith("steel and ethanol\n")
    assert "UNKNOWN\n" in sheet
    assert "RED" not in sheet
