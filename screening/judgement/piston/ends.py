"""The names of what ends a run; each stands in the file of its mechanism."""

from __future__ import annotations

COLLAPSE = "crown collapse"
CRACKING = "crown cracks"
RING_LAND = "ring land softens"
SEIZURE = "skirt seizes"
PIN_BOSS = "pin boss yields"
SEAT = "crown seat yields"
FUEL_ATTACK = "fuel attack"
DECOMPOSITION = "decomposition"
FLOODING = "engine stops, too rich"
BURNED_THROUGH = "crown burns through"
IGNITION = "surface ignition"
