"""The two warnings that people look for first: does it soften, and does the fuel swell it?"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.verdict import Standing
from screening.judgement.contact.pair import Contact
from screening.quantities import ROOM_TEMPERATURE
from screening.records.materials.materials import Material
from screening.sentences import Temperature, Text, sentence
from screening.words import duration

_MILD_FIRST = ("unknown", "none", "slight", "swells", "swells strongly", "stress cracks", "dissolves")
"""Outcomes of a contact from the mildest on; what is not known stands before them."""
_IN_ENGINE = ("cold start", "running", "sump")
"""The exposures of a piston; the tank is told only where it is worse."""
_WHERE = {"soak": "in the tank", "cold start": "on a wet start", "running": "running", "sump": "in the sump"}


def softening_flag(material: Material, history: CrownHistory, standing: Standing) -> Text:
    """Return when the face gets softer than it can bear, and how much of the crown is soft at the end, of the middle draw.

    Soft is above the melting point, or above the glass transition where it does not crystallise; one that does not and
    whose glass transition lies below a warm room's temperature is limp from the start.
    """
    glass = material.value("glass_transition")
    rubbery = material.morphology != "semicrystalline" and glass is not None and glass.typical < ROOM_TEMPERATURE
    limp: Text = "limp in a warm room; " if rubbery else ""
    face, softening = history.surface[1], float(history.softening[1])
    hot = np.flatnonzero(np.isnan(face) | (face >= softening))
    if hot.size == 0:
        return sentence("{limp}face stays below {soft}", limp=limp, soft=Temperature(softening))
    at_end = int(np.argmin(np.abs(history.times - min(standing.median, float(history.times[-1])))))
    depth, whole = float(history.softened_depth[1, at_end]), history.thickness
    soft = "none" if math.isnan(depth) or depth < _LEAST_DEPTH else f"{1e3 * depth:.1f} of {1e3 * whole:.1f} mm"
    return sentence(
        "{limp}face past {soft} after {when}; {depth} soft at half time",
        limp=limp,
        soft=Temperature(softening),
        when=duration(float(history.times[hot[0]])),
        depth=soft,
    )


_LEAST_DEPTH = 5e-5
"""Depth [m] under which nothing is said to be soft: it would read 0.0 mm."""


def swelling_flag(contacts: Mapping[str, Contact]) -> str:
    """Return the worst that the fuel does to the piston, where, and what that rests on; the tank only where it is worse."""
    if not contacts:
        return "unknown"
    worst = max((contacts[name] for name in _IN_ENGINE if name in contacts), key=_badness)
    tank = contacts.get("soak")
    text = f"{worst.outcome} {_WHERE[worst.exposure]} ({worst.evidence})"
    if tank is not None and _badness(tank) > _badness(worst):
        text += f"; {tank.outcome} {_WHERE['soak']} ({tank.evidence})"
    return text


def _badness(contact: Contact) -> int:
    return _MILD_FIRST.index(contact.outcome)
