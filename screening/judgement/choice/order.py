"""The order of the shortlist: what can be printed first, in it what its lives are worth (`worth` holds the rule)."""

from __future__ import annotations

from collections.abc import Mapping

from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.story import Story
from screening.judgement.choice.worth import ordered, ranks

PRINTABLE, NOT_PRINTABLE, LACKS_VALUES = range(3)
"""The groups of the shortlist, in their order."""


def ranked(stories: list[Story], wanted_run: float, effective: float) -> dict[str, Story]:
    """Return the stories best first, each with its rank.

    What cannot be printed stands below what can, what lacks needed values below both; within a group the order and the shared
    ranks are those of `screening.judgement.choice.worth`.

    Parameters
    ----------
    stories : in any order
    wanted_run : [s]
    effective : how many draws the draws are worth [1]
    """
    in_order: list[Story] = []
    for group in (PRINTABLE, NOT_PRINTABLE, LACKS_VALUES):
        members = sorted((s for s in stories if group_of(s) == group), key=lambda story: story.material.name)
        places = range(len(members)) if group == LACKS_VALUES else ordered([s.life for s in members], wanted_run)
        in_order += [members[place] for place in places]
    lives = [story.life if story.standing else None for story in in_order]
    given = ranks(lives, [group_of(story) for story in in_order], wanted_run, effective)
    return {story.material.id: story.with_rank(rank) for story, rank in zip(in_order, given, strict=True)}


def group_of(story: Story) -> int:
    """Return the group of a story: what can be printed, above what cannot, above what has too few values."""
    if story.standing is None:
        return LACKS_VALUES
    return NOT_PRINTABLE if story.printability.outcome == CANNOT else PRINTABLE


def leading(stories: Mapping[str, Story]) -> list[Story]:
    """Return the stories of what can be printed and was run, best first as the stories are."""
    return [story for story in stories.values() if group_of(story) == PRINTABLE]
