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

STOPPED, NOT_SEEN = "stopped by hand", "not seen"
"""What a builder says of a run whose piston was still whole, and of one whose end nobody could tell."""
AS_A_BUILDER_SAYS = {
    "crown caved in": COLLAPSE,
    "crown cracked": CRACKING,
    "ring land softened": RING_LAND,
    "piston seized": SEIZURE,
    "pin boss gave way": PIN_BOSS,
    "crown seat gave way": SEAT,
    "fuel softened it": FUEL_ATTACK,
    "cap or coating came loose": DECOMPOSITION,
    "engine stopped, too rich": FLOODING,
    "crown burned through": BURNED_THROUGH,
    "ran on, glowing": IGNITION,
}
"""What a builder writes into the result book (the case's `runs`) -> the end that is meant."""
