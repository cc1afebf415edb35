"""What the page says of the materials: shortlist, times, reasons, heat, and what to measure next."""

from __future__ import annotations

from typing import Any

from screening.judgement.choice.order import leading
from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.report.parts.table import row_table
from screening.report.shortlist.crown_drawings import depth_svg, warm_up_svg
from screening.report.shortlist.heat_rows import heat_rows, telling_moments
from screening.report.shortlist.measure_next import EXPLAINED, measure_rows
from screening.report.shortlist.shortlist_cells import legend, verdict_cell, verdict_of
from screening.report.shortlist.shortlist_table import shortlist_table
from screening.report.shortlist.time_bars import time_bars_svg, time_rows
from screening.sentences import Text, Units, joined, sentence, worded

_ENOUGH_DRAWS = 1000
"""Draws from which an answer is no longer called rough."""
Values = dict[str, Any]
"""What a template names."""


def materials_values(result: Screening, units: Units) -> Values:
    """Values for `page_materials.html`; a section without anything to say is None."""
    return {
        "is_rough": result.draws < _ENOUGH_DRAWS,
        "enough_draws": _ENOUGH_DRAWS,
        "ranking": shortlist_table(result),
        "legend": legend(result),
        "times": _times(result),
        "reasons": [_reasons(story, units) for story in result.stories.values()],
        "heat": _heat(result, units),
        "measure": _measure(result),
    }


def _times(result: Screening) -> Values | None:
    stories = [story for story in result.stories.values() if story.standing is not None]
    if not stories:
        return None
    return {
        "drawing": time_bars_svg(stories, result.case.operation.target_run, result.horizon),
        "table": row_table("Times to the end", time_rows(stories, result.horizon)),
    }


def _reasons(story: Story, units: Units) -> Values:
    """Return a material's reasons, each said once, with how it prints and how it fits."""
    texts: list[Text] = list(story.reasons)
    if story.printability.outcome != CANNOT:
        printing = joined(story.printability.reasons)
        texts.append(sentence("Printing: {outcome}. {why}", outcome=story.printability.outcome, why=printing))
    if story.fit is not None:
        texts += story.fit.sentences
    return {
        "title": f"{story.rank}. {story.material.name}: {verdict_cell(verdict_of(story))}",
        "texts": list(dict.fromkeys(worded(text, units) for text in texts)),
    }


def _heat(result: Screening, units: Units) -> Values | None:
    """Return the crown's temperature of the leading material, drawn and in numbers."""
    story = next(iter(leading(result.stories)), None)
    if story is None or story.history is None or story.standing is None:
        return None
    rows = heat_rows(story.history, telling_moments(story.standing.median))
    return {
        "name": story.material.name,
        "warm_up": warm_up_svg(story, units),
        "depth": depth_svg(story, units),
        "table": row_table("Medians, with the range of 18 in 20 draws", rows),
    }


def _measure(result: Screening) -> Values | None:
    story = next(iter(leading(result.stories)), None)
    if story is None:
        return None
    rows = measure_rows(story)
    caption = f"What is not known and moves the answer for {story.material.name} most"
    return {"rows": rows, "explained": EXPLAINED, "table": row_table(caption, rows)}
