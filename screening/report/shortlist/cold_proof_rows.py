"""A cold proof before running: at what pressure each print should burst, how to try it safely, and what it did to the answer."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from screening.judgement.choice.own_evidence import OwnEvidence, range_in_words
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import QUANTILES
from screening.judgement.piston.cold_proof import FILL, PROOF_FACTOR, stored_energy

STEP = 5e5
"""Steps in which the pressure is raised [Pa]."""
NOT_TOLD = (
    "It tells how strong this crown is cold, as one number. Nothing of heat, of the "
    "ring land, the pin bosses or the fit, and nothing of fatigue.",
    "Slow oil flatters a brittle crown: the engine strikes it, thousands of times, and heat pulls on its underside besides. What "
    "holds a proof may still crack in the engine.",
    "A print that was proofed is spent: it may be crazed where nobody sees it.",
)
"""What a cold proof does not tell."""


def proof_pressure(result: Screening) -> float:
    """Return the pressure that a proofed print must hold, in whole steps [Pa]: the start's load that 19 of 20 draws stay below,
    times `PROOF_FACTOR`."""
    highest = float(np.quantile(result.gas["start_load"], QUANTILES[2]))
    return math.ceil(PROOF_FACTOR * highest / STEP) * STEP


def burst_rows(result: Screening, stories: Iterable[Story]) -> list[dict[str, str]]:
    """Return a row a material whose crown can be proofed: at what pressure it bursts cold, and how that stands to the proof's.

    Parameters
    ----------
    result : Screening
    stories : of the materials asked for

    Returns
    -------
    list of dict
        Cells by the title of their column.
    """
    asked = proof_pressure(result)
    rows = []
    for story in stories:
        if story.bursts_at is None:
            continue
        low, middle, high = (pressure / 1e5 for pressure in story.bursts_at)
        rows.append(
            {
                "material": story.material.name,
                "bursts cold at": f"{middle:.0f} bar",
                "18 in 20 draws": f"{low:.0f} to {high:.0f} bar",
                f"a proof to {asked / 1e5:.0f} bar": _held(asked, story.bursts_at),
            }
        )
    return rows


def _held(asked: float, bursts_at: tuple[float, ...]) -> str:
    low, middle, high = bursts_at
    if asked <= low:
        return "should hold"
    return "may burst it" if asked <= middle else "probably bursts it" if asked <= high else "bursts it"


def how_to_try(result: Screening) -> list[str]:
    """Return how a cold proof is made without harm, in the order of doing; empty where no crown of the case can be proofed."""
    if all(story.bursts_at is None for story in result.stories.values()):
        return []
    asked = proof_pressure(result)
    oil, air = stored_energy(asked)
    middle, highest = np.quantile(result.gas["start_load"], QUANTILES[1:]) / 1e5
    return [
        "Local rules come first, and a licensed professional where they ask for one: this is pressure work.",
        "Two spare prints, as printed for the engine: one to hold, one to burst. Neither ever runs. Either may burst at any step: goggles and "
        "shield from the first one on; if the one that was to hold bursts, that is your result.",
        "The rig: a thick steel cylinder of the bore's size with a blind plate on top, an O-ring around the crown land, the pin in a "
        "fork that takes the load as the rod would.",
        f"Sink the rig in oil and fill it there, crown up, until no bubble is left, and never press with gas: {1e6 * FILL:.0f} mL at "
        f"{asked / 1e5:.0f} bar hold {oil:.1g} J as oil and {air:.0f} J as air, enough to throw the pieces through a shield.",
        "A hand pump with a gauge and a relief valve set a step above what the print is to see; rig, hose and gauge rated for more than the pump can give. A grease gun passes 300 bar.",
        "An oil jet goes through skin, perhaps from 7 bar, and a pinhole wound is for the hospital at once, however small it looks. "
        "A closed shield around the rig, nobody in line with crown, plate or hose, hands off while it stands under pressure; let the "
        "pressure off before you look.",
        f"Steps of {STEP / 1e5:.0f} bar, 10 s each. The first print to {asked / 1e5:.0f} bar, {PROOF_FACTOR:g} times the "
        f"{highest:.0f} bar that the start strikes with in one draw of twenty (half the time {middle:.0f}), rounded up: note that it held. The second until it bursts: note the last "
        "pressure.",
    ]


def moved_rows(own: OwnEvidence) -> list[dict[str, str]]:
    """Return a row for each foretold quantity that the builder's evidence moved."""
    return [
        {
            "what is foretold": m.what,
            "before": range_in_words(m.before, m.unit),
            "with your evidence": range_in_words(m.after, m.unit),
        }
        for m in own.moved
    ]
