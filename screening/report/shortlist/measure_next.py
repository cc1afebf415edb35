"""What to measure next: the items that move a material's answer most, how each is known, and the tool that measures it."""

from __future__ import annotations

from screening.judgement.choice.story import Story
from screening.words import percent

_MOST = 10
_LEAST_SHARE = 0.005
"""Less would be told as nothing."""
EXPLAINED = (
    "'Share of the doubt': how much of the doubt in the answer comes from it; the shares add up to more than the whole where items "
    "work together. A guess has no source: the answer is no better than it."
)
_NAMES = {
    "equivalence_ratio": "mixture (equivalence ratio: 1 is right, above is rich)",
    "burn": "burn timing and form",
    "film": "film of hot gas: how strongly it heats",
    "burned_volume_flow": "fuel burned a minute",
    "volumetric_efficiency": "how full the engine breathes",
    "exhaust_opening": "when the exhaust valve opens",
    "blowdown_angle": "how long the burned gas blows down",
    "overlap_angle": "how long the exhaust's pressure takes to turn into the intake's",
    "intake_closing": "when the intake valve closes",
    "intake_heating": "how much the port warms the charge",
    "exhaust_pressure_ratio": "how much the silencer holds back",
    "edge_factor_error": "how firmly the ring belt holds the crown",
    "centre_stress_error": "tension beneath the crown's centre",
    "start_variation": "how much the peak pressure varies at the start",
    "crown_gas_mixed": "share of the crown's own gas that meets fresh charge",
    "rich_limit": "how rich a mixture still burns",
    "start_lasts": "how long the start lasts",
    "start_rate_gain": "how much stronger the crown is against a short blow",
    "skirt_wall": "wall of the skirt",
    "ring_belt_height_to_bore": "height of the ring belt",
    "flexural_to_tensile": "how much more a bent bar stands than a pulled one",
    "surroundings": "what the head mirrors to the gun",
    "full_charge": "how full the engine breathes at full throttle",
    "solid_share": "solid share of the print",
}
_NAMES_OF_POLYMER = {
    "printed_strength": "strength of the print against the moulded bar",
    "hot_strength_shape": "how it loses strength as it warms",
    "brittleness": "whether it breaks before it yields",
    "decomposition": "when and how it turns to gas",
}


def plain_name(name: str) -> str:
    """Return an input's name as a person says it: 'abs.tensile_strength' becomes 'the material: tensile strength'."""
    _, dot, own = name.rpartition(".")
    if dot:
        return f"the material: {_NAMES_OF_POLYMER.get(own) or own.replace('_', ' ')}"
    return _NAMES.get(name) or name.replace("_", " ")


def measure_rows(story: Story) -> list[dict[str, str]]:
    """Return a row an item that moves the material's answer by more than chance would, the strongest first, ten at most."""
    return [
        {
            "input": plain_name(influence.name),
            "share of the doubt": percent(influence.share_of_spread),
            "how it is known": influence.known_by or "the table's range",
            "measured, cuts the range by": percent(influence.narrowing),
            "measure it with": influence.measure_by or "no simple tool",
        }
        for influence in story.influences[:_MOST]
        if influence.share_of_spread >= _LEAST_SHARE
    ]
