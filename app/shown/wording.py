"""Which draws a key of the case pins down."""

from __future__ import annotations

_INFLUENCES = {
    "burned_mL": ("burned_volume_flow", "volumetric_efficiency"),
    "throttle": ("volumetric_efficiency",),
    "spark_before_top_deg": ("combustion_start",),
    "surface": ("emissivity",),
}
_UNITS = ("_mm", "_C", "_rpm")


def influences_of(key: str) -> tuple[str, ...]:
    """Return the draws that a key of the case pins down: 'crown_thickness_mm' pins 'crown_thickness'."""
    if key in _INFLUENCES:
        return _INFLUENCES[key]
    return (next((key.removesuffix(unit) for unit in _UNITS if key.endswith(unit)), key),)
