"""The house stays as it is drawn: imports flow one way, files and functions stay short, nothing is loose at the top."""

from __future__ import annotations

import ast
import graphlib
import hashlib
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ALLOWED = {"README.md", "DEVELOPERS.md", "requirements.txt", "app", "screening", "materials_data", "tests"}
# Each folder may import the folders before it, never one after it or one that stands beside it in a row; imports inside
# functions and for types count like any other.
LEVELS = (
    ("screening.arrays", "screening.errors", "screening.quantities", "screening.stoichiometry", "screening.version", "screening.demo_cases"),
    ("screening.words", "screening.sentences"),
    ("screening.records.tables", "screening.physics.curves"),
    ("screening.records.materials", "screening.records.run_log", "screening.records.liquids"),
    ("screening.records.hazards",),
    ("screening.physics.head", "screening.physics.cylinder", "screening.physics.crown", "screening.physics.strength",
     "screening.physics.contact"),
    ("screening.physics.skirt",),
    ("screening.judgement.head",),
    ("screening.judgement.case",),
    ("screening.judgement.draws",),
    ("screening.judgement.cylinder",),
    ("screening.judgement.contact",),
    ("screening.judgement.piston",),
    ("screening.judgement.choice",),
    ("screening.report.parts",),
    ("screening.report.contact", "screening.report.fuel", "screening.report.head", "screening.report.materials"),
    ("screening.report.shortlist",),
    ("screening",),
    ("app.session", "app.inputs", "app.shown"),
    ("app.app_pages",),
    ("app",),
)  # fmt: skip
MAY_NOT_IMPORT = {
    "screening": ("streamlit", "app"),
    "screening/physics": ("screening.records", "screening.judgement", "screening.words"),
    "screening/records": ("screening.physics",),
    "app": ("screening.physics",),
}
LONGEST_FILE, LONGEST_FUNCTION = 350, 80
VAGUE = {"utils", "util", "common", "helpers", "helper", "core", "base", "manager", "misc"}
# makers' names of polymers, as the first ten hexadecimal digits of the SHA-256 of the small letters: so none stands here
TRADE_NAMES = frozenset(
    [
        "d461d041b2",
        "43a61c4053",
        "209d0066e7",
        "608821bcab",
        "4d292543f3",
        "e360ee4319",
        "d72f51b2ee",
        "71ffac2d9e",
        "14076a945f",
        "554bc016fd",
        "75097323c1",
        "29b82fa2df",
        "4fd94af791",
        "0882b1dd26",
        "4a781ad26b",
        "69050508f7",
        "b15041d9dd",
        "9bdefba4d3",
        "3eb20d54f2",
        "27f7094015",
        "483a6243db",
        "f937cee811",
        "13e68b360a",
        "124bafca05",
        "dfcfe3c89d",
        "ec01b5d50a",
    ]
)


def tracked() -> list[Path]:
    """Return what the repository holds, or would if everything were added."""
    listed = subprocess.run(
        ["git", "-C", str(ROOT), "ls-files", "-co", "--exclude-standard"], capture_output=True, text=True, check=True
    ).stdout
    return [ROOT / line for line in listed.splitlines() if (ROOT / line).is_file()]


FILES = tracked()
SOURCES = [path for path in FILES if path.suffix == ".py"]
TREES = {path: ast.parse(path.read_text("utf-8")) for path in SOURCES}


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imported(path: Path) -> Iterator[str]:
    """Yield the names that a file imports, wherever in the file, as dotted paths."""
    package = name_of(path).rsplit("/", 1)[0].replace("/", ".")
    for node in ast.walk(TREES[path]):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package.rsplit(".", node.level - 1)[0] + "." if node.level else ""
            yield from (f"{above}{node.module or ''}.{alias.name}" for alias in node.names)


def folder_of(dotted: str) -> str:
    """Return the most exact folder or module of LEVELS that a dotted path lies in, or nothing."""
    homes = [home for level in LEVELS for home in level if f"{dotted}.".startswith(f"{home}.")]
    return max(homes, key=len, default="")


LEVEL_OF = {home: number for number, level in enumerate(LEVELS) for home in level}
ARROWS = sorted(
    {
        (folder_of(name_of(path).removesuffix(".py").replace("/", ".")), folder_of(name), name_of(path))
        for path in SOURCES
        if name_of(path).startswith(("screening/", "app/"))
        for name in imported(path)
    }
)


def test_imports_flow_one_way() -> None:
    """No folder imports one that stands after it or beside it; within a row the app's three may, see below."""
    beside = {"app.session", "app.inputs", "app.shown"}
    wrong = [
        f"{file}: {start} imports {end}"
        for start, end, file in ARROWS
        if start and end and start != end and LEVEL_OF[end] >= LEVEL_OF[start] and not {start, end} <= beside
    ]
    assert wrong == []


def test_files_do_not_import_in_circles() -> None:
    imports: dict[str, set[str]] = {}
    modules = {name_of(path).removesuffix(".py").removesuffix("/__init__").replace("/", "."): path for path in SOURCES}
    for module, path in modules.items():
        if module.startswith(("screening", "app")):
            named = {name if name in modules else name.rsplit(".", 1)[0] for name in imported(path)}
            imports[module] = {name for name in named & set(modules) if name not in (module, "screening")}
    list(graphlib.TopologicalSorter(imports).static_order())  # raises CycleError, which names the circle


@pytest.mark.parametrize(("folder", "banned"), MAY_NOT_IMPORT.items())
def test_layers_know_nothing_of_what_builds_on_them(folder: str, banned: tuple[str, ...]) -> None:
    inside = [path for path in SOURCES if name_of(path).startswith(f"{folder}/")]
    wrong = [
        f"{name_of(path)} imports {name}"
        for path in inside
        for name in imported(path)
        if any(f"{name}.".startswith(f"{b}.") for b in banned)
    ]
    assert inside
    assert wrong == []


def test_no_star_imports_and_no_bare_except() -> None:
    wrong = []
    for path, tree in TREES.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names):
                wrong.append(f"{name_of(path)}:{node.lineno} star import")
            if isinstance(node, ast.ExceptHandler) and node.type is None:
                wrong.append(f"{name_of(path)}:{node.lineno} bare except")
    assert wrong == []


def test_files_and_functions_stay_short() -> None:
    """So that a reader has one question before them at a time; a test file that answers several hides what is not asked."""
    wrong = set()
    for path, tree in TREES.items():
        if path.read_text("utf-8").count("\n") > LONGEST_FILE:
            wrong.add(name_of(path))
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                length = (node.end_lineno or node.lineno) - node.lineno + 1
                if length > LONGEST_FUNCTION:
                    wrong.add(f"{name_of(path)} {node.name}")
    assert wrong == set()


def test_public_functions_say_what_they_do() -> None:
    wrong = {
        f"{name_of(path)} {getattr(node, 'name', 'module')}"
        for path, tree in TREES.items()
        if name_of(path).startswith("screening/") and path.stat().st_size
        for node in [tree, *tree.body]
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef)
        and not getattr(node, "name", "").startswith("_")
        and not ast.get_docstring(node)
    }
    assert wrong == set()


def test_top_level_holds_what_is_agreed() -> None:
    top = {name_of(path).split("/")[0] for path in FILES}
    assert {name for name in top if not name.startswith(".")} <= ALLOWED


def test_names_say_what_is_inside() -> None:
    assert [name_of(path) for path in SOURCES if path.stem in VAGUE] == []


def test_test_files_have_names_of_their_own() -> None:
    names = [path.name for path in SOURCES if path.name.startswith("test_")]
    assert sorted({name for name in names if names.count(name) > 1}) == []


def test_no_trade_names() -> None:
    wrong = []
    for path in FILES:
        try:
            words = set(re.findall(r"[a-z]+", path.read_text("utf-8").lower()))
        except UnicodeDecodeError:  # a picture
            continue
        hits = sorted(w for w in words if hashlib.sha256(w.encode()).hexdigest()[:10] in TRADE_NAMES)
        wrong += [f"{name_of(path)}: {hits}"] if hits else []
    assert wrong == []


def test_every_folder_has_its_place_in_the_order() -> None:
    homes = {name_of(path).rsplit("/", 1)[0].replace("/", ".") for path in SOURCES if path.stat().st_size}
    there = {home for home in homes if home.startswith(("screening.", "app."))}
    assert there - set(LEVEL_OF) == set()


def test_the_checks_can_fail() -> None:
    assert len(TRADE_NAMES) == 26
    assert len(SOURCES) > 100
    assert "screening.errors.OutOfRange" in set(imported(ROOT / "screening/physics/head/thermometry.py"))
    assert ("screening.judgement.piston", "screening.physics.strength") in {arrow[:2] for arrow in ARROWS}
    assert folder_of("screening.physics.head.thermometry.read_gun") == "screening.physics.head"
