"""What one row of the shortlist says, in words: the same for the shared page, the terminal and the app."""

from __future__ import annotations

from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, LASTING_CHANCE, LASTS, NOTHING, SHORT, SHORT_RUN, UNKNOWN
from screening.report.contact.contact_rows import EXPOSURE_NAMES
from screening.words import chance, duration, percent

SYMBOLS = {LASTS: "●", SHORT: "◐", FAILS: "○", UNKNOWN: "?"}


def verdict_of(story: Story) -> str:
    """Return the verdict's word."""
    return story.standing.verdict if story.standing else UNKNOWN


def verdict_cell(verdict: str) -> str:
    """Return a verdict with its sign."""
    return f"{SYMBOLS[verdict]} {verdict}"


def shown_cells(story: Story, horizon: float) -> dict[str, str]:
    """Return the cells of a row by the heading of their column; where nothing can be said stands unknown."""
    s = story.standing
    return {
        "rank": str(story.rank),
        "material": story.material.name,
        "verdict": verdict_cell(verdict_of(story)),
        "chance": chance(s.chance_of_lasting, story.life.size) if s else UNKNOWN,
        "plan for": duration(s.plan_for, horizon) if s else UNKNOWN,
        "median": duration(s.median, horizon) if s else UNKNOWN,
        "ends by": f"{ends_by(s.ends_by, horizon)} ({_unparted(chance(s.ends_by_share, story.life.size))})"
        if s
        else UNKNOWN,
        **{f"fuel: {EXPOSURE_NAMES[name]}": contact.outcome for name, contact in story.contacts.items()},
        "printable": story.printability.outcome,
        "print at": f"{1e3 * story.print_diameter[0]:.2f} mm" if story.print_diameter else UNKNOWN,
    }


def _unparted(words: str) -> str:
    """Return words that stay on one line."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def ends_by(mechanism: str, horizon: float) -> str:
    """End of a run in words, with the horizon [s] as a time where nothing ends it."""
    return f"nothing within {duration(horizon)}" if mechanism == NOTHING else mechanism


def legend(result: Screening) -> str:
    """Notes on the words of the shortlist, and on its order."""
    return (
        f"{SYMBOLS[LASTS]} lasts: a chance of {percent(LASTING_CHANCE)} or more of lasting the wanted "
        f"{duration(result.case.operation.target_run)}. {SYMBOLS[SHORT]} short run only: {duration(SHORT_RUN)} or more to "
        f"plan for. {SYMBOLS[FAILS]} fails: less. These limits are the project's own choice. Plan for: 19 of 20 draws last "
        "longer. Equal ranks have one verdict and cannot be told apart. What this printer cannot print stands below. What "
        "happens in the tank never sorts: a piston does not sit in it."
    )
