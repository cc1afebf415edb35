"""What is the hot crown's section made of: how deep, how hot, of which layers, and how much of it is gone?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.strength.plate_kernel import Sections
from screening.physics.strength.strength_curve import StrengthCurve


@dataclass(frozen=True)
class CrownSection:
    """The section of a crown through its depth, as it warms.

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw), from the gas face down; equal depths mark an interface
    temperature : [K] (n_time, n_depth) or (n_time, n_depth, n_draw)
    curves : one StrengthCurve, or one for each layer
    layer : (n_depth - 1,) which of the curves each cell (from node i to i + 1) follows; None: the only one
    recession : [m] (n_time, n_draw) or (n_draw,), depth of material lost from the gas face
    bonded : True when the layers bend as one section; False when they slide and only add their moments

    Raises
    ------
    OutOfRange : shapes that do not fit together, a depth that falls, layers without a curve
    """

    depth: ArrayLike
    temperature: ArrayLike
    curves: StrengthCurve | Sequence[StrengthCurve]
    layer: ArrayLike | None = None
    recession: ArrayLike = 0.0
    bonded: bool = True

    def __post_init__(self) -> None:
        nodes, field = np.asarray(self.depth, dtype=float), np.asarray(self.temperature, dtype=float)
        curves = (self.curves,) if isinstance(self.curves, StrengthCurve) else tuple(self.curves)
        if field.ndim not in (2, 3) or nodes.ndim not in (1, 2) or field.shape[1:2] != nodes.shape[:1]:
            raise OutOfRange(
                f"depth {nodes.shape} and temperature {field.shape}: must be (n_depth[, n_draw]) and "
                "(n_time, n_depth[, n_draw])"
            )
        if np.any(np.diff(nodes, axis=0) < 0):
            raise OutOfRange("depth: must not fall from node to node")
        cells = nodes.shape[0] - 1
        if self.layer is None and len(curves) > 1:
            raise OutOfRange(f"layer: got None with {len(curves)} curves, must name the curve of each cell")
        layer = np.zeros(cells) if self.layer is None else np.asarray(self.layer)
        if layer.shape != (cells,) or np.any((layer < 0) | (layer >= len(curves)) | (layer != layer.astype(int))):
            raise OutOfRange(
                f"layer: got shape {layer.shape}, must be ({cells},) whole numbers, 0 to {len(curves) - 1}"
            )

    def draws(self, *others: FloatArray) -> tuple[int, ...]:
        """Return (n_draw,) of this section and of other numbers or (n_draw,), or () where nothing has draws."""
        sizes = [np.shape(self.temperature)[2:], np.shape(self.depth)[1:], np.shape(self.recession)[-1:]]
        sizes += [item.shape[1:] for curve in self._curves() for item in (curve.temperature, curve.strength)]
        return np.broadcast_shapes(*sizes, *(other.shape for other in others))

    def for_draws(self, n_draw: int) -> Sections:
        """Return every array with its draw axis, as the kernel takes them."""
        curves = self._curves()
        nodes, field = np.asarray(self.depth, dtype=float), np.asarray(self.temperature, dtype=float)
        lost = np.atleast_2d(np.asarray(self.recession, dtype=float))
        count = np.array([curve.temperature.shape[0] for curve in curves], dtype=np.int64)
        knots = np.full((len(curves), int(count.max()), n_draw), np.nan)
        heights = knots.copy()
        for row, curve in enumerate(curves):
            knots[row, : count[row]] = curve.temperature.reshape(count[row], -1)
            heights[row, : count[row]] = curve.strength.reshape(count[row], -1)
        cells = nodes.shape[0] - 1
        return Sections(
            depth=contiguous(nodes if nodes.ndim == 2 else nodes[:, None], (nodes.shape[0], n_draw)),
            temperature=contiguous(field if field.ndim == 3 else field[:, :, None], (*field.shape[:2], n_draw)),
            knots=knots,
            heights=heights,
            knot_count=count,
            layer=np.zeros(cells, dtype=np.int64) if self.layer is None else np.asarray(self.layer).astype(np.int64),
            recession=contiguous(lost, (field.shape[0], n_draw)),
            bonded=self.bonded,
        )

    def _curves(self) -> tuple[StrengthCurve, ...]:
        return (self.curves,) if isinstance(self.curves, StrengthCurve) else tuple(self.curves)


def contiguous(array: FloatArray, shape: tuple[int, ...]) -> FloatArray:
    """Return the array broadcast to `shape`, contiguous and writeable, the one kind that kernels are compiled for."""
    whole = array if array.shape == shape else np.broadcast_to(array, shape)
    return np.require(whole, dtype=np.float64, requirements=["C", "W"])
