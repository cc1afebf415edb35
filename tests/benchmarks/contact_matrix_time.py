"""How long the matrix of 60 materials by 20 fuels takes: the first call of a fresh process against a second one.

Run `PYTHONPATH=. python tests/benchmarks/contact_matrix_time.py`. The first call reads every table, loads the open
tables of liquids, the activity model of blends and the compiled kernel; the second one computes all pairs again with
those at hand, and the last is kept in memory. Processor time is shown beside the clock, because a busy machine
stretches only the clock. Measured on 25 November 2026 on two cores shared with other work: first call 0.9 to 1.1 s of
processor time (before pairs were computed side by side: 4.0 s on the clock of the same machine), again 0.15 s.
"""

from __future__ import annotations

import time

from screening.judgement.contact import matrix as module
from screening.judgement.contact.matrix import contact_matrix
from screening.records.materials.materials import load_materials

FUELS = (
    "petrol E0", "petrol E10", "E85", "ethanol", "methanol", "acetone", "butanone", "cyclopentanone", "cyclohexanone",
    "ethyl acetate", "n-butyl acetate", "toluene", "isooctane", "n-hexane", "tetrahydrofuran", "nitromethane",
    "dimethyl carbonate", "diethyl ether", "ethanol 70, cyclopentanone 30", "2-propanol",
)  # fmt: skip


def timed() -> tuple[float, float]:
    """Return the clock's and the processor's seconds of one matrix."""
    clock, processor = time.perf_counter(), time.process_time()
    contact_matrix(load_materials().ids[:60], FUELS)
    return time.perf_counter() - clock, time.process_time() - processor


if __name__ == "__main__":
    first = timed()
    module._rows.cache_clear()
    again = timed()
    kept = timed()
    print("call       clock s   processor s")
    for name, (clock, processor) in (("first", first), ("again", again), ("kept", kept)):
        print(f"{name:8} {clock:9.3f} {processor:13.3f}")
    print(f"first over again: {first[1] / again[1]:.1f} (processor time)")
