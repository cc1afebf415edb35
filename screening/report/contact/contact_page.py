"""The page to share on one material and one fuel: one HTML file that needs nothing from elsewhere; and its document."""

from __future__ import annotations

import math
from typing import Any

from screening.judgement.contact.contact_story import ContactStory
from screening.records.tables.package import data_digest
from screening.report.contact.contact_rows import (
    EXPOSURE_NAMES,
    curve_sentence,
    exposure_rows,
    outcome_cell,
    sphere_rows,
)
from screening.report.contact.contact_text import contact_document, contact_sheet, soak_test_rows
from screening.report.contact.uptake_drawing import uptake_drawing
from screening.report.parts.page_style import page_style
from screening.report.parts.table import row_table
from screening.report.parts.templates import page_part
from screening.sentences import TRADE, Units, worded


def headline(story: ContactStory) -> str:
    """Return the answer in one sentence: every exposure's outcome and what it rests on."""
    parts = [f"{EXPOSURE_NAMES[c.exposure]} {outcome_cell(c.outcome)} ({c.evidence})" for c in story.contacts]
    answer = "; ".join(parts)
    return f"{answer[:1].upper()}{answer[1:]}."


def contact_page(story: ContactStory, units: Units = TRADE) -> str:
    """Return the story as HTML in the units chosen; all text is escaped."""
    curve, spheres = curve_sentence(story), sphere_rows(story)
    return str(
        page_part(
            "contact/contact_page.html",
            units,
            title=f"{story.material_name} and {story.fuel.name}",
            style=page_style(),
            story=story,
            headline=headline(story),
            names=EXPOSURE_NAMES,
            exposures=row_table("A row an exposure", exposure_rows(story)),
            curve=curve,
            drawing="" if story.curve is None else uptake_drawing(story.curve, worded(curve, units)),
            spheres=row_table("A row a published sphere", spheres) if spheres else None,
            listed=(
                ("seen", "What was seen of this very pair", story.seen),
                ("near", "What was seen of liquids like it", story.near),
                ("sources", "Sources", story.sources),
            ),
            soak=[f"{row.subject}: {row.first_advice}" for row in soak_test_rows()],
            digest=data_digest()[:16],
        )
    )


def story_document(story: ContactStory) -> dict[str, Any]:
    """Return the story as a document for JSON; what is not known is null."""
    curve = story.curve
    return {
        "material": story.material,
        "material_name": story.material_name,
        "fuel": story.fuel.name,
        "asked": story.asked,
        "exposures": [contact_document(contact) for contact in story.contacts],
        "spheres": [
            {
                "centre_MPa05": list(sphere.centre),
                "radius_MPa05": None if math.isnan(sphere.radius) else sphere.radius,
                "distance_MPa05": round(sphere.distance, 3),
                "distance_ratio": None if math.isnan(sphere.radius) else round(sphere.distance_ratio, 3),
                "meaning": sphere.surface,
                "weight": sphere.weight,
                "source": sphere.source,
            }
            for sphere in story.spheres
        ],
        "curve": None
        if curve is None
        else {
            "temperature_C": round(curve.temperature - 273.15, 2),
            "activity": [round(float(v), 6) for v in curve.activity],
            **{name: [round(float(v), 5) for v in getattr(curve, name)] for name in ("low", "typical", "high")},
            "points": [
                {"exposure": p.exposure, "activity": round(p.activity, 5), "uptake": [round(u, 5) for u in p.uptake]}
                for p in curve.points
            ],
        },
        "seen": [worded(text) for text in story.seen],
        "near": [worded(text) for text in story.near],
        "sources": list(story.sources),
        "tables_digest": data_digest(),
    }


def story_sheet(story: ContactStory, units: Units = TRADE) -> str:
    """Return the story as text in the units chosen."""
    lines = [contact_sheet(story.contacts, units), "", worded(curve_sentence(story), units), ""]
    lines += [
        f"Sphere: distance {row['distance [MPa^0.5]']}, radius {row['radius [MPa^0.5]']}, RED {row['RED']} "
        f"({row['meaning']}) [{row['published']}]"
        for row in sphere_rows(story)
    ]
    return "\n".join(lines) + "\n"
