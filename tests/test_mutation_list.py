"""The lists of planted faults fit the tree: every snippet stands exactly once in its file, every named test exists.

Whether the tests fall is tried on demand: `python tests/mutation/plant_faults.py`.
"""

from __future__ import annotations

import ast

import pytest
from mutation.plant_faults import ROOT, Fault, faults

FAULTS = faults()
FEWEST = 220
"""The lists do not get shorter unnoticed."""


def test_no_fault_is_lost_and_each_has_a_name_of_its_own() -> None:
    assert len(FAULTS) >= FEWEST
    assert len({fault.name for fault in FAULTS}) == len(FAULTS)
    assert [fault.name for fault in FAULTS if not fault.why] == []


@pytest.mark.parametrize("fault", FAULTS, ids=[fault.name for fault in FAULTS])
def test_fault_can_be_planted(fault: Fault) -> None:
    assert fault.stands_wrong() == ""
    assert fault.file.startswith(("screening/", "app/")), "the fault is in the program, not in a test"
    if fault.file.endswith(".py"):
        compile(fault.planted((ROOT / fault.file).read_text("utf-8")), fault.file, "exec")


@pytest.mark.parametrize("fault", FAULTS, ids=[fault.name for fault in FAULTS])
def test_named_test_exists(fault: Fault) -> None:
    file, _, name = fault.test.split("[")[0].partition("::")
    tests = {node.name for node in ast.walk(ast.parse((ROOT / file).read_text("utf-8"))) if hasattr(node, "name")}
    assert name in tests
