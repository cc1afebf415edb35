"""What a crown computation gives: temperatures, recession and energies, and the time to reach a temperature."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from screening.physics.crown.arrays import Floats, Flows, History
from screening.physics.curves.first_crossing import first_crossing


def _at_depth(depth: Floats, temperature: Floats, wanted: Floats, receded: Floats, face: Floats) -> Floats:
    """Return `(n_time, n_draw)` at one depth for each draw; of two nodes at an interface the upper counts.

    Where the node above has receded, the face at `receded` stands in for it.
    """
    upper = np.clip(np.sum(depth < wanted, axis=0) - 1, 0, depth.shape[0] - 2)[None, :]
    shallow, deep = (np.take_along_axis(depth, upper + i, axis=0)[0] for i in (0, 1))
    above, below = (np.take_along_axis(temperature, upper[None] + i, axis=1)[:, 0] for i in (0, 1))
    above = np.where(receded > shallow, face, above)
    start = np.maximum(shallow, receded)
    share = (wanted - start) / np.where(deep > start, deep - start, 1.0)
    # outside the stack there is no temperature; a rounding error beyond the last face is forgiven
    outside = (wanted < 0) | (wanted > depth[-1] * (1 + 1e-9)) | np.isnan(wanted) | (wanted < receded)
    return np.where(outside, np.nan, np.where(share == 0.0, above, above + share * (below - above)))


@dataclass(frozen=True)
class CrownHeat:
    """Temperature of a crown against depth and time.

    Attributes
    ----------
    times : `(n_time,)` [s]
    depth : from the original gas face down; faces, cell centres and both sides of each interface, `(n_depth,)` or
        `(n_depth, n_draw)` [m]
    temperature : `(n_time, n_depth[, n_draw])` [K]; NaN where the polymer has receded, and everywhere once the
        top layer is consumed
    surface_temperature : of the gas-side face of the top layer (beneath any char), wherever it then is,
        `(n_time[, n_draw])` [K]
    back_temperature : of the face beneath, same shape [K]
    recession : polymer gone from the top layer [m], same shape
    recession_speed : [m/s], same shape; 0 once the top layer is consumed
    consumed_at : when the top layer was consumed, inf if never, `()` or `(n_draw,)` [s]
    followed : the last of `times` at which the draw is known; all is NaN after it, same shape [s]
    energy_in, energy_out, energy_ring, energy_stored : through the gas face (what char and decomposition take
        included), out beneath, to the rings, and left in the stack above its start, per face area, since the
        start [J/m2]
    energy_lost : taken by decomposition: latent heat and heat content of what left [J/m2];
        in = out + ring + stored + lost
    """

    times: Floats
    depth: Floats
    temperature: Floats
    surface_temperature: Floats
    back_temperature: Floats
    recession: Floats
    recession_speed: Floats
    consumed_at: Floats
    followed: Floats
    energy_in: Floats
    energy_out: Floats
    energy_ring: Floats
    energy_stored: Floats
    energy_lost: Floats
    initial: Floats

    @classmethod
    def of(
        cls,
        times: Floats,
        depth: Floats,
        history: History,
        followed: Floats,
        initial: Floats,
        single: bool,
    ) -> CrownHeat:
        """Return the result from what the kernels wrote, without the axis of draws if there are none."""
        even = bool(np.all(depth == depth[:, :1]))

        def by_draw(part: Floats) -> Floats:
            return part[..., 0] if single else part

        return cls(
            times=times,
            depth=depth[:, 0] if even else depth,
            temperature=by_draw(history.temperature),
            surface_temperature=by_draw(history.face),
            back_temperature=by_draw(history.back),
            recession=by_draw(history.recession),
            recession_speed=by_draw(history.speed),
            consumed_at=by_draw(history.consumed),
            followed=by_draw(followed),
            energy_in=by_draw(history.energy.into),
            energy_out=by_draw(history.energy.beneath),
            energy_ring=by_draw(history.energy.ring),
            energy_stored=by_draw(history.energy.stored),
            energy_lost=by_draw(history.energy.lost),
            initial=by_draw(initial),
        )

    def held(self, values: Floats) -> Floats:
        """Return a history `(n_time[, n_draw])` that stays after `followed` as it was at the last look."""
        if np.all(self.followed == self.times[-1]):
            return values
        last = np.maximum(np.searchsorted(self.times, self.followed, side="right") - 1, 0)
        at = np.minimum(np.arange(self.times.size)[:, None], np.atleast_1d(last))
        by_draw = values.reshape(self.times.size, -1)
        return np.asarray(np.take_along_axis(by_draw, at, axis=0).reshape(values.shape))

    def temperature_at(self, depth: ArrayLike) -> Floats:
        """Return temperature at `depth` below the original gas face [m], `(n_time[, n_draw])` [K].

        Straight between nodes; NaN outside the stack and where the polymer is gone.

        Parameters
        ----------
        depth : a number, or `(n_draw,)`
        """
        field = self.temperature if self.temperature.ndim == 3 else self.temperature[..., None]
        count = field.shape[2]
        nodes = np.broadcast_to(self.depth if self.depth.ndim == 2 else self.depth[:, None], (field.shape[1], count))
        wanted = np.broadcast_to(np.asarray(depth, dtype=np.float64), count)
        receded, face = (row.reshape(-1, count) for row in (self.recession, self.surface_temperature))
        at_depth = _at_depth(nodes, field, wanted, receded, face)
        return at_depth if self.temperature.ndim == 3 else at_depth[:, 0]

    def time_to_reach(self, temperature: ArrayLike, depth: ArrayLike) -> Floats:
        """Return the time at which `depth` first is at or above `temperature` [s]; inf if not by the last of `times`.

        Interpolated between the start and `times` as straight in the square root of time (as a face warms under
        a steady flux), so `times` must be close enough for the purpose: `crown_times` gives the
        solver's own steps. Polymer that has receded counts as having reached any temperature;
        what comes after `followed` is not looked at.

        Parameters
        ----------
        temperature : [K], a number or `(n_draw,)`
        depth : below the original gas face [m], a number or `(n_draw,)`

        Returns
        -------
        `()` or `(n_draw,)` [s]; NaN where an input is NaN or the depth lies outside the stack
        """
        single = self.temperature.ndim == 2
        wanted = np.atleast_1d(np.asarray(temperature, dtype=np.float64))
        level = self.temperature_at(depth)
        count = 1 if single else level.shape[1]
        level = level.reshape(self.times.size, count)
        place = np.broadcast_to(np.asarray(depth, dtype=np.float64), count)
        receded = self.recession.reshape(self.times.size, count)
        gone = place < receded
        bottom = np.broadcast_to(self.depth[-1], count)
        unknown = np.isnan(receded).all(axis=0) | np.isnan(self.initial) | np.isnan(wanted) | np.isnan(place)
        unknown = unknown | (place < 0) | (place > bottom * (1 + 1e-9))
        # a receding face passes its own temperature on: the crossing falls between the looks before and after
        level = np.where(gone | np.isnan(level), np.inf, level)
        level = np.where(self.times[:, None] > np.atleast_1d(self.followed), -np.inf, level)
        level = np.vstack([np.broadcast_to(np.asarray(self.initial), count)[None], level])
        root = np.sqrt(np.concatenate([[0.0], self.times]))
        passed = level >= wanted
        after = np.maximum(np.argmax(passed, axis=0), 1)
        high = np.take_along_axis(level, after[None], axis=0)[0]
        low = np.take_along_axis(level, after[None] - 1, axis=0)[0]
        rise = np.where(high > low, high - low, 1.0)
        share = np.where(high == np.inf, 1.0, np.clip((wanted - low) / rise, 0.0, 1.0))
        crossing = (root[after - 1] + share * (root[after] - root[after - 1])) ** 2
        reached = np.where(passed.any(axis=0), np.where(passed[0], 0.0, crossing), np.inf)
        reached = np.where(unknown, np.nan, reached)
        return reached if not single or wanted.size > 1 else reached[0]

    def time_to_recede_at(self, speed: ArrayLike) -> Floats:
        """Return the time at which the gas face first recedes as fast as `speed` [m/s], `()` or `(n_draw,)` [s]; inf if not seen to.

        Once the face is held, what it conducts away lags behind by the square root of the time since, so the speed grows
        like that: up to the first look after, the depth gone by then, 2/3 of speed times time, tells how long it has
        been. Later straight over log t. NaN where the speed is.
        """
        limit = np.atleast_1d(np.asarray(speed, dtype=np.float64))
        gone, fast = (row.reshape(self.times.size, -1) for row in (self.recession, self.recession_speed))
        late = self.times[:, None] > np.atleast_1d(self.followed)
        reached = first_crossing(self.times, np.where(late, -np.inf, fast - limit))
        first = np.argmax(gone > 0, axis=0)
        depth, pace = (np.take_along_axis(row, first[None], axis=0)[0] for row in (gone, fast))
        since = 1.5 * depth / np.where(pace > 0, pace, np.inf)
        since = np.minimum(since, self.times[first] - self.times[np.maximum(first - 1, 0)])
        early = self.times[first] - since * (1 - (limit / np.where(pace > 0, pace, np.inf)) ** 2)
        reached = np.where((pace >= limit) & (first > 0), early, reached)
        return reached if self.recession.ndim == 2 or limit.size > 1 else reached[0]


@dataclass(frozen=True)
class SteadyCrown:
    """The state that a crown settles to; shapes as in `CrownHeat`, without time.

    Attributes
    ----------
    depth [m], temperature [K] : `(n_depth[, n_draw])`
    surface_temperature, back_temperature : [K]
    heat_in, heat_out, heat_ring : through the gas face, out beneath, to the rings [W/m2]
    """

    depth: Floats
    temperature: Floats
    surface_temperature: Floats
    back_temperature: Floats
    heat_in: Floats
    heat_out: Floats
    heat_ring: Floats

    @classmethod
    def of(cls, depth: Floats, temperature: Floats, flow: Flows, single: bool) -> SteadyCrown:
        """Return the result from the solver's arrays, without the axis of draws if there are none."""
        even = bool(np.all(depth == depth[:, :1]))
        field = temperature[:, 0] if single else temperature
        into, beneath, ring = (part[0] if single else part for part in (flow.into, flow.beneath, flow.ring))
        return cls(depth[:, 0] if even else depth, field, field[0], field[-1], into, beneath, ring)
