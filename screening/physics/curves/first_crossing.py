"""When does a falling limit first meet its load, or a rising quantity its threshold?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def first_crossing(times: ArrayLike, excess: ArrayLike) -> FloatArray:
    """Return the time at which `excess` first reaches zero from below, one a draw.

    Holds for a history sampled finely enough that it crosses once between samples. Between two samples the
    crossing lies on a straight line over the logarithm of time (over time itself where a time is zero),
    because warm-ups are near to straight over log t.

    Parameters
    ----------
    times : [s] (n_time,), rising, 0 or more
    excess : [any unit] (n_time, n_draw) or (n_time,), 0 or more where the limit is reached

    Returns
    -------
    [s] (n_draw,): `times[0]` if reached at the start, inf if never, NaN where a needed sample is NaN

    Raises
    ------
    OutOfRange : shapes that do not fit together, times that do not rise from 0 or more

    Example
    -------
    Half-way between 10 and 100 s over the logarithm of time:

    >>> round(float(first_crossing([1.0, 10.0, 100.0], [-3.0, -1.0, 1.0])), 2)
    31.62
    """
    moments = np.asarray(times, dtype=float)
    history = np.asarray(excess, dtype=float)
    if moments.ndim != 1 or moments.size < 2 or history.shape[:1] != moments.shape:
        raise OutOfRange(
            f"times {moments.shape} and history {history.shape}: must be (n_time,) of 2 or more and (n_time, n_draw)"
        )
    if np.any(np.diff(moments) <= 0) or moments[0] < 0:
        raise OutOfRange("times: must rise from 0 or more")
    flat = history.reshape(moments.size, -1)
    reached = ~(flat < 0)  # NaN counts as a place to stop and look
    ever = reached.any(axis=0)
    index = np.argmax(reached, axis=0)
    column = np.arange(flat.shape[1])
    before = np.maximum(index - 1, 0)
    low, high = flat[before, column], flat[index, column]
    span = np.where(high - low > 0, high - low, 1.0)
    crossing = between(moments[before], moments[index], np.clip(-low / span, 0.0, 1.0))
    crossing = np.where(index == 0, moments[0], crossing)
    crossing = np.where(np.isnan(high), np.nan, crossing)
    return np.where(ever, crossing, np.inf).reshape(history.shape[1:])


def between(start: ArrayLike, end: ArrayLike, share: ArrayLike) -> FloatArray:
    """Return the time at a share of the way from one time to another, over log t where both are above zero.

        t = t1 (t2/t1)^x, or t1 + x (t2 - t1) from zero

    Parameters
    ----------
    start : [s] t1
    end : [s] t2
    share : [1] x

    Returns
    -------
    [s] the broadcast of all

    Example
    -------
    >>> float(between(1.0, 100.0, 0.5)), float(between(0.0, 100.0, 0.5))
    (10.0, 50.0)
    """
    first, last, part = (np.asarray(value, dtype=float) for value in (start, end, share))
    straight = first + part * (last - first)
    safe = np.where(first > 0, first, 1.0)
    return np.where(first > 0, safe * (np.where(first > 0, last, 1.0) / safe) ** part, straight)
