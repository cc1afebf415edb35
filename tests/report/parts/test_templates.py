"""Templates escape every text, word every sentence in the units chosen, and refuse a name that is not given."""

from __future__ import annotations

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from screening.report.parts.table import Column, Group, Table, row_table, table
from screening.report.parts.templates import page_part
from screening.sentences import Temperature, Units, sentence

HOSTILE = '"><script>alert(1)</script>'


def test_text_is_escaped_in_every_place_of_a_table() -> None:
    columns = [Column(HOSTILE, kind=HOSTILE, names_row=True), Column(HOSTILE, kind=HOSTILE)]
    hostile = Table(HOSTILE, columns, [Group([(HOSTILE, HOSTILE)], HOSTILE)], HOSTILE)
    assert "<script>" not in hostile.html()
    assert hostile.html().count("&lt;script&gt;") == 12, "each place of the four cells, heading, caption and classes"
    assert "<b>" in table("", ("a",), [(Markup("<b>x</b>"),)]).html()


def test_sentences_are_worded_in_the_units_chosen() -> None:
    """100 °C is 212 °F, by definition of the scales."""
    text = sentence("At {at} the outside of <it> boils.", at=Temperature(373.15))
    assert "At 100 °C the outside of &lt;it&gt; boils." in page_part("parts/list.html", texts=[text])
    fahrenheit = Units("°F")
    assert "At 212 °F the outside of &lt;it&gt; boils." in page_part("parts/list.html", fahrenheit, texts=[text])
    assert "At 212 °F" in row_table("", [{"name": "x", "where": text}]).html(fahrenheit)


def test_what_is_not_given_is_an_error() -> None:
    with pytest.raises(UndefinedError, match="texts"):
        page_part("parts/list.html")


def test_a_long_name_may_be_parted_and_a_short_cell_is_not() -> None:
    html = table(
        "", ("material", "lasts"), [("polyetherimide with fibre", "over 1 h"), ("polyamide 6", "a little longer")]
    )
    assert "poly\N{SOFT HYPHEN}etherimide with fibre" in html.html()
    assert ">polyamide 6<" in html.html()
    assert ">over\N{NO-BREAK SPACE}1\N{NO-BREAK SPACE}h<" in html.html()
    assert ">a little longer<" in html.html()
