"""Plant faults one at a time in a copy of the tree, and see that for each the test that means it falls.

    python tests/mutation/plant_faults.py             all of faults/*.toml
    python tests/mutation/plant_faults.py NAME ...    some of them, by name or by file (mechanisms.toml)

A fault is caught when the named test fails by one of its own assertions: an import error, or any other exception, says
nothing of the number. The checkout is never written to. Ends with 1 if a fault was not caught.
"""

from __future__ import annotations

import os
import queue
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LISTS = Path(__file__).parent / "faults"
COPIES = 2
"""Copies of the tree that are tried abreast: one a core."""
LONGEST = 300
"""Tests that take longer than so much each [s] are given up."""


@dataclass(frozen=True)
class Fault:
    """One fault: in `file` the `snippet`, which stands there once, becomes `instead`; `test` (node id) must then fall."""

    name: str
    file: str
    snippet: str
    instead: str
    test: str
    why: str
    list: str

    def planted(self, text: str) -> str:
        """Return a file's text with the fault in it."""
        return text.replace(self.snippet, self.instead)

    def stands_wrong(self, root: Path = ROOT) -> str:
        """Return why the fault cannot be planted, or nothing."""
        place = root / self.file
        if not place.is_file():
            return f"no file {self.file}"
        count = place.read_text("utf-8").count(self.snippet)
        if count != 1:
            return f"the snippet stands {count} times in {self.file}"
        return "" if self.snippet != self.instead else "nothing is changed"


def faults() -> list[Fault]:
    """Return all faults of the lists."""
    return [
        Fault(list=path.name, **row)
        for path in sorted(LISTS.glob("*.toml"))
        for row in tomllib.loads(path.read_text("utf-8"))["fault"]
    ]


def copied(to: Path) -> Path:
    """Return a copy of the tree with its compiled kernels, which hold as long as a file's time stays the same."""
    return shutil.copytree(ROOT, to, ignore=shutil.ignore_patterns(".git", ".*_cache", "node_modules", ".venv"))


def fallen(tree: Path, tests: Sequence[str], fresh_kernels: bool) -> dict[str, str]:
    """Return what became of the tests that were run: node id without its parameters, and "" or the exception's name."""
    with tempfile.TemporaryDirectory() as kernels:
        report = Path(kernels) / "fallen.txt"
        own = {"PYTHONPATH": str(tree / "tests/mutation"), "FALLEN_TESTS": str(report), "PYTHONDONTWRITEBYTECODE": "1"}
        if fresh_kernels:  # a kernel is kept by its own file's time, not by that of a kernel it calls
            own["NUMBA_CACHE_DIR"] = kernels
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "fallen_tests", "-p", "no:cacheprovider", *tests]
        try:
            subprocess.run(
                command, cwd=tree, env=os.environ | own, capture_output=True, timeout=LONGEST * len(tests), check=False
            )
        except subprocess.TimeoutExpired:
            return {}
        rows = report.read_text("utf-8").splitlines() if report.is_file() else []
    found: dict[str, str] = {}
    for row in rows:
        test, _, fell_by = row.partition("\t")
        found[test] = found.get(test) or fell_by
    return found


def outcome(fault: Fault, tree: Path) -> str:
    """Return "caught", or what happened instead."""
    wrong = fault.stands_wrong(tree)
    if wrong:
        return wrong
    place = tree / fault.file
    sound, times = place.read_text("utf-8"), place.stat()
    place.write_text(fault.planted(sound), "utf-8")
    try:
        found = fallen(tree, [fault.test], fresh_kernels="njit" in sound)
    finally:
        place.write_text(sound, "utf-8")
        os.utime(place, ns=(times.st_atime_ns, times.st_mtime_ns))
    name = fault.test.split("[")[0]
    if name not in found:
        return "the test did not run"
    if not found[name]:
        return "NOT CAUGHT"
    return "caught" if found[name] in ("AssertionError", "Failed") else f"fell by {found[name]}, not by an assertion"


def main(wanted: Sequence[str]) -> int:
    """Plant the wanted faults, print a table, and return 1 if one of them is not caught."""
    listed = faults()
    unknown = set(wanted) - {fault.name for fault in listed} - {fault.list for fault in listed}
    if unknown:
        print(f"no such fault: {', '.join(sorted(unknown))}")
        return 1
    chosen = [fault for fault in listed if not wanted or fault.name in wanted or fault.list in wanted]
    start = time.monotonic()
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(COPIES) as pool:
        trees: queue.Queue[Path] = queue.Queue()
        for number in range(COPIES):
            trees.put(copied(Path(folder) / str(number)))

        def tried(fault: Fault) -> str:
            tree, begun = trees.get(), time.monotonic()
            try:
                result = outcome(fault, tree)
                return f"{time.monotonic() - begun:5.0f} s  {result}"
            finally:
                trees.put(tree)

        sound = fallen(trees.queue[0], sorted({fault.test for fault in chosen}), fresh_kernels=False)
        broken = sorted(test for test, fell_by in sound.items() if fell_by)
        if broken or not sound:
            print(f"with no fault planted {'these fall already: ' + ', '.join(broken) if broken else 'no test runs'}")
            return 1
        width = max(len(fault.name) for fault in chosen)
        missed = 0
        for fault, result in zip(chosen, pool.map(tried, chosen), strict=True):
            missed += not result.endswith("  caught")
            print(f"{fault.name:{width}}  {result}: {fault.test.split('::')[-1]}", flush=True)
    print(f"{len(chosen) - missed} of {len(chosen)} caught in {(time.monotonic() - start) / 60:.1f} min")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
