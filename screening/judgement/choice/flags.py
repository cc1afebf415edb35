"""The two warnings that people look for first: does it soften, and does the fuel swell it?"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.verdict import Standing
from screening.judgement.contact.pair import Contact
from screening.records.materials.materials import Material
from screening.sentences import Temperature, Text, sentence
from screening.words import duration

_MILD_FIRST = ("unknown", "none", "slight", "swells", "swells strongly", "stress cracks", "dissolves")
"""Outcomes of a contact from the mildest on; what is not known stands before them."""
_IN_ENGINE = ("cold start", "running", "sump")
"""The exposures of a piston; the tank is told only where it is worse."""
_WHERE = {"soak": "in the tank", "cold start": "on a wet start", "running": "running", "sump": "in the sump"}
_ROOM = 296.15


def softening_flag(material: Material, history: CrownHistory, standing: Standing) -> Text:
    """Return from which temperature on it is limp, when the face gets softer than it can bear, and how much is soft at the end.

    Limp is above the glass transition: it keeps its shape and has lost most of its stiffness. Soft is above the melting point,
    or above the glass transition where it does not crystallise. Times and depths are those of the middle draw.
    """
    glass = material.value("glass_transition")
    limp: Text = "limp above an unknown temperature"
    if glass is not None:
        limp = sentence("limp above {glass}", glass=Temperature(glass.typical))
        if glass.typical < _ROOM:
            limp = "already limp in a warm room"
    face, softening = history.surface[1], float(history.softening[1])
    gone = np.isnan(face)
    hot = np.flatnonzero(gone | (face >= softening))
    if hot.size == 0:
        return sentence("{limp}; its face stays below {soft}", limp=limp, soft=Temperature(softening))
    end = min(standing.median, float(history.times[-1]))
    at_end = int(np.argmin(np.abs(history.times - end)))
    depth, whole = float(history.softened_depth[1, at_end]), history.thickness
    soft = "none of it" if math.isnan(depth) or depth < _LEAST_DEPTH else f"{1e3 * depth:.1f} of {1e3 * whole:.1f} mm"
    return sentence(
        "{limp}; its face is past {soft} after {when}, {depth} soft when half are gone",
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
