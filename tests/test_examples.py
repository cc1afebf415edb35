"""Every example of a public name and of a physics module is a test; every public function has one."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil

import numpy as np
import pytest

import screening

FUNCTIONS = [name for name in screening.__all__ if inspect.isfunction(getattr(screening, name))]
MODULES = sorted(
    module.name
    for module in pkgutil.walk_packages(screening.__path__, "screening.")
    if not module.ispkg and not module.name.endswith("__main__")
)


@pytest.mark.parametrize("module", MODULES)
def test_examples_give_what_they_say(module: str) -> None:
    loaded = importlib.import_module(module)
    with np.printoptions():
        found = doctest.testmod(loaded, extraglobs={"np": np})
    assert found.failed == 0


@pytest.mark.parametrize("name", FUNCTIONS)
def test_public_function_has_an_example_and_says_what_it_returns(name: str) -> None:
    told = inspect.getdoc(getattr(screening, name)) or ""
    assert ">>> " in told
    assert "Returns\n-------" in told


def test_examples_are_found() -> None:
    assert len(FUNCTIONS) >= 12
    assert len(MODULES) > 100
    assert any(len(doctest.DocTestFinder().find(importlib.import_module(module))) > 1 for module in MODULES)
