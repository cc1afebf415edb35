"""What is known of a contact beside theory: the user's own soak tests first, then published observations.

Evidence of the very pair gives the outcome; what it teaches about others is told by `contact_learning`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from screening.judgement.case.case import Case, SoakTest
from screening.judgement.contact.liquids import (
    Shares,
    WettingLiquid,
    fuel_shares,
    plain_liquid,
    shared_volume,
    wetting_liquids,
)
from screening.judgement.contact.nature import PolymerNature
from screening.judgement.contact.outcome_words import WORDS, swell_level
from screening.physics.contact.diffusion import diffusion_at, slab_filled_share
from screening.quantities import ROOM_TEMPERATURE
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.liquids.pure_liquids import curated_names
from screening.records.materials.spheres import ContactObservation, load_observations
from screening.records.tables.sources import source
from screening.sentences import Temperature, Text, sentence

SEEN_WORDS = {"unchanged": "none", "gummy": "swells strongly", "cracked": "stress cracks"}
"""What a person says of a soaked sample -> outcome word; what is gummy has taken up far more than 15 % by volume."""
SAME_PAIR = 0.98
"""Volume shared by two liquids from which they count as the same."""
NEAR_TEMPERATURE = 25.0
"""A published contact speaks for temperatures this near its own [K] (the project's own choice)."""
_TRUST = {"looked up": 2, "handbook, from memory": 1, "common practice": 0}


@dataclass(frozen=True, eq=False)
class Evidence:
    """One outcome that was seen, and how it is told.

    `swell` by volume [1] (NaN: not measured); `filled` share of the final uptake reached by then (NaN: as after six
    weeks); `liquid` the fluid as one liquid (None: not known); `temperature` [K]; `trust` 3 own, 2 looked up,
    1 remembered, 0 common practice.
    """

    kind: str
    outcome: str
    swell: float
    filled: float
    liquid: WettingLiquid | None
    shares: Shares
    temperature: float
    trust: int
    source: str
    told: Text


def own_soaks(nature: PolymerNature, case: Case | None) -> tuple[Evidence, ...]:
    """Return the case's soak tests of this material (or of the polymer it is based on), as evidence."""
    tests = () if case is None else case.soak_tests
    return tuple(
        _from_soak(nature, test, number)
        for number, test in enumerate(tests, start=1)
        if test.material in (nature.id, nature.base)
    )


def soak_swell(nature: PolymerNature, test: SoakTest) -> float:
    """Return the volume swell of a soak test [1], from its masses, else from its sizes; NaN where neither is given."""
    if test.mass_before and test.mass_after is not None:
        liquid = test.fluid.density or 850.0
        return (test.mass_after - test.mass_before) / test.mass_before * nature.density / liquid
    if test.size_before and test.size_after is not None:
        return (test.size_after / test.size_before) ** 3 - 1
    return math.nan


def swell_word(swell: float) -> str:
    """Return the outcome word of a measured volume swell [1]; a loss counts by its size."""
    return WORDS[int(swell_level(abs(swell)))]


def _from_soak(nature: PolymerNature, test: SoakTest, number: int) -> Evidence:
    swell = soak_swell(nature, test)
    outcome = SEEN_WORDS.get(test.outcome, test.outcome) if test.outcome else swell_word(swell)
    measured = "" if math.isnan(swell) else f", volume change {100 * swell:+.1f} %"
    hours = "" if test.time is None else f" after {test.time / 3600:g} h"
    told = sentence(
        "Own soak test {number}: {material} in {fluid} at {temperature}{hours}: {outcome}{measured}.",
        number=str(number),
        material=test.material,
        fluid=test.fluid.name,
        temperature=Temperature(test.temperature),
        hours=hours,
        outcome=outcome,
        measured=measured,
    )
    filled = 1.0
    if test.time is not None and np.isfinite(nature.diffusion).all():
        thickness = test.size_before or 3e-3
        coefficient = diffusion_at(10.0 ** nature.diffusion[1], nature.activation[1], test.temperature)
        filled = float(slab_filled_share(coefficient, test.time, thickness))
    return Evidence(
        kind="own soak",
        outcome=outcome,
        swell=swell,
        filled=max(filled, 0.02),
        liquid=first_liquid(test.fluid),
        shares=fuel_shares(test.fluid),
        temperature=test.temperature,
        trust=3,
        source=f"own soak test {number}",
        told=told,
    )


@lru_cache(maxsize=256)
def published(nature: PolymerNature) -> tuple[Evidence, ...]:
    """Return the published contacts of a material; of a filled one also those of the unfilled polymer."""
    table = load_observations()
    ids = (nature.id, nature.base) if nature.filler > 0 and nature.base != nature.id else (nature.id,)
    rows = next((table[id] for id in ids if id in table), ())
    return tuple(_from_row(row) for row in rows)


def _from_row(row: ContactObservation) -> Evidence:
    kelvin = row.temperature if math.isfinite(row.temperature) else ROOM_TEMPERATURE
    state = f" ({row.state})" if row.state else ""
    note = f"; {row.note}" if row.note else ""
    change = "" if math.isnan(row.volume_change) else f", volume change {100 * row.volume_change:+.0f} %"
    short = source(row.source).short
    told = sentence(
        "Published: {material}{state} in {fluid} at {temperature}: {outcome}{change} [{source}, {how}{note}].",
        material=row.material,
        state=state,
        fluid=row.fluid,
        temperature=Temperature(kelvin),
        outcome=row.outcome,
        change=change,
        source=short,
        how=row.how,
        note=note,
    )
    liquid, shares = _met(row.fluid, row.cas)
    return Evidence("published", row.outcome, row.volume_change, math.nan, liquid, shares, kelvin,
                    _TRUST[row.how], f"{short} ({row.how})", told)  # fmt: skip


@lru_cache(maxsize=512)
def _met(fluid: str, cas: str) -> tuple[WettingLiquid | None, Shares]:
    """Return the fluid of a row as one liquid (None: not known) and what it is made of."""
    shares = ((cas or fluid, 1.0),)
    if cas and cas not in curated_names():
        try:
            return plain_liquid(fluid, cas), shares
        except LookupError:
            return None, shares
    try:
        fuel = find_fuel(cas or fluid)
    except (LookupError, ValueError):
        return None, shares
    return first_liquid(fuel), shares if cas else fuel_shares(fuel)


def first_liquid(fuel: Fuel) -> WettingLiquid | None:
    """Return a fuel as one liquid; None where its Hansen parameters or molar volume are not known."""
    return next(iter(wetting_liquids(fuel)), None)


def of_the_pair(evidence: Sequence[Evidence], fuel: Fuel, temperature: float) -> tuple[Evidence, ...]:
    """Observations of this very liquid near this temperature, the most trusted and nearest first."""
    shares = fuel_shares(fuel)
    return nearest_first([e for e in evidence if shared_volume(e.shares, shares) >= SAME_PAIR], temperature)


def nearest_first(seen: Sequence[Evidence], temperature: float) -> tuple[Evidence, ...]:
    """Observations near a temperature, the most trusted first, of these the nearest."""
    near = [e for e in seen if abs(e.temperature - temperature) <= NEAR_TEMPERATURE]
    return tuple(sorted(near, key=lambda e: (-e.trust, abs(e.temperature - temperature))))


def deciding(same: Sequence[Evidence], loaded: bool) -> Evidence | None:
    """Return the row that gives the outcome: among the most trusted the worst, for a printed part also under load.

    A crack under load counts whatever the trust: a print carries stress of its own.
    """
    if not same:
        return None
    cracks = [e for e in same if e.outcome == "stress cracks"]
    best = [e for e in same if e.trust == same[0].trust]
    worst = max(best, key=lambda e: WORDS.index(e.outcome))
    if loaded and cracks and WORDS.index(worst.outcome) < WORDS.index("stress cracks"):
        return cracks[0]
    return worst
