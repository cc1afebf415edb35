"""The sheet and the document of a contact."""

from __future__ import annotations

import json

from screening.judgement.contact import EXPOSURES, assess_contact
from screening.judgement.fuel_system import fuel_system_advice
from screening.report.contact_text import (
    SOAK_TEST_TOPICS,
    contact_document,
    contact_sheet,
    fuel_system_sheet,
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


def test_fuel_system_sheet():
    sheet = fuel_system_sheet(fuel_system_advice("acetone"), "acetone")
    assert "Seal:" in sheet
    assert "fit instead" in sheet
