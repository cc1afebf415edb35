"""The shortlist in a terminal and in a spreadsheet."""

from __future__ import annotations

import csv
import io

import pytest

from screening import load_case, screen
from screening.judgement.choice.screening import Screening
from screening.report.parts.spreadsheet import neutralised
from screening.report.shortlist.shortlist_text import shortlist_csv, shortlist_text
from screening.sentences import worded
from screening.version import VERSION

SOME = ("abs", "peek", "peek_amorphous", "pla_annealed", "ppa_cf")


@pytest.fixture(scope="module", params=["cyclopentanone_blend", "metal_cap_blend"])
def result(request: pytest.FixtureRequest) -> Screening:
    return screen(load_case(request.param), 64, materials=SOME)


def test_fits_a_hundred_letters(result: Screening) -> None:
    lines = shortlist_text(result).splitlines()
    assert max(len(line) for line in lines) <= 100
    assert max(len(line) for line in lines) > 90


def test_holds_answer_ranking_reasons_and_what_it_rests_on(result: Screening) -> None:
    text = " ".join(shortlist_text(result).split())
    assert " ".join(result.headline.split()) in text
    assert result.stop_rule in text
    best = next(iter(result.stories.values()))
    assert best.fit is not None
    assert all(" ".join(sentence.split()) in text.replace(" - ", " ") for sentence in best.fit.sentences)
    for id in SOME:
        assert text.count(f" {id} ") >= 2
    for story in list(result.stories.values())[:3]:
        for reason in story.reasons:
            assert worded(reason) in text
    assert f"Version {VERSION}, 64 draws, seed 0; case {result.case.digest[:16]}" in text


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_formulas_are_neutralised(start: str) -> None:
    assert neutralised(f"{start}1+1") == f"'{start}1+1"


def test_other_cells_stay_as_they_are() -> None:
    assert neutralised("plain") == "plain"
    assert neutralised(-3.5) == -3.5
    assert neutralised("") == ""


def test_csv_reads_back_with_a_hostile_name_as_text() -> None:
    own = {"id": "mine", "name": '=HYPERLINK("x"),"y"', "based_on": "abs", "values": {"density": 1050}}
    case = load_case(load_case("metal_cap_blend").to_dict() | {"own_materials": [own]})
    result = screen(case, 10, materials=("mine", "peek"))
    rows = list(csv.DictReader(io.StringIO(shortlist_csv(result))))
    assert {row["material"] for row in rows} == {"mine", "peek"}
    names = {row["material"]: row["name"] for row in rows}
    assert names["mine"] == "'" + own["name"]
    assert not any(str(cell).startswith(("=", "+", "@")) for row in rows for cell in row.values())
