"""The page's sections on the materials: shortlist, times, reasons, heat, and what to measure next."""

from __future__ import annotations

from screening.judgement.choice.order import leading
from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.report.parts.html import folded, listed, paragraph, row_table, section
from screening.report.shortlist.chart_numbers import heat_rows, telling_moments, time_rows
from screening.report.shortlist.crown_drawings import depth_svg, warm_up_svg
from screening.report.shortlist.measure_next import measure_rows
from screening.report.shortlist.shortlist_cells import legend, verdict_cell, verdict_of
from screening.report.shortlist.shortlist_table import shortlist_table
from screening.report.shortlist.time_bars import time_bars_svg
from screening.sentences import joined, worded

_OPEN = 3
_ROUGH = 1000
"""Draws from which an answer is no longer called rough."""


def shortlist_section(result: Screening) -> str:
    """Return the ranking as a table, with what its words mean."""
    rough = (
        f"A rough answer, from {result.draws} draws: compute it again with {_ROUGH}." if result.draws < _ROUGH else ""
    )
    return section(
        "shortlist",
        "Shortlist",
        paragraph(rough, "quiet") if rough else "",
        shortlist_table(result),
        paragraph(legend(result), "quiet"),
        paragraph("The metal piston, for comparison (not ranked):"),
        listed(result.baseline.reasons),
    )


def times_section(result: Screening) -> str:
    """Return how long each lasts, as bars and as numbers."""
    stories = [story for story in result.stories.values() if story.standing is not None]
    if not stories:
        return ""
    rows = time_rows(stories, result.horizon)
    return section(
        "times",
        "How long each lasts",
        paragraph(
            "Each bar runs from the time to plan for (19 of 20 draws last longer) to the time that one draw in twenty "
            "outlasts; the mark is the median. Bars are cut at the ends of the axis."
        ),
        time_bars_svg(stories, result.case.operation.target_run, result.horizon),
        folded("The same numbers as a table", row_table("Times to the end", rows)),
    )


def reasons_section(result: Screening) -> str:
    """Return every material's reasons, the first ones open."""
    told = (_told(story, i < _OPEN) for i, story in enumerate(result.stories.values()))
    return section("reasons", "Reasons", paragraph("For each material, best first; open a name to read on."), *told)


def _told(story: Story, opened: bool) -> str:
    texts = [worded(reason) for reason in story.reasons]
    if story.printability.outcome != CANNOT:
        texts.append(f"Printing: {story.printability.outcome}. {joined(story.printability.reasons)}")
    if story.fit is not None:
        texts += story.fit.sentences
    return folded(
        f"{story.rank}. {story.material.name}: {verdict_cell(verdict_of(story))}",
        listed(dict.fromkeys(texts)),
        opened=opened,
    )


def heat_section(result: Screening) -> str:
    """Return the crown's temperature of the leading material, drawn and in numbers."""
    story = next(iter(leading(result.stories)), None)
    if story is None or story.history is None or story.standing is None:
        return ""
    rows = heat_rows(story.history, telling_moments(story.standing.median))
    return section(
        "heat",
        f"How the crown warms: {story.material.name}",
        paragraph(
            "Gas-side face and underside against time, medians with the range of 18 in 20 draws; the grey band is where "
            "the material softens or melts."
        ),
        warm_up_svg(story),
        paragraph("Median temperature through the crown at several moments."),
        depth_svg(story),
        row_table("Medians, with the range of 18 in 20 draws", rows),
    )


def measure_section(result: Screening) -> str:
    """Return what would narrow the leading materials' ranges, and with which tool."""
    parts = []
    for story in leading(result.stories)[:1]:
        rows = measure_rows(story)
        parts.append(
            row_table(f"What is not known and moves the time of {story.material.name} most", rows)
            if rows
            else paragraph(f"Of {result.draws} draws, no single input stands out from chance; more draws tell more.")
        )
    return section("measure", "What to measure next", *parts) if parts else ""
