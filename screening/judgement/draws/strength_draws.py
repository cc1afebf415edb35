"""What the table's rows say of a polymer's strength: which bars they are of, what was measured hot, what water takes."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.draws.sampling import drawn_value
from screening.physics.strength.conditioned import conditioned_strength
from screening.physics.strength.measured_strength import measured_strength
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE
from screening.records.materials.materials import Material, Value

_AT_ROOM = 10.0
"""A point measured this near to 23 degC [K] is what the hot ones of its curve are shares of."""


def printing_loss(value: Value, assumed: Mapping[str, FloatArray]) -> FloatArray:
    """Return the share of a row's strength that a solid print keeps along its strands.

    Strength measured on printed bars has lost already what printing takes, that on moulded ones loses `printed_strength`.
    Where the row does not say or mixes both, `moulded_share` of the loss is taken: drawn evenly between none and all of
    it, since neither is the likelier.

    Parameters
    ----------
    value : Value
        The row of the tensile strength that is drawn from.
    assumed : mapping
        Draws of `printed_strength` and `moulded_share`, (n_draw,) [1].

    Returns
    -------
    array (n_draw,)
        At most 1 [1].
    """
    kept = np.minimum(assumed["printed_strength"], 1.0)
    moulded = {"printed": 0.0, "moulded": 1.0}.get(value.bars, assumed["moulded_share"])
    return np.asarray(1 - moulded * (1 - kept))


def with_measured_points(material: Material, curve: StrengthCurve, n_draw: int, seed: int) -> StrengthCurve:
    """Return the curve through the hot strengths that were measured on the material; as it is where none were."""
    points = material.curve("tensile_strength")
    main = material.value("tensile_strength")
    hot = [point for point in points if point.temperature > ROOM_TEMPERATURE + _AT_ROOM]
    if not hot or main is None:
        return curve
    cold = next((point for point in points if abs(point.temperature - ROOM_TEMPERATURE) <= _AT_ROOM), main)
    drawn = [drawn_value(f"{material.id}.tensile_strength at {p.temperature:.0f} K", p, n_draw, seed) for p in hot]
    return measured_strength([point.temperature for point in hot], np.stack(drawn) / cold.typical, curve)


def share_when_conditioned(material: Material, n_draw: int, seed: int) -> FloatArray | None:
    """Return the conditioned over the dry strength at 23 degC (n_draw,) [1]; None where no row gives the conditioned one.

    Both are drawn alike: what is strong for its kind when dry is so when conditioned.
    """
    dry, wet = material.value("tensile_strength"), material.value("tensile_strength", "conditioned")
    if dry is None or wet is None:
        return None
    name = f"{material.id}.tensile_strength"
    return np.minimum(drawn_value(name, wet, n_draw, seed) / drawn_value(name, dry, n_draw, seed), 1.0)


def when_conditioned(
    curve: StrengthCurve, share: FloatArray | None, assumed: Mapping[str, FloatArray]
) -> StrengthCurve:
    """Return the curve of the conditioned polymer; as it is where nothing is known of it."""
    return curve if share is None else conditioned_strength(curve, share, assumed["water_felt_until"])
