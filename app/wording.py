"""Words and colours of the app; colours keep 3:1 contrast on white and on near-black and differ without hue too."""

from __future__ import annotations

VERDICT_COLOURS = {"lasts": "#1f8f6b", "short run only": "#a8730f", "fails": "#d0524b", "unknown": "#7b8494"}

_NAMES = {
    "multiplier": "film of hot gas: how much stronger than its correlation",
    "correlation": "film of hot gas: which correlation holds",
    "burned_volume_flow": "fuel burned a minute",
    "volumetric_efficiency": "how full the engine breathes",
    "combustion_start": "when the charge starts to burn",
    "combustion_duration": "how long the charge burns",
    "wiebe_exponent": "shape of the burn",
    "plate_edge_factor": "how firmly the ring belt holds the crown",
    "pressure_variation": "how much the peak pressure varies",
    "full_charge": "how full the engine breathes at full throttle",
    "solid_share": "solid share of the print",
}


def plain_name(name: str) -> str:
    """Return an input's name as a person says it: 'abs.tensile_strength' becomes 'abs: tensile strength'."""
    if name in _NAMES:
        return _NAMES[name]
    return name.replace(".", ": ").replace("_", " ")
