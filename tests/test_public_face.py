"""The public names: each is there, and a type checker and an editor know what each takes."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from mypy import api

import screening

STUB = Path(screening.__file__).with_suffix(".pyi")
NAMED = {
    alias.name for node in ast.parse(STUB.read_text()).body if isinstance(node, ast.ImportFrom) for alias in node.names
}


def test_every_public_name_is_there_and_stands_in_the_stub() -> None:
    assert set(screening.__all__) == NAMED
    assert [name for name in screening.__all__ if getattr(screening, name, None) is None] == []
    assert len(NAMED) > 40


@pytest.mark.parametrize(
    ("call", "complaint"),
    [
        ("screen(load_case('petrol_baseline'), draws=20)", ""),
        ("screen(load_case('petrol_baseline'), drws=20)", 'Unexpected keyword argument "drws"'),
        ("find_fuel(12)", "incompatible type"),
        ("screen(load_case('petrol_baseline')).rankings", 'has no attribute "rankings"'),
    ],
)
def test_a_type_checker_sees_a_wrong_call(call: str, complaint: str, tmp_path: Path) -> None:
    script = tmp_path / "script.py"
    script.write_text(f"from screening import find_fuel, load_case, screen\n\n{call}\n")
    config = Path(__file__).parents[1] / ".mypy.ini"
    said, _, _ = api.run(["--config-file", str(config), "--cache-dir", str(tmp_path / "cache"), str(script)])
    assert complaint in said
    assert ("error" in said) == bool(complaint)
