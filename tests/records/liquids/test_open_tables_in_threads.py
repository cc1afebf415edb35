"""The open package's tables can be used by many threads once they have been read."""

from __future__ import annotations

import subprocess
import sys

import pytest

from screening import load_case
from screening.judgement.choice import screening

# a fresh process, since the tables of this one are read already
MANY = """
import sys
from concurrent.futures import ThreadPoolExecutor
sys.setswitchinterval(1e-6)
from screening.records.liquids import open_tables
open_tables.read_all_tables()
from chemicals import Tm, phase_change, reaction, safety, solubility, miscdata
assert phase_change.Tm_sources and phase_change._phase_change_corrs_loaded and reaction._reaction_data_loaded
assert safety._safety_data_loaded and solubility._solubility_data_loaded and miscdata._miscdata_loaded
with ThreadPoolExecutor(8) as pool:
    found = list(pool.map(Tm, ["64-17-5", "67-56-1", "67-64-1", "108-88-3"] * 4))
assert all(found)
"""


def test_all_tables_are_there_before_threads_start() -> None:
    done = subprocess.run([sys.executable, "-c", MANY], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-1500:]


def test_a_screening_reads_them_before_its_threads_start(monkeypatch: pytest.MonkeyPatch) -> None:
    class Started(Exception):
        pass

    def pool(*_: object) -> None:
        raise Started

    read: list[bool] = []
    monkeypatch.setattr(screening, "read_all_tables", lambda: read.append(True))
    monkeypatch.setattr(screening, "ThreadPoolExecutor", pool)
    with pytest.raises(Started):
        screening.screen(load_case("petrol_baseline"), 10)
    assert read
