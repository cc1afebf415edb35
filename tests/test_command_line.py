"""The command line: readable text, JSON that parses, one sentence and exit code 2 for a wrong input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from screening.__main__ import main

LOG = str(Path(__file__).parents[1] / "screening" / "demo_cases" / "petrol_baseline_log.csv")
GOOD = (
    ["gun", "65", "--surface", "bare_cast_aluminium"],
    ["log", LOG],
    ["fuel", "ethanol 70, cyclopentanone 30"],
    ["materials"],
    ["materials", "peek"],
    ["contact", "abs", "ethyl acetate"],
)
BAD = (
    (["fuel", "etanol"], "nearest known: ethanol"),
    (["gun", "65", "--surface", "bare_aluminium"], "nearest known"),
    (["gun", "-300", "--surface", "soot"], "must be -60 to 1500"),
    (["log", "no_such_file.csv"], "no such file"),
    (["materials", "peeek"], "nearest known: peek"),
    (["contact", "abss", "toluene"], "nearest known: abs"),
    (["rank", "no_such_case"], "no such file"),
)


@pytest.mark.parametrize("command", GOOD, ids=lambda c: c[0])
def test_prints_text_and_json(command: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(command) == 0
    assert len(capsys.readouterr().out) > 60
    assert main([*command, "--json", "-"]) == 0
    json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(("command", "said"), BAD, ids=lambda v: v[0] if isinstance(v, list) else "")
def test_wrong_input_is_one_sentence(command: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(command) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
    assert "Traceback" not in error


def test_rank_writes_all_files_or_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    names = [str(tmp_path / f"out.{kind}") for kind in ("csv", "json", "html")]
    options = [word for kind, name in zip(("--csv", "--json", "--html"), names, strict=True) for word in (kind, name)]
    assert main(["rank", "metal_cap_blend", "--draws", "16", *options]) == 0
    assert "rank" in capsys.readouterr().out
    assert json.loads(Path(names[1]).read_text("utf-8"))["draws"] == 16
    assert Path(names[2]).read_text("utf-8").startswith("<!doctype html>")
    assert main(["rank", "metal_cap_blend", "--draws", "16", "--csv", str(tmp_path / "no" / "x.csv")]) == 2
    assert sorted(p.name for p in tmp_path.iterdir()) == ["out.csv", "out.html", "out.json"]
