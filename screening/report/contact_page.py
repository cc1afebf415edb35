"""The page to share on one material and one fuel: one HTML file that needs nothing from elsewhere; and its document."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Any

import pandas as pd

from screening.judgement.contact_story import ContactStory
from screening.records.package import data_digest
from screening.report.contact_charts import uptake_drawing
from screening.report.contact_rows import EXPOSURE_NAMES, curve_told, exposure_rows, outcome_cell, sphere_rows
from screening.report.contact_text import contact_document, contact_sheet, soak_test_rows
from screening.report.page import STYLE


def headline(story: ContactStory) -> str:
    """Return the answer in one sentence: every exposure's outcome and what it rests on."""
    parts = [f"{EXPOSURE_NAMES[c.exposure]} {outcome_cell(c.outcome)} ({c.evidence})" for c in story.contacts]
    return f"{story.material_name} and {story.fuel.name}: {'; '.join(parts)}."


def contact_page(story: ContactStory) -> str:
    """Return the story as HTML; all text is escaped."""
    title = escape(f"{story.material_name} and {story.fuel.name}")
    spheres = sphere_rows(story)
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>{title}</title><style>{STYLE}</style></head><body>",
            f"<h1>{title}</h1>",
            f'<p class="headline">{escape(headline(story))}</p>',
            _table(exposure_rows(story)),
            "<h2>How much it takes up</h2>",
            f"<p>{escape(curve_told(story))}</p>",
            "" if story.curve is None else uptake_drawing(story.curve),
            "<h2>How near they are</h2>" if len(spheres) else "",
            _table(spheres) if len(spheres) else "",
            f"<p>{escape(f'It rests on {story.stand_in}.')}</p>" if story.stand_in else "",
            _listed("What was seen of this very pair", story.seen),
            _listed("What was seen of liquids like it", story.near),
            *(_listed(f"Why: {EXPOSURE_NAMES[c.exposure]} {c.outcome}", c.reasons) for c in story.contacts),
            _listed("Sources", story.sources),
            _listed("If you soak a sample", [f"{row.subject}: {row.first_advice}" for row in soak_test_rows()]),
            f'<p class="small">Digest of the open tables {data_digest()[:16]}. The same pair and tables give the same page.'
            "</p></body></html>",
        ]
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
                "radius_MPa05": None if sphere.radius != sphere.radius else sphere.radius,
                "distance_MPa05": round(sphere.distance, 3),
                "distance_ratio": None if sphere.radius != sphere.radius else round(sphere.distance_ratio, 3),
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
    lines = [headline(story), "", contact_sheet(story.contacts), "", curve_told(story), ""]
    lines += [
        f"Sphere: distance {row['distance [MPa^0.5]']}, radius {row['radius [MPa^0.5]']}, RED {row['RED']} "
        f"({row['meaning']}) [{row['published']}]"
        for row in sphere_rows(story).to_dict("records")
    ]
    return "\n".join(lines) + "\n"


def _table(frame: pd.DataFrame) -> str:
    heads = "".join(f'<th scope="col">{escape(str(name))}</th>' for name in frame.columns)
    rows = "".join(
        f"<tr>{''.join(f'<td>{escape(str(cell))}</td>' for cell in row)}</tr>" for row in frame.itertuples(index=False)
    )
    return f'<div class="scroll"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'


def _listed(title: str, texts: Iterable[str]) -> str:
    items = "".join(f"<li>{escape(text)}</li>" for text in texts)
    return f"<h2>{escape(title)}</h2><ul>{items}</ul>" if items else ""
