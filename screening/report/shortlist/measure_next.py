"""What to measure next: the inputs that move a material's time most, in words, with the tool that measures them."""

from __future__ import annotations

from screening.judgement.choice.sensitivity import tellable_share
from screening.judgement.choice.story import Story
from screening.words import percent

_MOST = 8
_LEAST_SHARE = 0.01
_NAMES = {
    "equivalence_ratio": "mixture (equivalence ratio: 1 is right, above is rich)",
    "multiplier": "film of hot gas: how much stronger than its correlation",
    "correlation": "film of hot gas: which correlation holds",
    "burned_volume_flow": "fuel burned a minute",
    "volumetric_efficiency": "how full the engine breathes",
    "combustion_start": "when the charge starts to burn",
    "combustion_duration": "how long the charge burns",
    "wiebe_exponent": "shape of the burn",
    "wiebe_efficiency": "how complete the burn is at its end",
    "exhaust_opening": "when the exhaust valve opens",
    "blowdown_angle": "how long the burned gas blows down",
    "overlap_angle": "how long the exhaust's pressure takes to turn into the intake's",
    "intake_closing": "when the intake valve closes",
    "intake_heating": "how much the port warms the charge",
    "exhaust_pressure_ratio": "how much the silencer holds back",
    "plate_edge_factor": "how firmly the ring belt holds the crown",
    "pressure_variation": "how much the peak pressure varies",
    "surroundings": "what the head mirrors to the gun",
    "full_charge": "how full the engine breathes at full throttle",
    "solid_share": "solid share of the print",
}


def plain_name(name: str) -> str:
    """Return an input's name as a person says it: 'abs.tensile_strength' becomes 'abs: tensile strength'."""
    return _NAMES.get(name) or name.replace(".", ": ").replace("_", " ")


def measure_rows(story: Story) -> list[dict[str, str]]:
    """Return a row an input that moves the material's time by more than chance would, the strongest first."""
    least = max(_LEAST_SHARE, tellable_share(max(story.life.size, 1)))
    return [
        {
            "input": plain_name(influence.name),
            "share of the spread": percent(influence.share_of_spread),
            "narrows the range by": percent(influence.narrowing),
            "measure it with": influence.measure_by or "no simple tool",
        }
        for influence in story.influences[:_MOST]
        if influence.share_of_spread >= least
    ]
