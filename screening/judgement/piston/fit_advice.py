"""Making it fit: the diameters to print, the compression that the gap costs, the gap that the top ring needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.contact.pair import Contact
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.print_sizes import ring_gaps
from screening.judgement.piston.stack import ring_in_metal
from screening.physics.cylinder.volume import swept_volume
from screening.physics.skirt.fit import compression_with_crevice, crevice_volume, diameter_range
from screening.records.tables.assumptions import load_assumptions

Range = tuple[float, float, float]
_QUANTILES = (0.05, 0.5, 0.95)
_SWELLS = 0.01
"""Volume swell in the soak from which a part that stood wet no longer fits [1]: a third of a per cent of the bore (the
project's own choice)."""
EDGE_BREAK = 2e-4
"""What edges and rounding take of a ring's flank [m] (common practice, no source)."""
LEAST_FLANK = 0.5
"""Share of the ring that must lie on its flank at the worst [1] (common practice, no source)."""
_NO_PART = 1e-3
"""Growth on the diameter [m] from which what stood in the fuel is no part to be measured any more (the project's choice)."""
_WORTH_SAYING = 0.02
"""Loss of compression ratio that a builder hears of [1] (the project's own choice)."""

_METAL_LAND = "The crown land and the ring grooves are metal: their sizes and the rings' gaps stay the metal piston's."


@dataclass(frozen=True)
class FitAdvice:
    """What to print and to file so that the piston fits.

    Parameters
    ----------
    skirt : [m] diameter to print the skirt at (too large in one draw of twenty), median, and the other end
    land : [m] the same for the crown land, from the face to the top ring; None where it is metal, or grows by no published
        modulus
    compression : [1] compression ratio left with the land printed at `land[0]`, 5th, 50th and 95th percentile, cold
    compression_lost : [1] how much less that is than the metal piston's, the same percentiles
    ring_gap : [m] cold end gap at which the hot top ring's ends just do not butt, 50th and 95th percentile; None where
        the ring sits in metal
    sentences : the advice in words
    """

    skirt: Range
    land: Range | None
    compression: Range | None
    compression_lost: Range | None
    ring_gap: tuple[float, float] | None
    sentences: tuple[str, ...]


def fit_advice(
    case: Case,
    draws: Conditions,
    polymer: Polymer,
    skirt: Range,
    land_sizes: FloatArray | None,
    contacts: Mapping[str, Contact],
) -> FitAdvice:
    """Return the advice for one polymer.

    Parameters
    ----------
    skirt : the range of the skirt's diameter to print [m]
    land_sizes : the crown land's in the first draws, (n_few,) [m], here never more than the skirt's, which guides the
        piston; None where its growth cannot be computed
    contacts : exposure -> what the fuel does to the polymer
    """
    advice = [_skirt_sentence(draws, skirt), *_swollen_sentence(draws, contacts)]
    if ring_in_metal(case):
        return FitAdvice(skirt, None, None, None, None, (*advice, _METAL_LAND))
    middle, high = (float(gap) for gap in np.quantile(ring_gaps(case, draws), (0.5, 0.95)))
    ring = _ring_sentence(middle, high)
    if land_sizes is None:
        advice += [_no_modulus_sentence(polymer), ring]
        return FitAdvice(skirt, None, None, None, (middle, high), tuple(advice))
    low, typical, far = diameter_range(land_sizes)
    land = (min(low, skirt[0]), min(typical, skirt[1]), min(far, skirt[2]))
    left, lost = _compression(draws, land[0])
    advice += [
        _land_sentence(draws, land),
        _compression_sentence(draws, left, lost),
        ring,
        _groove_sentence(draws, land),
    ]
    return FitAdvice(skirt, land, left, lost, (middle, high), tuple(advice))


def _compression(draws: Conditions, land: float) -> tuple[Range, Range]:
    """Return the compression ratio left and that lost, cold, with a land drawn at `land` [m].

    Only the gap beyond the metal piston's counts, as that one is in the engine's compression ratio.
    """
    bore, height = draws["bore"], draws["ring_groove_depth"]
    metal = crevice_volume(bore, bore * (1 - draws["metal_land_clearance_to_bore"]), height)
    polymer = crevice_volume(bore, land + draws["print_size_error"], height)
    whole = draws["compression_ratio"]
    left = compression_with_crevice(
        whole, swept_volume(bore, draws["stroke"]), polymer - metal, draws["crevice_density_ratio"]
    )
    return _range(left), _range(whole - left)


def _range(values: FloatArray) -> Range:
    low, middle, high = (float(value) for value in np.quantile(values, _QUANTILES))
    return low, middle, high


def _skirt_sentence(draws: Conditions, skirt: Range) -> str:
    low, middle, high = (f"{1e3 * size:.2f}" for size in skirt)
    bore, assumed = float(np.median(draws["bore"])), load_assumptions()
    clear = _clearance(draws, skirt[0])
    length = assumed["skirt_length_to_bore"].typical * bore
    plastic, metal = (assumed[f"{kind}_bearing_clearance"] for kind in ("plastic", "metal"))
    return (
        f"Print the skirt at {low} mm (over the draws {low} to {high}, median {middle} mm). Cold it then has about "
        f"{_mm(clear)} of clearance on the diameter, {_percent(clear / bore)} % of the bore, and slaps until it is warm; a guiding "
        f"surface {1e3 * length:.0f} mm long lets it tilt by {np.degrees(np.arctan(clear / length)):.1f} degrees. For comparison: "
        f"plastic bearings have {_percent(plastic.low)} to {_percent(plastic.high)} % of their diameter, metal ones "
        f"{_percent(metal.low)} to {_percent(metal.high)} %."
    )


def _land_sentence(draws: Conditions, land: Range) -> str:
    low, middle, high = (f"{1e3 * size:.2f}" for size in land)
    height = float(np.median(draws["ring_groove_depth"]))
    return (
        f"Print the crown land, the {1e3 * height:.1f} mm from the face down to the top ring, at {low} mm (over the draws {low} to "
        f"{high}, median {middle} mm): it heats before the bore does."
    )


def _compression_sentence(draws: Conditions, left: Range, lost: Range) -> str:
    if lost[2] < _WORTH_SAYING:
        return "The gap around the land costs no compression to speak of."
    whole = float(np.median(draws["compression_ratio"]))
    return (
        f"Cold, the gap around the land leaves a compression ratio of about {left[1]:.1f} where the metal piston has {whole:.1f} "
        f"({max(lost[0], 0):.2f} to {lost[2]:.2f} lost); what blows past the rings comes on top."
    )


def _no_modulus_sentence(polymer: Polymer) -> str:
    return (
        f"How much the crown land grows is unknown: no deflection temperature was found for {polymer.material.name}. Make "
        "it smaller than the skirt."
    )


def _ring_sentence(middle: float, high: float) -> str:
    return (
        f"Give the top ring a cold end gap of {_mm(high)} or more (median {_mm(middle)}), pushed square into the bore and "
        "measured there: polymer takes no heat from the ring, so it runs hotter than in metal, and ends that butt jam it in "
        "the bore. Measure the depth of the ring grooves from the printed land, so that their root is smaller too and does not "
        "push the rings out when it grows."
    )


def _groove_sentence(draws: Conditions, land: Range) -> str:
    """Return how deep to make the ring's groove, and how much of the ring's flank lies on the land at the worst."""
    ring, behind = (float(np.median(draws[name])) for name in ("ring_depth", "ring_back_clearance"))
    gap = _clearance(draws, land[0])
    flank = ring - gap - EDGE_BREAK
    text = (
        f"Make the top ring's groove {_mm(ring - gap / 2 + behind)} deep from the printed land, for a ring {ring * 1e3:.1f} mm "
        "thick from its face to its back"
    )
    if flank >= LEAST_FLANK * ring:
        return f"{text}; with the land pushed to one side of the bore {_mm(flank)} of it still lies on the flank."
    return (
        f"{text}. With the land pushed to one side of the bore only {_mm(max(flank, 0.0))} of it lies on the flank, less than half: "
        "the ring may twist out of its groove, so use a thicker ring or guide the land closer and accept that it rubs."
    )


def _clearance(draws: Conditions, printed: float) -> float:
    """Return the cold clearance on the diameter of a part drawn at `printed` [m], in the middle draw [m]."""
    return float(np.median(draws["bore"] - printed - draws["print_size_error"]))


def _percent(share: float) -> str:
    return f"{100 * share:.2g}"


def _swollen_sentence(draws: Conditions, contacts: Mapping[str, Contact]) -> list[str]:
    soak = contacts.get("soak")
    if soak is None or not soak.volume_swell >= _SWELLS:
        return []
    if not np.isfinite(soak.volume_swell):
        return ["Never fit one that has stood in the fuel: it dissolves."]
    grown = float(np.median(draws["bore"])) * (np.cbrt(1 + soak.volume_swell) - 1)
    if grown > _NO_PART:
        return ["Never fit one that has stood in the fuel: it would have grown far beyond the bore."]
    return [
        f"One that has stood in the fuel may have grown by {_mm(grown)} on the diameter: measure it before it goes in, or it seizes."
    ]


def _mm(length: float) -> str:
    return f"{1e3 * length:.2f} mm"
