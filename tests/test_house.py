"""The house stays as it is drawn: imports flow one way, no streamlit in the library, nothing loose at the top."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
MAY_NOT = {
    "screening": ("streamlit", "app"),
    "screening/physics": ("screening.records", "screening.judgement", "screening.report"),
    "screening/records": ("screening.physics", "screening.judgement", "screening.report"),
    "screening/judgement": ("screening.report",),
    "app": ("screening.physics",),
}
ALLOWED = {"README.md", "DEVELOPERS.md", "requirements.txt", "app", "screening", "materials_data", "tests"}


def imported(path: Path) -> Iterator[tuple[str, bool]]:
    """Modules that a file imports, and whether at the top of the file."""
    tree = ast.parse(path.read_text("utf-8"))
    for node in ast.walk(tree):
        top = node in tree.body
        if isinstance(node, ast.Import):
            yield from ((alias.name, top) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or "", top


@pytest.mark.parametrize(("folder", "banned"), MAY_NOT.items())
def test_imports_flow_one_way(folder: str, banned: tuple[str, ...]) -> None:
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in (ROOT / folder).rglob("*.py")
        for name, top in imported(path)
        # a result hands itself to the report when asked to, inside the method
        if (top or folder != "screening/judgement")
        and name.startswith(banned)
        and name.split(".")[0] in {b.split(".")[0] for b in banned}
    ]
    assert not [w for w in wrong if not w.startswith("screening/__")]


def test_top_level_is_tidy() -> None:
    listed = subprocess.run(["git", "-C", str(ROOT), "ls-files"], capture_output=True, text=True, check=True).stdout
    top = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= ALLOWED
