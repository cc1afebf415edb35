"""The shared page: whole, self-contained, readable in both themes and at any width, and deaf to hostile text."""

from __future__ import annotations

import base64
import json
import re
from html.parser import HTMLParser

import pytest
from contrast import contrast

from screening import load_case, report_html, report_json, screen
from screening.judgement.choice.screening import Screening
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.package import data_digest
from screening.report.parts.page_style import page_style
from screening.report.shortlist.case_rows import case_rows
from screening.sentences import worded

HOSTILE = '<script>alert("x")</script>'
PICTURE = "<img src=x onerror=alert(1)>"
SOME = ("abs", "peek", "pp", "pa12", "petg", "ppa_cf")
VOID = {"meta", "br", "hr", "img", "input", "link"}
WORDLESS = {"script", "iframe", "object", "embed", "form", "link", "img", "base"}


class Page(HTMLParser):
    """What a browser would make of the page: text, tags, attributes, and whether each tag is closed in turn."""

    def __init__(self, text: str):
        super().__init__()
        self.text_of = text
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        """The words with plain spaces and without the marks of where they may be parted."""
        return " ".join(self.words).replace("\N{NO-BREAK SPACE}", " ").replace("\N{SOFT HYPHEN}", "")

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("metal_cap_blend"), 64, materials=SOME)


@pytest.fixture(scope="module")
def page(result: Screening) -> Page:
    return Page(report_html(result))


@pytest.fixture(scope="module")
def hostile() -> Screening:
    document = load_case("cyclopentanone_blend").to_dict() | {
        "title": HOSTILE,
        "notes": f"{PICTURE} & so on",
        "fuel": {
            "name": HOSTILE,
            "formula": "C5H8O",
            "density_kg_m3": 950,
            "lower_heating_value_MJ_kg": 34,
            "latent_heat_kJ_kg": 500,
            "hansen": [17.9, 11.9, 5.2],
        },
        "own_materials": [{"id": "mine", "name": PICTURE, "based_on": "abs", "values": {"density": 1050}}],
        "soak_tests": [{"material": "abs", "fluid": "ethanol", "outcome": "slight", "note": f'">{HOSTILE}'}],
    }
    return screen(load_case(document), 16, materials=("mine", "peek"))


def test_tags_balance(page: Page) -> None:
    assert page.open == []
    assert len(page.tags) > 500


def test_a_tag_left_open_would_be_seen() -> None:
    with pytest.raises(AssertionError):
        Page("<p><b>words</p>")


def test_needs_nothing_from_elsewhere_and_runs_nothing(page: Page, hostile: Screening) -> None:
    for found in (page, Page(report_html(hostile))):
        assert not {tag for tag, _ in found.tags} & WORDLESS
        for _, attributes in found.tags:
            assert not any(name.startswith("on") or name in ("src", "srcset", "style") for name in attributes)
            assert (attributes.get("href") or "#").startswith(("#", "data:application/json;base64,"))
    assert "url(" not in page_style()
    assert "@import" not in page_style()
    policies = [m["content"] for m in page.all("meta") if m.get("http-equiv") == "Content-Security-Policy"]
    assert policies == ["default-src 'none'; style-src 'unsafe-inline'"]


def test_hostile_text_is_shown_as_it_was_written(hostile: Screening) -> None:
    text = report_html(hostile)
    assert HOSTILE not in text
    assert PICTURE not in text
    found = Page(text)
    assert found.open == []
    assert found.text.count(HOSTILE) >= 4  # title twice, fuel, note
    assert f"{PICTURE} & so on" in found.text
    assert json.loads(report_json(hostile))["case"]["title"] == HOSTILE


def test_every_story_is_told_with_all_its_reasons(page: Page, result: Screening) -> None:
    for story in (*result.stories.values(), result.baseline):
        assert story.reasons
        for reason in story.reasons:
            assert worded(reason) in page.text
    for story in result.stories.values():
        assert story.material.name in page.text
    for text in (*result.cautions, result.headline, result.stop_rule):
        assert text in page.text
    opened = [attributes for attributes in page.all("details") if "open" in attributes]
    assert len(opened) == 3


def test_a_material_of_which_nothing_can_be_said_is_told_too(
    result: Screening, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("screening.judgement.choice.one_material.missing_values", lambda material: ("density",))
    bare = screen(load_case("metal_cap_blend"), 10, materials=("abs", "peek"))
    assert all(story.standing is None for story in bare.stories.values())
    text = Page(report_html(bare)).text
    assert "no published density was found" in text
    assert "nothing to run" in text


def test_says_what_it_rests_on(page: Page, result: Screening) -> None:
    assert f"{result.draws} draws, seed {result.seed}" in page.text
    assert result.case.digest in page.text
    assert data_digest() in page.text
    for assumption in result.assumptions:
        assert assumption.meaning in page.text
    assert load_assumptions()["speed"].meaning not in page.text, "the case gives it"
    assert "from memory" in page.text
    packed = next(a["href"] for a in page.all("a") if a.get("download"))
    assert packed is not None
    assert json.loads(base64.b64decode(packed.split(",")[1])) == result.case.to_dict()


def test_inputs_are_told_as_given_and_as_counted(page: Page) -> None:
    for words in ("3,000 rpm", "aluminium 6 mm", "left open", "the bundled log cyclopentanone_blend_log", "96"):
        assert words in page.text


MINIMAL = {"format": "polymer-piston-case", "version": 1, "fuel": "petrol E0"}
CASES = {
    "three inputs": {"engine": {"displacement_cc": 98}, "head": {"reading_C": 60}},
    "throttle and thick crown": {
        "engine": {"displacement_cc": 98},
        "head": {"reading_C": 110, "surface": "matt_black_paint"},
        "operation": {"throttle": 0.3, "target_run_s": 7200, "crankcase_film_W_m2K": 60},
        "piston": {"crown_thickness_mm": 15, "solid_share": 0.9},
    },
    "coating, log and probe": {
        "engine": {"bore_mm": 40, "stroke_mm": 32},
        "head": {"log": "time_s,temperature_C\n" + "\n".join(f"{30 * i},{90 - 70 * 0.8**i:.1f}" for i in range(31))},
        "piston": {"build": "coated crown", "crown_layers": [{"material": "steel", "thickness_mm": 0.3}]},
        "probe": {"kind": "melted witness", "temperature_C": 180, "time_s": 30},
    },
}


@pytest.mark.parametrize("name", CASES)
def test_any_case_makes_a_whole_page(name: str) -> None:
    result = screen(load_case(MINIMAL | CASES[name]), 10, materials=("abs", "peek"))
    found = Page(report_html(result))
    assert found.open == []
    assert len([a for a in found.all("svg") if a.get("role") == "img"]) == 3
    assert "nan" not in re.findall(r"\w+", found.text.lower())
    assert "inf" not in re.findall(r"\w+", found.text.lower())
    rows = {label: (given, counted) for label, given, counted in case_rows(result.case, result.conditions)}
    if name == "three inputs":
        assert rows["swept volume of the cylinder"] == ("98 cm³", "as given")
        assert rows["cylinder bore"][0] == "left open"
        low, high = (float(v) for v in re.findall(r"[\d.]+", rows["cylinder bore"][1])[:2])
        assert 40 < low < high < 65
        assert re.fullmatch(r"2,\d+ to 3,\d+ rpm, median 3,0\d\d", rows["crankshaft speed during the run"][1])
        assert "share of a full charge breathed" in rows
    if name == "throttle and thick crown":
        assert rows["heat transfer coefficient under the crown"] == ("60 W/(m² K)", "as given")
        assert rows["how long the piston should last"] == ("7,200 s", "as given")
    if name == "coating, log and probe":
        assert rows["layers on the gas side of the polymer, from the gas inwards"][0] == "steel 0.3 mm"
        assert rows["the run log"][0] == "a log of 32 lines, in the case file"
        assert rows["probe in a crown"][0] == "kind melted witness; temperature 180 °C; time 30 s"


def test_drawings_are_told_in_words_and_numbers(page: Page) -> None:
    drawings = [a for a in page.all("svg") if a.get("role") == "img"]
    assert len(drawings) == 3
    ids = {attributes["id"] for _, attributes in page.tags if "id" in attributes}
    for drawing in drawings:
        assert set((drawing["aria-labelledby"] or "").split()) <= ids
    assert len(page.all("desc")) == 3
    assert len(ids) == len([1 for _, attributes in page.tags if "id" in attributes])


def test_nothing_is_wider_than_its_place(page: Page) -> None:
    style = page_style()
    for word in ("overflow-x", "overflow: auto", "nowrap", "min-width:"):
        assert word not in style
    assert not re.search(r"[{;\s]width:\s*\d+(?:\.\d+)?(?:px|rem|em|ch|vw|mm)", style.replace("width: 1px", ""))
    for tag, attributes in page.tags:
        width = attributes.get("width")
        assert width is None or width.endswith("%"), tag


def test_the_parts_a_narrow_screen_stacks_are_labelled(page: Page) -> None:
    stacked = page.text_of.split('<table class="stacked"')[1:]
    found = [Page("<table" + part.split("</table>")[0] + "</table>") for part in stacked]
    labels = [a.get("data-label") for table in found for a in table.all("td")]
    assert labels
    assert None not in labels
    for table in found:
        roles = {tag: {a.get("role") for a in table.all(tag)} for tag in ("table", "tr", "td", "tbody")}
        assert roles == {"table": {"table"}, "tr": {"row"}, "td": {"cell"}, "tbody": {"rowgroup"}}


def theme(dark: bool) -> dict[str, str]:
    light, night = re.findall(r":root \{(.*?)\}", page_style(), re.S)[:2]
    found = dict(re.findall(r"--(\w+): (#\w{6})", light))
    return found | (dict(re.findall(r"--(\w+): (#\w{6})", night)) if dark else {})


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("name", ["ink", "quiet", "link"])
def test_letters_can_be_read_in_both_themes(name: str, dark: bool) -> None:
    """WCAG 2.1, 1.4.3: 4.5:1 for text."""
    colours = theme(dark)
    for ground in ("paper", "soft"):
        assert contrast(colours[name], colours[ground]) >= 4.5


def test_paper_gets_all_parts_on_white() -> None:
    style = page_style()
    assert "@media screen { details:not([open]) + .fold { display: none; } }" in style, "hidden on a screen alone"
    assert style.count("display: none") == 3, "that, the head of stacked tables, and on paper what is of no use there"
    assert "@media screen and (prefers-color-scheme: dark)" in style
    assert style.count("prefers-color-scheme") == 1


def test_verdict_is_symbol_and_word_in_the_colour_of_its_row(result: Screening) -> None:
    cells = re.findall(r'<span class="(lasts|short|gamble|fails|unknown)">([^<]*)<', report_html(result))
    rows = [" ".join(cell).replace("\N{NO-BREAK SPACE}", " ") for cell in cells]

    shown = {
        "lasts": "lasts ● lasts",
        "short run only": "short ◐ short run only",
        "fails": "fails ○ fails",
        "gamble": "gamble ◔ gamble",
    }
    for row, story in zip(rows, result.stories.values(), strict=True):
        assert story.standing is not None
        assert row == shown[story.standing.verdict]
    assert len({story.standing.verdict for story in result.stories.values() if story.standing}) > 1
