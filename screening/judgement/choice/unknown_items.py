"""What is not known, as a builder would name it: which draws belong to one item, what measures it, how its range is known."""

from __future__ import annotations

from collections.abc import Iterable

from screening.judgement.draws.conditions import CORRELATIONS
from screening.records.materials.materials import Material
from screening.records.tables.assumptions import Assumption, load_assumptions

BURN, FILM = "burn", "film"
HOT_STRENGTH, BRITTLENESS, DECOMPOSITION = "hot_strength_shape", "brittleness", "decomposition"
_ITEMS = {
    BURN: (
        "combustion_start",
        "burn_start_error",
        "combustion_duration",
        "wiebe_exponent",
        "wiebe_efficiency",
        "running_variation",
    ),
    FILM: ("correlation", "multiplier", *(f"{name}_multiplier" for name in CORRELATIONS)),
}
_ITEMS_OF_POLYMER = {
    HOT_STRENGTH: (
        "retained_at_transition",
        "strength_gone_above_transition",
        "crystalline_strength_at_glass",
        "crystalline_strength_above_glass",
        "crystalline_strength_below_melting",
        "crystalline_strength_near_melting",
        "crystalline_glassy_span",
        "below_zero_transition_decay",
        "strength_shape_error",
    ),
    BRITTLENESS: ("elongation_at_break", "brittle_elongation", "brittle"),
    DECOMPOSITION: ("decomposition_onset", "activation_energy", "gasification_heat"),
}
_ITEM_OF = {name: item for item, names in (_ITEMS | _ITEMS_OF_POLYMER).items() for name in names}
_ROWS = {
    "burned_volume_flow": ("burn_error",),
    "volumetric_efficiency": ("throttled_charge", "full_charge"),
    "surroundings": ("mirrored_above_air",),
    "stroke": ("bore_to_stroke",),
    "bore": ("bore_to_stroke",),
}
"""Rows of the assumptions behind a draw that bears another name."""
_ENDINGS = ("", "_error", "_tolerance", "_to_bore", "_to_stroke")
_PROOF = "bursting a spare crown with oil, cold, behind a shield: see the cold proof"
_BAR = "breaking a bar printed like the crown"
_MEASURED_BY = {
    BURN: "a strobe on the flywheel, or the manual, for the spark: enter its degrees before top dead centre",
    FILM: "a temperature plug or a melted witness in the crown; a head log of the first ten minutes helps a little",
    "crown_thickness": "a calliper on the crown, or the model's own drawing",
    "burned_volume_flow": "a marked tank and a stopwatch over several minutes",
    "volumetric_efficiency": "a timed burn from a marked tank",
    "equivalence_ratio": "an exhaust lambda probe (the plug's colour tells little on alcohols)",
    "compression_ratio": "oil from a syringe into the combustion chamber at top dead centre; a compression gauge says less",
    "speed": "a tachometer, or the pitch of the exhaust note",
    "edge_factor_error": _PROOF,
    "centre_stress_error": _PROOF,
    "crankcase_film": "a thermocouple under a metal crown",
    "crankcase": "a thermometer in the crankcase oil after a run",
    "solid_share": "weighing a printed cube",
    "emissivity": "a dot of matt black high-temperature paint on the head",
    "ambient": "a thermometer",
    "surroundings": "a dot of matt black high-temperature paint on the head, which hardly mirrors",
    "skirt_wall": "a calliper",
    "ring_groove_depth": "a calliper",
    "ring_belt_height_to_bore": "a calliper",
    "bore": "a calliper",
    "stroke": "a depth gauge through the plug hole",
    "start_lasts": "a stopwatch from the first firing to steady running",
}
_MEASURED_BY_OF_POLYMER = {
    "tensile_strength": f"{_BAR}; or {_PROOF}",
    "printed_strength": f"{_BAR}; or {_PROOF}",
    BRITTLENESS: "bending a printed bar until it breaks or stays bent",
    HOT_STRENGTH: "a better source for the material's strength at heat",
}
GUESS = "guess"
_KNOWN = {
    "common practice": GUESS,
    "handbook, from memory": "handbook, from memory",
    "looked up": "published, looked up",
    "own value": "your own value",
}


def item_of(name: str) -> str:
    """Return the item to which a draw belongs: the burn's belong to 'burn', 'abs.elongation_at_break' to 'abs.brittleness'."""
    id, dot, own = name.rpartition(".")
    return id + dot + _ITEM_OF.get(own, own)


def measured_by(item: str) -> str:
    """Return the means of measuring an item; empty where none is named."""
    _, dot, own = item.rpartition(".")
    if dot:
        return _MEASURED_BY_OF_POLYMER.get(own, "a better source for the material's value")
    return _MEASURED_BY.get(item, "")


def known_by(drawn: Iterable[str], material: Material, assumed: frozenset[str]) -> str:
    """Return how the range of an item is known, in a builder's words, the weakest first.

    Parameters
    ----------
    drawn : the draws of the item
    material : whose values are among them
    assumed : names of the assumptions that were drawn; those of a polymer count always
    """
    rows = load_assumptions()
    told: list[str] = []
    for name in drawn:
        own = name.rpartition(".")[2]
        value = material.value(own) if "." in name else None
        if value is not None:
            told.append(_KNOWN.get(value.how, value.how))
            continue
        told += [_known(rows[row]) for row in _rows_of(own) if row in rows and ("." in name or row in assumed)]
    ranked = sorted(set(told), key=lambda words: (words != GUESS, words))
    return "; ".join(ranked)


def _rows_of(name: str) -> tuple[str, ...]:
    if name == "multiplier":
        return tuple(f"{correlation}_multiplier" for correlation in CORRELATIONS)
    return _ROWS.get(name) or tuple(name + ending for ending in _ENDINGS)


def _known(row: Assumption) -> str:
    """Return how an assumption is known; a study of our own names its test where the row does."""
    if row.source != "own_study":
        return _KNOWN[row.how]
    file = next((word.strip(",;") for word in f"{row.meaning} {row.note}".split() if word.startswith("tests/")), "")
    return "our own study" if file else "our own estimate"
