"""The page to share: one HTML file with the answer, its reasons and the case, which needs nothing from elsewhere."""

from __future__ import annotations

from screening.judgement.choice.screening import Screening
from screening.report.parts.html import listed, paragraph, section, shown
from screening.report.parts.page_style import page_style
from screening.report.shortlist.page_basis import basis_section, case_section, made_section
from screening.report.shortlist.page_materials import (
    heat_section,
    measure_section,
    reasons_section,
    shortlist_section,
    times_section,
)
from screening.report.shortlist.shortlist_table import shortlist_style

_PARTS = {
    "shortlist": "Shortlist", "times": "Times", "reasons": "Reasons", "heat": "Heat", "measure": "What to measure next",
    "cautions": "Cautions", "case": "The case", "basis": "What it rests on", "made": "How this was made",
}  # fmt: skip
# a browser that heeds it runs no script and fetches nothing, whatever a case may hold
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def report_html(result: Screening) -> str:
    """Return the page to share as HTML: one file that needs nothing from elsewhere; all text of the case is escaped.

    Parameters
    ----------
    result : Screening

    Returns
    -------
    str

    Examples
    --------
    >>> from screening import load_case, report_html, screen
    >>> page = report_html(screen(load_case("petrol_baseline"), draws=20, materials=["abs"]))
    >>> page[:15]
    '<!doctype html>'
    """
    title = shown(result.case.title or "Polymer piston screening")
    warnings = [warning.message for warning in result.warnings]
    sections = [
        shortlist_section(result),
        times_section(result),
        reasons_section(result),
        heat_section(result),
        measure_section(result),
        section("cautions", "Cautions", listed(result.cautions)),
        case_section(result),
        basis_section(result),
        made_section(result),
    ]
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
            f"<title>{title}</title><style>\n{page_style()}{shortlist_style()}</style></head><body>",
            f"<header><h1>{title}</h1>",
            paragraph(result.case.notes) if result.case.notes else "",
            paragraph(result.headline, "headline"),
            f"<p><strong>{shown(result.stop_rule)}</strong></p>",
            section("look-again", "Inputs to look at again", listed(warnings)) if warnings else "",
            f"{_contents(sections)}</header><main>",
            *filter(None, sections),
            "</main></body></html>\n",
        ]
    )


def _contents(sections: list[str]) -> str:
    """Return links to the sections that are there."""
    there = zip(_PARTS.items(), sections, strict=True)
    links = "".join(f'<li><a href="#{id}">{name}</a></li>' for (id, name), text in there if text)
    return f'<nav aria-label="On this page"><ul>{links}</ul></nav>'
