"""What the page says of a cold proof and of the builder's own evidence."""

from __future__ import annotations

from typing import Any

from screening.judgement.choice.screening import Screening
from screening.report.parts.table import row_table
from screening.report.shortlist.cold_proof_rows import NOT_TOLD, burst_rows, how_to_try, moved_rows

_FIRST = 8
"""Materials of which the page tells a burst pressure; the document holds all."""


def proof_values(result: Screening) -> dict[str, Any]:
    """Values for `page_proof.html`."""
    own, how = result.own_evidence, how_to_try(result)
    first = list(result.stories.values())[:_FIRST]
    proof = {
        "table": row_table("A bare crown of the case's thickness, pressed cold: best first", burst_rows(result, first)),
        "how": how,
        "not_told": NOT_TOLD,
    }
    moved = (
        row_table("What they moved: middle value, with the range of 18 in 20 draws", moved_rows(own)) if own else None
    )
    return {
        "proof": proof if how else None,
        "own_evidence": None if own is None else {"told": own.told, "table": moved if own.moved else None},
    }
