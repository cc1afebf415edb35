"""Which rows of the table of assumptions an answer rests on."""

from __future__ import annotations

from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import ASSUMED, BRITTLE_BELOW
from screening.judgement.head.run_log import LOG_ASSUMPTIONS
from screening.records.tables.assumptions import Assumption, load_assumptions

_CONTACT = (
    "chi_error", "skin_uptake_share", "fuel_in_oil", "tie_chains", "front_velocity", "crazing_swell",
    "crazing_distance_ratio", "alcohol_in_amide", "alcohol_in_oil", "residual_share", "fastest_diffusion",
)  # fmt: skip
_PRINTER = {"nozzle": "nozzle_C", "bed": "bed_C", "chamber": "chamber_C"}


def assumptions_used(case: Case, conditions: Conditions) -> tuple[Assumption, ...]:
    """Return the assumptions that a case rests on, in the table's order; what the case gives is not among them."""
    used = {*conditions.assumed, *ASSUMED, BRITTLE_BELOW, *_CONTACT}
    used |= {name for name, key in _PRINTER.items() if not case.is_given("printer", key)}
    if case.head.log_text is not None:
        used |= set(LOG_ASSUMPTIONS)
    if case.operation.throttle is None:
        used.add("throttled_charge")  # the contact with the running vapour is judged at a usual part load
    return tuple(assumption for name, assumption in load_assumptions().items() if name in used)
