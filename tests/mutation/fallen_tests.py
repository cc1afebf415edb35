"""For pytest: writes one line a test, its node id without parameters and the exception by which it fell (or nothing)."""

from __future__ import annotations

import os
from collections.abc import Generator
from pathlib import Path

import pytest


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Write down what became of a test that was called, and of one that fell before it was."""
    report = yield
    if report.when == "call" or report.failed:
        fell_by = call.excinfo.typename if report.failed and call.excinfo else ""
        place = Path(item.path).relative_to(Path.cwd()).as_posix()
        inside = item.nodeid.split("::", 1)[1].split("[")[0]
        with Path(os.environ["FALLEN_TESTS"]).open("a", encoding="utf-8") as out:
            out.write(f"{place}::{inside}\t{fell_by}\n")
    return report
