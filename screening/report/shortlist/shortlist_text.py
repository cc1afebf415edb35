"""The shortlist as text for a terminal and as CSV that a spreadsheet can open without harm."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence
from functools import partial

from screening.judgement.choice.own_evidence import OwnEvidence
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.records.tables.package import data_digest
from screening.report.parts.spreadsheet import neutralised
from screening.report.parts.terminal import text_table
from screening.report.shortlist.cold_proof_rows import how_to_try, moved_rows
from screening.report.shortlist.measure_next import measure_rows
from screening.report.shortlist.shortlist_cells import shown_cells, verdict_of
from screening.sentences import TRADE, Text, Units, worded
from screening.version import VERSION
from screening.words import duration

_WIDTH = 100
_HOW_TO_READ = (
    "Best first by worth: one number for the whole spread of likely lives; early failures pull it down, time beyond the wanted run "
    "adds nothing. At start: the chance that the start breaks it, guesswork until a spare crown has been burst cold. 1 in 20, half: of "
    "those that hold, gone by then. Equal ranks cannot be told apart; * so few draws cannot tell on which side of its limit the verdict stands."
)


def shortlist_text(result: Screening, units: Units = TRADE) -> str:
    """Return headline, tables, reasons of the first three materials, what to measure, and cautions; 100 letters wide.

    Parameters
    ----------
    result : Screening
    units : Units
        Unit of the temperatures.

    Returns
    -------
    str
    """
    bulleted = partial(_bulleted, units=units)
    stories = list(result.stories.values())
    blocks = [
        _wrapped(result.case.title or "Untitled case", worded(result.headline, units), worded(result.stop_rule, units)),
        bulleted("Inputs to look at again:", [warning.message for warning in result.warnings]),
        _ranking(stories, result.horizon),
        _wrapped(_HOW_TO_READ),
        _contacts(stories),
        *(bulleted(f"{story.rank}. {story.material.name}:", story.reasons) for story in stories[:3]),
        _fit(stories, units),
        bulleted("The metal piston, for comparison:", result.baseline.reasons),
        _wrapped(worded(result.evidence.told, units))
        if result.evidence is not None and result.evidence.applied
        else "",
        _own_evidence(result.own_evidence, units),
        _measures(stories),
        bulleted("A cold proof before running:", how_to_try(result)),
        bulleted("Cautions:", result.cautions),
        _wrapped(
            f"Version {VERSION}, {result.draws} draws, seed {result.seed}; case {result.case.digest[:16]}, tables {data_digest()[:16]}. All "
            "reasons, ranges and sources are in the page (--html) and the document (--json)."
        ),
    ]
    return "\n\n".join(filter(None, blocks))


def _ranking(stories: Sequence[Story], horizon: float) -> str:
    columns = ["rank", "material", "verdict", "worth", "at start", "1 in 20", "half", "ends by"]
    return text_table(columns, [_narrow_row(story, horizon) for story in stories])


def _narrow_row(story: Story, horizon: float) -> list[str]:
    """Return a story's cells without the horizon, the share in brackets and the second half of a name, which the reasons tell."""
    cells = shown_cells(story, horizon)
    verdict = verdict_of(story) + ("*" if story.standing is not None and story.standing.on_the_line else "")
    ends_by = cells["ends by"].replace(f" within {duration(horizon)}", "").split(" (")[0].split(",")[0]
    held = (cells["if it holds, 1 in 20 gone by"], cells["if it holds, half gone by"])
    return [cells["rank"], story.material.id, verdict, cells["worth"], cells["start breaks it"], *held, ends_by]


def _contacts(stories: Sequence[Story]) -> str:
    exposures = dict.fromkeys(name for story in stories for name in story.contacts)
    rows = [
        [story.material.id, *(story.contacts[name].outcome for name in exposures), story.printability.outcome]
        for story in stories
    ]
    return text_table(["the fuel and it", *exposures, "printable"], rows)


def _fit(stories: Sequence[Story], units: Units) -> str:
    first = next((story for story in stories if story.fit is not None), None)
    if first is None or first.fit is None:
        return ""
    return _bulleted(f"To make {first.material.name} fit:", first.fit.sentences, units)


def _own_evidence(own: OwnEvidence | None, units: Units) -> str:
    if own is None:
        return ""
    moved = [f"{row['what is foretold']}: {row['before']}, now {row['with your evidence']}" for row in moved_rows(own)]
    return "\n".join(filter(None, [_wrapped(worded(own.told, units)), _bulleted("What it moved:", moved, units)]))


def _measures(stories: Sequence[Story]) -> str:
    rows = measure_rows(stories[0]) if stories else []
    texts = [
        f"{row['input']} ({row['how it is known']}): {row['share of the doubt']} of the doubt, measured it cuts the range "
        f"by {row['measured, cuts the range by']}; {row['measure it with']}"
        for row in rows
    ]
    return _bulleted(f"What to measure next, for {stories[0].material.name}:", texts) if texts else ""


def _bulleted(title: str, texts: Sequence[Text], units: Units = TRADE) -> str:
    lines = [
        textwrap.fill(worded(text, units), _WIDTH, initial_indent="  - ", subsequent_indent="    ") for text in texts
    ]
    return "\n".join([title, *lines]) if lines else ""


def _wrapped(*texts: str) -> str:
    return "\n".join(textwrap.fill(text, _WIDTH) for text in texts)


def shortlist_csv(result: Screening) -> str:
    """Return the shortlist as CSV; text that a spreadsheet would take for a formula is quoted with an apostrophe."""
    table = result.shortlist.copy()
    table["reasons"] = table["reasons"].map(" ".join)
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(neutralised)
    buffer = io.StringIO()
    table.to_csv(buffer, index=False, lineterminator="\n")
    return buffer.getvalue()
