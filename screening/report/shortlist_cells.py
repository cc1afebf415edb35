"""What one row of the shortlist says, in words: the same for the shared page, the terminal and the app."""

from __future__ import annotations

from screening.judgement.ranking import FAILS, LASTS, SHORT, UNKNOWN
from screening.judgement.story import Story
from screening.judgement.wording import chance, duration

SYMBOLS = {LASTS: "●", SHORT: "◐", FAILS: "○", UNKNOWN: "?"}


def verdict_of(story: Story) -> str:
    """Return the verdict's word."""
    return story.standing.verdict if story.standing else UNKNOWN


def shown_cells(story: Story, horizon: float) -> dict[str, str]:
    """Return the cells of a row by column name; what is not known says so."""
    s = story.standing
    return {
        "chance": chance(s.chance_of_lasting, story.life.size) if s else UNKNOWN,
        "plan for": duration(s.plan_for, horizon) if s else UNKNOWN,
        "median": duration(s.median, horizon) if s else UNKNOWN,
        "ends by": f"{s.ends_by} ({chance(s.ends_by_share, story.life.size)})" if s else UNKNOWN,
        **{f"fuel: {name}": contact.outcome for name, contact in story.contacts.items()},
        "printable": story.printability.outcome,
        "print at": f"{1e3 * story.print_diameter[0]:.2f} mm" if story.print_diameter else UNKNOWN,
    }
