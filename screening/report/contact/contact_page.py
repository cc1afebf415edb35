"""The page to share on one material and one fuel: one HTML file that needs nothing from elsewhere; and its document."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from screening.judgement.contact.contact_story import ContactStory
from screening.records.tables.package import data_digest
from screening.report.contact.contact_charts import uptake_drawing
from screening.report.contact.contact_rows import (
    EXPOSURE_NAMES,
    curve_told,
    exposure_rows,
    outcome_cell,
    sphere_rows,
)
from screening.report.contact.contact_text import contact_document, contact_sheet, soak_test_rows
from screening.report.parts.html import folded, listed, paragraph, row_table, section, shown
from screening.report.parts.page_style import page_style


def headline(story: ContactStory) -> str:
    """Return the answer in one sentence: every exposure's outcome and what it rests on."""
    parts = [f"{EXPOSURE_NAMES[c.exposure]} {outcome_cell(c.outcome)} ({c.evidence})" for c in story.contacts]
    told = "; ".join(parts)
    return f"{told[:1].upper()}{told[1:]}."


def contact_page(story: ContactStory) -> str:
    """Return the story as HTML; all text is escaped."""
    title = shown(f"{story.material_name} and {story.fuel.name}")
    told = curve_told(story)
    drawn = "" if story.curve is None else uptake_drawing(story.curve, told)
    whys = [folded(f"{EXPOSURE_NAMES[c.exposure]}: {c.outcome}", listed(c.reasons)) for c in story.contacts]
    soak = [f"{row.subject}: {row.first_advice}" for row in soak_test_rows()]
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>{title}</title><style>\n{page_style()}</style></head><body>",
            f"<header><h1>{title}</h1>{paragraph(headline(story), 'headline')}</header><main>",
            section("exposures", "In each exposure", row_table("A row an exposure", exposure_rows(story)), *whys),
            section("uptake-part", "How much it takes up", paragraph(told), drawn),
            section("spheres", "How near they are", _spheres(story)),
            _seen("seen", "What was seen of this very pair", story.seen),
            _seen("near", "What was seen of liquids like it", story.near),
            _seen("sources", "Sources", story.sources),
            section("soak", "If you soak a sample", listed(soak)),
            paragraph(
                f"Digest of the open tables {data_digest()[:16]}: the same pair and tables give this page.", "quiet"
            ),
            "</main></body></html>\n",
        ]
    )


def _spheres(story: ContactStory) -> str:
    rows = sphere_rows(story)
    why = paragraph(f"It rests on {story.stand_in}.") if story.stand_in else ""
    if not rows:
        return paragraph("No sphere of it or of a near polymer is published, or the liquid's place is not known.")
    return row_table("A row a published sphere", rows) + why


def _seen(id: str, title: str, texts: Sequence[str]) -> str:
    return section(id, title, listed(texts)) if texts else ""


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
        "seen": list(story.seen),
        "near": list(story.near),
        "sources": list(story.sources),
        "tables_digest": data_digest(),
    }


def story_sheet(story: ContactStory) -> str:
    """Return the story as text."""
    lines = [contact_sheet(story.contacts), "", curve_told(story), ""]
    lines += [
        f"Sphere: distance {row['distance [MPa^0.5]']}, radius {row['radius [MPa^0.5]']}, RED {row['RED']} "
        f"({row['meaning']}) [{row['published']}]"
        for row in sphere_rows(story)
    ]
    return "\n".join(lines) + "\n"
