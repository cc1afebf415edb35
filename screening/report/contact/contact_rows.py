"""The numbers of a contact's story laid out once, in the words and digits that page, app and text share."""

from __future__ import annotations

import math

import numpy as np
import pandas as pd

from screening.judgement.contact.contact_story import ContactStory
from screening.judgement.contact.curve import UptakeCurve
from screening.judgement.contact.pair import Contact
from screening.sentences import Quantity, Temperature, TemperatureRange, Text, joined, sentence
from screening.words import share_of, share_range

SYMBOLS = {"none": "○", "slight": "◔", "swells": "◑", "swells strongly": "◕", "dissolves": "●", "stress cracks": "✕",
           "unknown": "?"}  # fmt: skip
"""A sign for each outcome word, always shown with it."""
EXPOSURE_NAMES = {"soak": "in the tank", "cold start": "wet cold start", "running": "running", "sump": "in the sump"}
LEAST_PERCENT = 0.01
"""Low end of the axis of uptake [% by volume]; below it nothing could be weighed."""
Rows = list[dict[str, str]]
WordedRows = list[dict[str, Text | Quantity]]


def outcome_cell(outcome: str) -> str:
    """Return an outcome with its sign."""
    return f"{SYMBOLS[outcome]} {outcome}"


def exposure_rows(story: ContactStory) -> WordedRows:
    """Return a row an exposure: outcome, what it rests on, how sure, temperature, swell, uptake, softened transition."""
    return [
        {
            "exposure": EXPOSURE_NAMES[contact.exposure],
            "outcome": outcome_cell(contact.outcome),
            "rests on": contact.evidence,
            "sure": contact.confidence,
            "at": Temperature(contact.temperature),
            "volume swell": ranged(contact, "volume_swell", contact.volume_swell),
            "uptake by volume": ranged(contact, "uptake", contact.uptake),
            "softens at": softened(contact),
            "reaches": _depth(contact.depth),
        }
        for contact in story.contacts
    ]


def ranged(contact: Contact, name: str, value: float) -> str:
    """Return a share with the range that theory gives it."""
    if math.isnan(value):
        return "unknown"
    ends = contact.ranges.get(name)
    return share_of(value) if ends is None else f"{share_of(value)} (theory: {share_range(*ends)})"


def softened(contact: Contact) -> Text | Quantity:
    """Return the glass transition of the wet part with the range that theory gives it."""
    if math.isnan(contact.softened_transition):
        return "unknown"
    ends = contact.ranges.get("softened_transition")
    middle = Temperature(contact.softened_transition)
    if ends is None:
        return middle
    return sentence("{middle} (theory: {ends})", middle=middle, ends=TemperatureRange(*ends))


def _depth(metres: float) -> str:
    if math.isnan(metres):
        return "unknown"
    return "right through" if math.isinf(metres) else f"{1e6 * metres:.2g} µm"


def sphere_rows(story: ContactStory) -> Rows:
    """Return a row a published place: distance, radius, RED, what its surface means, where it is published."""
    return [
        {
            "published": sphere.source,
            "distance [MPa^0.5]": f"{sphere.distance:.1f}",
            "radius [MPa^0.5]": "none" if math.isnan(sphere.radius) else f"{sphere.radius:.1f}",
            "RED": "none" if math.isnan(sphere.radius) else f"{sphere.distance_ratio:.2f}",
            "centre dD, dP, dH": ", ".join(f"{axis:.1f}" for axis in sphere.centre),
            "meaning": sphere.surface + ("" if sphere.weight == 1 else f"; trusted by {sphere.weight:g}"),
        }
        for sphere in story.spheres
    ]


def fuel_system_rows(advice: pd.DataFrame) -> Rows:
    """Return rows of `fuel_system_advice`: material, outcome, what it rests on and how sure, what to fit instead."""
    return [
        {
            "material": row["name"],
            "outcome": outcome_cell(row["outcome"]),
            "rests on": f"{row['evidence']}, sure: {row['confidence']}",
            "fit instead": row["fit_instead"] or "it holds",
        }
        for row in advice.to_dict("records")
    ]


def curve_rows(curve: UptakeCurve) -> pd.DataFrame:
    """Return the curve: `activity`, and `low`, `median`, `high` uptake [% by volume], what is less at the axis's end."""
    shares = {"low": curve.low, "median": curve.typical, "high": curve.high}
    percents = {name: np.maximum(100 * values, LEAST_PERCENT) for name, values in shares.items()}
    return pd.DataFrame({"activity": curve.activity, **percents})


def point_rows(curve: UptakeCurve) -> pd.DataFrame:
    """Return a row a marked point: `exposure` (soak and cold start share one), `activity`, `low`, `median`, `high` [%]."""
    rows: dict[float, dict[str, object]] = {}
    for point in curve.points:
        drawn = max(point.activity, float(curve.activity[0]))
        low, median, high = (max(100 * value, LEAST_PERCENT) for value in point.uptake)
        if drawn in rows:
            rows[drawn]["exposure"] = f"{rows[drawn]['exposure']}, {EXPOSURE_NAMES[point.exposure]}"
        else:
            rows[drawn] = {"exposure": EXPOSURE_NAMES[point.exposure], "activity": drawn, "low": low, "median": median,
                         "high": high, "kelvin": point.temperature}  # fmt: skip
    return pd.DataFrame(rows.values())


def curve_sentence(story: ContactStory) -> Text:
    """Return in a sentence what the curve shows."""
    curve = story.curve
    if curve is None:
        return f"No curve: theory says nothing of {story.material_name} with {story.fuel.name}."
    marks = [
        sentence(
            "{exposure} (activity {activity}, {at}): {usual} ({low} to {high})",
            exposure=EXPOSURE_NAMES[point.exposure],
            activity=f"{point.activity:.2g}",
            at=Temperature(point.temperature),
            low=share_of(point.uptake[0]),
            usual=share_of(point.uptake[1]),
            high=share_of(point.uptake[2]),
        )
        for point in curve.points
    ]
    return sentence(
        "How much {fuel} {material} holds in the end, by volume of what takes it up, against the activity of the liquid (1 is "
        "the liquid itself), at {at}. The band is what theory leaves open, 18 times in 20, by the published spheres and the "
        "error of the interaction parameter. Marked, each at its own temperature: {marks}. The curve is of the liquid as a "
        "whole, and in the sump of the fuel without the oil; the outcomes above also weigh the parts of a blend, and the oil.",
        fuel=story.fuel.name,
        material=story.material_name,
        at=Temperature(curve.temperature),
        marks=joined(marks, "; "),
    )
