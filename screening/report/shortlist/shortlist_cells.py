"""What one row of the shortlist says, in words: the same for the shared page, the terminal and the app."""

from __future__ import annotations

import math

from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import (
    FAILS,
    GAMBLE,
    GAMBLE_CHANCE,
    LASTING_CHANCE,
    LASTS,
    NOTHING,
    SHORT,
    SHORT_CHANCE,
    SHORT_RUN,
    UNKNOWN,
)
from screening.sentences import TRADE, Units, worded
from screening.words import chance, duration, percent

SYMBOLS = {LASTS: "●", SHORT: "◐", GAMBLE: "◔", FAILS: "○", UNKNOWN: "?"}


def verdict_of(story: Story) -> str:
    """Return the verdict's word."""
    return story.standing.verdict if story.standing else UNKNOWN


def verdict_cell(verdict: str) -> str:
    """Return a verdict with its sign."""
    return f"{SYMBOLS[verdict]} {verdict}"


def shown_cells(story: Story, horizon: float, units: Units = TRADE) -> dict[str, str]:
    """Return the cells of a row by the heading of their column, in the units chosen; where nothing can be said stands unknown."""
    s = story.standing
    return {
        "rank": str(story.rank),
        "material": story.material.name,
        "verdict": verdict_cell(verdict_of(story)) + (", on the line" if s and s.on_the_line else ""),
        "worth": duration(s.worth, horizon) if s else UNKNOWN,
        "start breaks it": chance(s.start_breaks, story.life.size) if s else UNKNOWN,
        "if it holds, 1 in 20 gone by": _gone_by(s.holding_plan_for, horizon) if s else UNKNOWN,
        "if it holds, half gone by": _gone_by(s.holding_median, horizon) if s else UNKNOWN,
        "chance": chance(s.chance_of_lasting, story.life.size) if s else UNKNOWN,
        "ends by": f"{ends_by(s.ends_by, horizon)} ({_unparted(chance(s.ends_by_share, story.life.size))})"
        if s
        else UNKNOWN,
        "softens": worded(story.softens, units) or UNKNOWN,
        "the fuel": story.swells or UNKNOWN,
        "printable": story.printability.outcome,
        "print at": f"{1e3 * story.print_diameter[0]:.2f} mm" if story.print_diameter else UNKNOWN,
    }


def _gone_by(time: float, horizon: float) -> str:
    """Return a time [s] of what the start does not break; there is none where it breaks all."""
    return "none holds" if math.isnan(time) else duration(time, horizon)


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
        f"{duration(result.case.operation.target_run)}. {SYMBOLS[SHORT]} short run only: {percent(SHORT_CHANCE)} or more last "
        f"{duration(SHORT_RUN)}. {SYMBOLS[GAMBLE]} gamble: {percent(GAMBLE_CHANCE)} or more do. {SYMBOLS[FAILS]} fails: fewer. On "
        "the line: so few draws cannot tell on which side it stands. These limits are the project's own choice. Best first by "
        "worth: one number for the whole spread of likely lives; early failures pull it down, time beyond the wanted run adds "
        "nothing. It is there to compare, not to plan a run by; as a verdict asks for 10 s only, a lower place can have the better one. "
        "Start breaks it: guesswork until a spare crown has been burst cold, as nobody has published such a burst. Gone by: of those "
        "that the start does not break. "
        "Equal ranks cannot be told apart. What this printer cannot print stands below. What happens in the tank never sorts: "
        "a piston does not sit in it."
    )
