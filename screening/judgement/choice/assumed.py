"""Which rows of the table of assumptions an answer rests on."""

from __future__ import annotations

from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.records.tables.assumptions import Assumption, load_assumptions


def assumptions_used(case: Case, conditions: Conditions) -> tuple[Assumption, ...]:
    """Return the assumptions that a case rests on, in the table's order; what the case gives is not among them."""
    return tuple(row for row in load_assumptions().values() if row.name in conditions.assumed or _counts(row, case))


def _counts(row: Assumption, case: Case) -> bool:
    """Return whether a row that the conditions did not draw is rested on all the same, by what uses it."""
    if row.used_by == "printer":
        return not case.is_given("printer", f"{row.name}_C")
    return {
        "run": row.drawn in ("each polymer", "never"),
        "contact": True,
        "part load": case.operation.throttle is None,
        "log": case.head.log_text is not None,
        "cold proof": bool(case.cold_proofs),
        "result book": bool(case.runs),
        "own evidence": bool(case.cold_proofs or case.runs),
    }.get(row.used_by, False)
