"""The page, the document and the text of one material and one fuel."""

from __future__ import annotations

import json
from html.parser import HTMLParser

import numpy as np
import pytest

from screening.judgement.contact.contact_story import contact_story
from screening.report.contact.contact_page import contact_page, headline, story_document, story_sheet
from screening.report.contact.contact_rows import LEAST_PERCENT, curve_rows, exposure_rows, point_rows, sphere_rows

PAIRS = (
    ("abs", "n-butyl acetate"),
    ("nbr", "ethanol 70, cyclopentanone 30"),
    ("peek", "my liquid: dD 17.9, dP 11.9, dH 5.2, V 89"),
    ("pai", "ethanol"),
    ("aluminium", "acetone"),
    ("vmq", "methanol"),
)


class _Tags(HTMLParser):
    """Counts that every tag that is opened is closed, and collects what would be fetched."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.fetched: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.fetched += [str(value) for name, value in attrs if name in ("src", "href") and value]
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass


@pytest.mark.parametrize(("material", "fuel"), PAIRS)
def test_every_story_can_be_shown_in_each_form(material: str, fuel: str) -> None:
    story = contact_story(material, fuel)
    parser = _Tags()
    parser.feed(contact_page(story))
    assert parser.open == []
    assert parser.fetched == []
    document = json.loads(json.dumps(story_document(story), allow_nan=False))
    assert [row["exposure"] for row in document["exposures"]] == ["soak", "cold start", "running", "sump"]
    assert headline(story).startswith("In the tank")
    assert story.material_name in story_sheet(story)
    assert len(exposure_rows(story)) == 4
    assert len(sphere_rows(story)) == len(story.spheres)


def test_what_a_person_typed_is_escaped() -> None:
    page = contact_page(contact_story("abs", "<script>alert(1)</script>: dD 17.9, dP 11.9, dH 5.2, V 89"))
    assert "<script>" not in page
    assert "&lt;script&gt;" in page


def test_curve_and_its_marks_are_drawn_within_the_axes() -> None:
    story = contact_story("abs", "n-butyl acetate")
    assert story.curve is not None
    frame, marks = curve_rows(story.curve), point_rows(story.curve)
    assert (frame[["low", "median", "high"]] >= LEAST_PERCENT).all(axis=None)
    assert (frame["low"] <= frame["median"]).all()
    assert (frame["median"] <= frame["high"]).all()
    assert list(marks["exposure"]) == ["in the tank, wet cold start", "running", "in the sump"]
    assert (np.diff(frame["median"]) >= 0).all()
