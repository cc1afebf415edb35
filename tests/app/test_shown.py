"""What is shown: the ranking as a table with all text escaped, texts in the chosen unit, markup taken as text."""

from __future__ import annotations

from dataclasses import replace
from html.parser import HTMLParser

import numpy as np
import pytest

from app.shown import prose, story_tables, tables
from screening import Screening, load_case, screen
from screening.report.shortlist.shortlist_cells import shown_cells, verdict_of
from screening.report.shortlist.shortlist_table import shortlist_table


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("cyclopentanone_blend"), 20, materials=["abs", "pei", "pa66"])


class Cells(HTMLParser):
    """The rows of a table as texts, without the marks of where they may be parted, and the tags met."""

    def __init__(self, html: str):
        super().__init__()
        self.rows: list[list[str]] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(str(html))  # plain text: what a browser is sent

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.rows[-1].append("")

    def handle_data(self, data: str) -> None:
        if self.rows and self.rows[-1]:
            self.rows[-1][-1] += data.replace("\N{SOFT HYPHEN}", "").replace("\N{NO-BREAK SPACE}", " ")


def test_the_ranking_has_every_column_in_the_order_of_the_ranks(result: Screening) -> None:
    table = Cells(shortlist_table(result))
    rows = [row for row in table.rows[1:] if len(row) > 1]
    stories = list(result.stories.values())
    assert [row[1].startswith(s.material.name) for row, s in zip(rows, stories, strict=True)] == [True] * 3
    assert table.rows[0][:3] == ["rank", "material", "verdict"]
    for row, story in zip(rows, stories, strict=True):
        assert len(row) == len(shown_cells(story, result.horizon)) == len(table.rows[0])
        assert row[2].removesuffix(", on the line").endswith(verdict_of(story))
        assert len(row[2]) > len(verdict_of(story)) + 1  # a symbol stands before the word


def test_headings_have_their_scope(result: Screening) -> None:
    table = Cells(shortlist_table(result))
    scopes = [attrs.get("scope") for tag, attrs in table.tags if tag == "th"]
    assert set(scopes) == {"col", "row", "rowgroup"}


def test_what_cannot_be_printed_stands_under_its_own_heading(result: Screening) -> None:
    rows = [row[0] if len(row) == 1 else row[1] for row in Cells(shortlist_table(result)).rows]
    place = rows.index("This printer cannot print these")
    assert rows[place + 1].startswith("polyetherimide")


@pytest.mark.parametrize("name", ["<img src=x onerror=alert(1)>", "</table><script>x</script>", '"><b>'])
def test_names_are_escaped(result: Screening, name: str) -> None:
    story = result.material("abs")
    changed = {"abs": replace(story, material=replace(story.material, name=name))}
    table = Cells(shortlist_table(replace(result, stories=changed)))
    assert {"img", "script", "b"}.isdisjoint(tag for tag, _ in table.tags)
    assert any(cell.startswith(name) for row in table.rows for cell in row)
    assert {"img", "script", "b"}.isdisjoint(tag for tag, _ in Cells(tables.rows_html([{"a": name, name: name}])).tags)


@pytest.mark.parametrize(
    "typed",
    ["![x](http://a.b/c.png)", "<b>bold</b>", "*a* _b_ `c` $d$", ":red[x] :smile:", "# head", "a ~~b~~", "[l](u)"],
)
def test_markup_is_taken_as_text(typed: str) -> None:
    plain = prose.plain(typed)
    bare = plain.replace("\\", "")
    assert bare == typed
    for sign in "*`[<$~":
        assert plain.count(sign) == plain.count("\\" + sign)
    assert "http://" not in plain


def test_ordinary_sentences_stay_as_they_are() -> None:
    for sentence in ("fuel: unknown fuel 'etanol'; nearest known: ethanol", "piston.crown_thickness_mm: got 5 mm"):
        assert prose.plain(sentence) == sentence


def test_mechanisms_stand_soonest_first(result: Screening) -> None:
    rows = story_tables.mechanism_rows(result.material("abs"), result.horizon)
    assert len(rows) == len(result.material("abs").times)
    medians = [
        np.quantile(result.material("abs").times[row["what ends it"]], 0.5, method="inverted_cdf") for row in rows
    ]
    assert medians == sorted(medians)
