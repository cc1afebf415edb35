"""How long the whole job takes and how much memory, against the number of draws; figures within one run.

    python tests/benchmarks/whole_job.py [most draws]

The first call compiles the kernels and is not counted. Linear means: seconds a draw stay the same.
"""

from __future__ import annotations

import resource
import shutil
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[2]))

from screening import load_case, screen
from screening.judgement.choice.screening import PART
from screening.judgement.piston.heating import CELLS, STEPS
from screening.records.tables.package import data_folder, read_table, table_names


def main(most: int) -> None:
    case = load_case("cyclopentanone_blend")
    screen(case, 64)
    print(f"grid {CELLS} cells, {STEPS} steps; parts of {PART} draws; {len(screen(case, 16).materials)} materials")
    with TemporaryDirectory() as place:
        # a copy, since what has been read once is kept by its folder
        copied = Path(shutil.copytree(data_folder(), Path(place) / "tables"))
        start = time.perf_counter()
        for name in table_names(copied):
            read_table(name, copied)
        print(f"all tables read and checked afresh in {time.perf_counter() - start:.2f} s")
    print("draws  seconds  ms a draw  peak memory MB")
    for draws in (250, 1000, 4000, 20_000):
        if draws > most:
            break
        start = time.perf_counter()
        screen(case, draws)
        seconds = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"{draws:5d}  {seconds:7.2f}  {1e3 * seconds / draws:9.3f}  {peak:14.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 4000)
