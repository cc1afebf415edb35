"""The command line: readable text, JSON that parses, one sentence and exit code 2 for a wrong input."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from screening import __version__
from screening.__main__ import main

ROOT = Path(__file__).parents[1]
LOG = str(ROOT / "screening" / "demo_cases" / "petrol_baseline_log.csv")
IN_THE_YARD = ("--surroundings-C", "-25", "--gun-compensates-for-C", "-25")
GOOD: tuple[tuple[list[str], str], ...] = (
    (["gun", "60", "--surface", "bare_cast_aluminium"], "The surface is at about 140 °C"),
    (["gun", "60", "--surface", "matt_black_paint", "--gun-emissivity", "1"], "The gun, set to 1, shows 60 °C."),
    (["gun", "-20", "--surface", "soot", *IN_THE_YARD], "The surface is at about -20 °C"),
    (["gun", "60", "--surface", "soot", "--surroundings-C", "70"], "mirrors 70 °C; the gun takes that to be 20 °C."),
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
    (["fuel", ""], "no fuel is named; "),
    (["fuel", "zzzz"], "must be a name, a CAS number or a blend by volume"),
    (["contact", "abs", "ethanol", "--temperature-C", "900"], "got 900 °C; must be -30 to 200 °C"),
    (["contact", "abs", "ethanol", "--temperature-C", "-200"], "got -200 °C; must be -30 to 200 °C"),
    (["contact", "abs", "ethanol", "--temperature-C", "nan"], "got nan °C; must be -30 to 200 °C"),
    (["gun", "65", "--surface", "bare_aluminium"], "nearest known"),
    (["gun", "-300", "--surface", "soot"], "reading: got -300 °C; must be -60 to 1500 °C"),
    (["gun", "nan", "--surface", "soot"], "reading: got nan °C"),
    (["gun", "65", "--surface", "soot", "--gun-emissivity", "0"], "gun emissivity: got 0"),
    (["gun", "65", "--surface", "soot", "--gun-emissivity", "nan"], "gun emissivity: got nan"),
    (["gun", "65", "--surface", "soot", "--surroundings-C", "inf"], "surroundings: got inf °C"),
    (["gun", "65", "--surface", "soot", "--gun-compensates-for-C", "nan"], "what the gun compensates for: got nan °C"),
    (["gun", "-40", "--surface", "polished_aluminium"], "no surface of that emissivity can give it"),
    (["log", "no_such_file.csv"], "no_such_file.csv: no such file"),
    (["log", str(ROOT / "tests")], "is a folder; must be a text file with lines of time"),
    (["log", str(ROOT / "README.md")], "README.md: line "),
    (["log", str(ROOT / "app" / "pictures" / "shortlist.png")], "not UTF-8 text: byte 0x89 at 0; must be"),
    (["materials", "peeek"], "nearest known: peek"),
    (["contact", "abss", "toluene"], "nearest known: abs"),
    (["rank", "no_such_case"], "screening rank: no_such_case: no such file; give a case file or a demo case ("),
    (["rank", "petrol_basline"], "did you mean petrol_baseline?"),
    (["rank", ""], "screening rank: no file is named; give a case file"),
    (["rank", str(ROOT)], "is a folder; give a case file or a demo case"),
    (["rank", str(ROOT / "README.md")], "README.md: not JSON: Expecting value at line 1, column 1; a case file is one"),
    (["rank", os.devnull], "is empty; a case file is one JSON object"),
)
NOT_UNDERSTOOD: tuple[tuple[list[str], str], ...] = (
    ([], "screening: COMMAND is missing: one of rank, fuel, contact, gun, log, materials"),
    (["gunn"], "COMMAND: got 'gunn'; nearest known: gun; must be one of rank, fuel"),
    (["gun"], "screening gun: READING_C is missing: what the gun shows, degrees Celsius; --surface is missing: "),
    (["gun", "65"], "one of polished_aluminium, machined_aluminium, bare_cast_aluminium"),
    (["gun", "65", "--surface"], "--surface got no value: "),
    (["gun", "65", "--surfce", "soot"], "got '--surfce'; nearest known: --surface"),
    (["gun", "65", "--surf", "soot"], "got '--surf'; nearest known: --surface"),
    (["gun", "65", "--surface", "--json", "-"], "--surface got no value: id of the surface the gun is pointed at"),
    (["gun", "-x", "--surface", "soot"], "READING_C: got '-x'; must be a plain number"),
    (["--versoin"], "got '--versoin'; nearest known: --version"),
    (["gun", "warm", "--surface", "soot"], "READING_C: got 'warm'; must be a plain number with a point for decimals"),
    (["gun", "95,5", "--surface", "soot"], "READING_C: got '95,5'; must be a plain number"),
    (["gun", "-20C", "--surface", "soot"], "READING_C: got '-20C'; must be a plain number"),
    (["materials", "peek", "abs"], "got 'abs' beyond MATERIAL"),
    (["fuel", "ethanol", "70,", "toluene", "30"], "beyond FUEL; put a name of several words in quotes"),
    (["rank", "metal_cap_blend", "--draws", "3"], "--draws: got 3; must be a whole number, 10 to 100000"),
    (["rank", "metal_cap_blend", "--draws", "1e3"], "--draws: got '1e3'; must be a whole number, 10 to 100000"),
    (["rank", "metal_cap_blend", "--seed", "-1"], "--seed: got -1; must be a whole number, 0 to"),
    (["rank", "metal_cap_blend", "--html", ""], "--html: got ''; must be the name of a file"),
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
    for word in ("invalid", "argument", "expected one", "required"):
        assert word not in error


@pytest.mark.parametrize("command", [command for command, _ in GOOD], ids=_named)
def test_json_file_holds_what_is_printed(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*command, "--json", str(tmp_path / "out.json")]) == 0
    assert capsys.readouterr().out
    assert main([*command, "--json", "-"]) == 0
    assert json.loads((tmp_path / "out.json").read_text("utf-8")) == json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    "words",
    [
        ["gun", "-20", "--surface", "soot", "--surroundings-C", "-25"],
        ["gun", "--surroundings-C=-25", "--surface=soot", "-20"],
        ["gun", "--surface", "soot", "--surroundings-C", "-25", "--", "-20"],
    ],
)
def test_words_may_stand_in_any_order_and_begin_with_a_minus(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*words[:1], "--json", "-", *words[1:]]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["reading_C"], document["surroundings_C"], document["surface"]) == (-20, -25, "soot")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--version"], f"screening {__version__}\n"),
        (["--help"], "Rank all materials for a case file or a demo case."),
        (["gun", "--help"], "what the gun shows, degrees Celsius"),
        (["rank", "no_such_case", "-h"], "10 to 100000, default 1000"),
    ],
)
def test_help_and_version(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 0
    assert said in capsys.readouterr().out


def test_a_folder_that_is_not_there_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["gun", "60", "--surface", "soot", "--json", str(tmp_path / "none" / "out.json")]) == 2
    assert "the folder " in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_outputs_never_overwrite_an_input_or_one_another(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = tmp_path / "log.csv"
    log.write_text(Path(LOG).read_text("utf-8"), "utf-8")
    assert main(["log", str(log), "--json", str(log)]) == 2
    assert "the same file as" in capsys.readouterr().err
    assert log.read_text("utf-8") == Path(LOG).read_text("utf-8")
    out = str(tmp_path / "out")
    assert main(["rank", "metal_cap_blend", "--csv", out, "--html", out]) == 2
    assert f"--html {out}: the same file as --csv {out}" in capsys.readouterr().err
    assert main(["gun", "60", "--surface", "soot", "--json", str(tmp_path)]) == 2
    assert "is a folder; must be a file" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["log.csv"]


def test_a_wrong_case_names_its_file_and_every_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = tmp_path / "mine.json"
    document = {"format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": -3}, "colour": "red",
                "fuel": "ethanol", "head": {"reading_C": 60}}  # fmt: skip
    case.write_text(json.dumps(document), "utf-8")
    assert main(["rank", str(case)]) == 2
    error = capsys.readouterr().err
    assert error.startswith(f"screening rank: {case}: colour: unknown key; ")
    assert "; engine.displacement_cc: got -3; allowed " in error
    assert error.count("\n") == 1


def test_a_log_that_stays_cold_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "cold.csv").write_text("time_s,temperature_C\n0,20\n100,20\n200,20\n300,20\n400,20\n", "utf-8")
    assert main(["log", str(tmp_path / "cold.csv")]) == 0
    assert "hardly warmed" in capsys.readouterr().out
    assert main(["log", LOG]) == 0
    assert "hardly warmed" not in capsys.readouterr().out


def test_a_reader_that_has_seen_enough_is_no_fault() -> None:
    for words in (["materials"], ["materials", "--json", "-"], ["contact", "abs", "ethanol"]):
        program = subprocess.Popen(
            [sys.executable, "-m", "screening", *words], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == b""
        assert program.wait() == 0
        program.stderr.close()


def test_a_terminal_of_few_letters_is_enough() -> None:
    for words in (["gun", "60", "--surface", "soot"], ["gun", "60", "--surface", "soot", "--json", "-"]):
        done = subprocess.run(
            [sys.executable, "-m", "screening", *words],
            cwd=ROOT,
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
        )
        assert done.stderr == b""
        done.stdout.decode("ascii")


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
