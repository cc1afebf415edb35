"""The page to share: one HTML file with the answer, its reasons and the case, which needs nothing from elsewhere."""

from __future__ import annotations

from screening.judgement.choice.screening import Screening
from screening.report.parts.page_style import page_style
from screening.report.parts.templates import page_part
from screening.report.shortlist.page_basis import basis_values
from screening.report.shortlist.page_materials import materials_values
from screening.report.shortlist.page_proof import proof_values
from screening.report.shortlist.shortlist_table import shortlist_style
from screening.sentences import TRADE, Units


def report_html(result: Screening, units: Units = TRADE) -> str:
    """Return the page to share as HTML: one file that needs nothing from elsewhere; all text of the case is escaped.

    Parameters
    ----------
    result : Screening
    units : Units
        Unit of the temperatures.

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
    return str(
        page_part(
            "shortlist/page.html",
            units,
            title=result.case.title or "Polymer piston screening",
            style=page_style() + shortlist_style(),
            result=result,
            **materials_values(result, units),
            **proof_values(result),
            **basis_values(result, units),
        )
    )
