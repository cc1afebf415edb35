"""What a fuel does to a material, the fuel system's list and the prediction's own record, as text and as documents."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import Any

from screening.judgement.contact.pair import Contact
from screening.quantities import from_si
from screening.records.hazards.cautions import Caution, work_cautions
from screening.report.contact.contact_rows import ranged, softened
from screening.sentences import TRADE, Temperature, Text, Units, sentence, worded

SOAK_TEST_TOPICS = ("soak tests", "gloves", "ventilation", "static", "waste")
"""Cautions of the table that belong to every soak test; there is no flame near any of them."""
RED_TOLD = (
    "RED: how far the liquid lies from the polymer in solubility, over the radius within which liquids dissolve or attack "
    "it; under 1 is within."
)
_WIDTH = 100


def contact_document(contact: Contact) -> dict[str, Any]:
    """Return one contact as a document; numbers that are not known, or infinite, are null."""
    return {
        "material": contact.material,
        "material_name": contact.material_name,
        "fuel": contact.fuel,
        "exposure": contact.exposure,
        "temperature_C": round(from_si(contact.temperature, "degC"), 1),
        "outcome": contact.outcome,
        "distance_ratio": _number(contact.distance_ratio, 3),
        "uptake": _number(contact.uptake, 4),
        "volume_swell": _number(contact.volume_swell, 4),
        "dissolves": contact.outcome == "dissolves",
        "softened_transition_C": _number(from_si(contact.softened_transition, "degC"), 1),
        "depth_um": _number(1e6 * contact.depth, 2),
        "evidence": contact.evidence,
        "confidence": contact.confidence,
        "ranges": _ranges(contact),
        "reasons": [worded(reason) for reason in contact.reasons],
        "sources": list(contact.sources),
    }


def contact_sheet(contacts: Sequence[Contact], units: Units = TRADE) -> str:
    """Return one pair in all its exposures as text for a terminal, in the units chosen."""
    if not contacts:
        return "No contact."
    first = contacts[0]
    id = "" if first.material == first.material_name else f" ({first.material})"
    lines = [f"{first.material_name}{id} and {first.fuel}", ""]
    for contact in contacts:
        lines.append(
            f"{contact.exposure.capitalize()}, {Temperature(contact.temperature).worded(units)}: "
            f"{contact.outcome.upper()}"
            + ("" if contact.outcome == "unknown" else f" ({contact.evidence}; confidence {contact.confidence})")
        )
        lines += textwrap.wrap(worded(_numbers(contact), units), _WIDTH, initial_indent="  ", subsequent_indent="  ")
        for reason in contact.reasons:
            lines += textwrap.wrap(worded(reason, units), _WIDTH, initial_indent="  - ", subsequent_indent="    ")
        lines.append("")
    if any(math.isfinite(contact.distance_ratio) for contact in contacts):
        lines += [*textwrap.wrap(RED_TOLD, _WIDTH), ""]
    sources = dict.fromkeys(source for contact in contacts for source in contact.sources)
    rests = "Rests on: " + "; ".join(sources) if sources else "Rests on nothing published: test it."
    lines += textwrap.wrap(rests, _WIDTH, subsequent_indent="  ")
    return "\n".join([*lines, "", *soak_test_cautions()])


def _numbers(contact: Contact) -> Text:
    if contact.outcome == "unknown":
        return "Volume swell, uptake and softening: unknown."
    near = "no sphere" if math.isnan(contact.distance_ratio) else f"{contact.distance_ratio:.2f}"
    swell = ranged(contact, "volume_swell", contact.volume_swell)
    return sentence(
        "Volume swell {swell}; RED {near}; glass transition then {wet}.", swell=swell, near=near, wet=softened(contact)
    )


def _ranges(contact: Contact) -> dict[str, list[float | None]]:
    """Return the ranges by the names and in the units of the values beside them."""
    found = {name: [_number(end, 4) for end in ends] for name, ends in contact.ranges.items()}
    if "softened_transition" in found:
        ends = contact.ranges["softened_transition"]
        del found["softened_transition"]
        found["softened_transition_C"] = [_number(from_si(end, "degC"), 1) for end in ends]
    return found


def soak_test_cautions() -> list[str]:
    """Return the cautions of a soak test as lines: gloves, ventilation, no flame, small amounts."""
    lines = ["Soak test: gloves on, outdoors or well ventilated, no flame or spark anywhere near. In detail:"]
    for caution in soak_test_rows():
        lines += textwrap.wrap(
            f"{caution.subject}: {caution.first_advice}", _WIDTH, initial_indent="  - ", subsequent_indent="    "
        )
    return lines


def soak_test_rows() -> tuple[Caution, ...]:
    """Return the rows of the table of cautions that belong to every soak test."""
    return tuple(caution for topic in SOAK_TEST_TOPICS for caution in work_cautions(topic))


def _number(value: float, digits: int) -> float | None:
    return round(value, digits) if math.isfinite(value) else None
