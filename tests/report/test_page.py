"""The shared page and the CSV hold hostile text without harm."""

from __future__ import annotations

import json

from screening import load_case, screen
from screening.report.shortlist_text import neutralised

HOSTILE = '<script>alert("x")</script>'


def test_titles_are_escaped_and_documents_strict() -> None:
    document = load_case("metal_cap_blend").to_dict() | {"title": HOSTILE, "notes": HOSTILE}
    result = screen(load_case(document), 16, materials=("abs", "peek"))
    page = result.to_html()
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert "http://" not in page.replace("http://www.w3.org", "")
    found = json.loads(result.to_json())
    assert found["case"]["title"] == HOSTILE
    assert set(found["materials"]) == {"abs", "peek"}


def test_formulas_are_neutralised() -> None:
    assert neutralised("=1+1") == "'=1+1"
    assert neutralised("plain") == "plain"
    assert neutralised(3.5) == 3.5
