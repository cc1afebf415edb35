"""The command line: readable text, JSON that parses, one sentence and exit code 2 for a wrong input."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from screening.__main__ import main

ROOT = Path(__file__).parents[1]
LOG = str(ROOT / "screening" / "demo_cases" / "petrol_baseline_log.csv")
GOOD: tuple[tuple[list[str], str], ...] = (
    (["gun", "60", "--surface", "bare_cast_aluminium"], "The surface is at about 140 °C"),
    (["gun", "60", "--surface", "matt_black_paint", "--gun-emissivity", "1"], "The gun, set to 1, shows 60 °C."),
    (["gun", "-20", "--surface", "soot", "--surroundings-C", "-25"], "The surface is at about -20 °C"),
    (["log", LOG], "Settles at a reading of"),
    (["fuel", "ethanol 70, cyclopentanone 30"], "cyclopentanone"),
    (["fuel", "petrol E10"], "kg"),
    (["fuel", "120-92-3"], "yclopentanone"),
    (["materials"], "peek"),
    (["materials", "peek"], "glass"),
    (["contact", "abs", "ethyl acetate"], "dissolves"),
)
BAD: tuple[tuple[list[str], str], ...] = (
    (["fuel", "etanol"], "nearest known: ethanol"),
    (["fuel", "ethanol 70, cyclopentanone 20"], "90"),
    (["fuel", ""], "fuel"),
    (["gun", "65", "--surface", "bare_aluminium"], "nearest known"),
    (["gun", "-300", "--surface", "soot"], "reading: got -300 °C; must be -60 to 1500 °C"),
    (["gun", "nan", "--surface", "soot"], "reading: got nan °C"),
    (["gun", "65", "--surface", "soot", "--gun-emissivity", "0"], "gun emissivity: got 0"),
    (["gun", "65", "--surface", "soot", "--gun-emissivity", "nan"], "gun emissivity: got nan"),
    (["gun", "65", "--surface", "soot", "--surroundings-C", "inf"], "surroundings: got inf °C"),
    (["gun", "-40", "--surface", "polished_aluminium"], "no surface of that emissivity can give it"),
    (["log", "no_such_file.csv"], "no_such_file.csv: no such file"),
    (["log", str(ROOT / "tests")], "no such file"),
    (["log", str(ROOT / "README.md")], "screening log: "),
    (["materials", "peeek"], "nearest known: peek"),
    (["contact", "abss", "toluene"], "nearest known: abs"),
    (["rank", "no_such_case"], "no such file"),
)
NOT_UNDERSTOOD: tuple[tuple[list[str], str], ...] = (
    ([], "COMMAND"),
    (["gunn"], "invalid choice: 'gunn'"),
    (["gun"], "READING_C"),
    (["gun", "65"], "--surface"),
    (["gun", "warm", "--surface", "soot"], "invalid float value: 'warm'"),
    (["materials", "peek", "abs"], "unrecognized arguments: abs"),
    (["rank", "metal_cap_blend", "--draws", "3"], "got 3; must be 10 to 100000"),
)


def _named(value: object) -> str:
    return " ".join(Path(word).name for word in value) if isinstance(value, list) else ""


@pytest.mark.parametrize(("command", "said"), GOOD, ids=_named)
def test_prints_text_and_json(command: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(command) == 0
    text = capsys.readouterr()
    assert said in text.out
    assert text.err == ""
    assert main([*command, "--json", "-"]) == 0
    json.loads(capsys.readouterr().out, parse_constant=pytest.fail)


@pytest.mark.parametrize(("command", "said"), BAD, ids=_named)
def test_wrong_input_is_one_sentence(
    command: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*command, "--json", str(tmp_path / "out.json")]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert said in shown.err
    assert shown.err.count("\n") == 1
    assert "Traceback" not in shown.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("command", "said"), NOT_UNDERSTOOD, ids=_named)
def test_a_wrong_command_is_one_sentence(command: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(command)
    assert stopped.value.code == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1


@pytest.mark.parametrize("command", [command for command, _ in GOOD], ids=_named)
def test_json_file_holds_what_is_printed(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*command, "--json", str(tmp_path / "out.json")]) == 0
    assert capsys.readouterr().out
    assert main([*command, "--json", "-"]) == 0
    assert json.loads((tmp_path / "out.json").read_text("utf-8")) == json.loads(capsys.readouterr().out)


def test_a_folder_that_is_not_there_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["gun", "60", "--surface", "soot", "--json", str(tmp_path / "none" / "out.json")]) == 2
    assert "No such file or directory" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_as_a_program() -> None:
    """From the root of the project, as the readme says; a wrong input ends with 2 and no traceback."""

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "screening", *words], cwd=ROOT, capture_output=True, text=True, check=False
        )

    good = run("gun", "60", "--surface", "soot", "--json", "-")
    assert good.returncode == 0
    assert json.loads(good.stdout)["reading_C"] == 60
    bad = run("gun", "60", "--surface", "sot")
    assert (bad.returncode, bad.stdout) == (2, "")
    assert bad.stderr == "screening gun: unknown surface 'sot'; nearest known: soot\n"


def test_rank_writes_all_files_or_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    names = [str(tmp_path / f"out.{kind}") for kind in ("csv", "json", "html")]
    options = [word for kind, name in zip(("--csv", "--json", "--html"), names, strict=True) for word in (kind, name)]
    assert main(["rank", "metal_cap_blend", "--draws", "16", *options]) == 0
    assert "rank" in capsys.readouterr().out
    assert json.loads(Path(names[1]).read_text("utf-8"))["draws"] == 16
    assert Path(names[2]).read_text("utf-8").startswith("<!doctype html>")
    assert main(["rank", "metal_cap_blend", "--draws", "16", "--csv", str(tmp_path / "no" / "x.csv")]) == 2
    assert sorted(p.name for p in tmp_path.iterdir()) == ["out.csv", "out.html", "out.json"]
