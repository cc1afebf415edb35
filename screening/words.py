"""Numbers in the words and digits a builder reads: durations, shares, chances."""

from __future__ import annotations

import math

AT_ONCE = 0.05
"""What is over sooner than this [s] is over at once (the project's own choice)."""
_RULE_OF_THREE = 3


def duration(seconds: float, horizon: float = 3600.0) -> str:
    """Return a time [s] to two figures; inf is 'over' the horizon [s], NaN unknown.

    >>> [duration(seconds) for seconds in (0.01, 0.41, 12.3, 130.0, 1500.0, 3590.0, 5400.0, math.inf)]
    ['at once', '0.4 s', '12 s', '2 min 10 s', '25 min', '60 min', '1.5 h', 'over 1 h']
    """
    if math.isnan(seconds):
        return "unknown"
    if math.isinf(seconds):
        return f"over {duration(horizon)}"
    if seconds < AT_ONCE:
        return "at once"
    if seconds < 9.95:
        return f"{seconds:.1f} s"
    if seconds < 119.5:
        return f"{seconds:.0f} s"
    minutes = seconds / 60
    if minutes < 10:
        whole, rest = divmod(round(seconds / 10) * 10, 60)
        return f"{whole:.0f} min {rest:.0f} s" if rest else f"{whole:.0f} min"
    if minutes < 60:
        return f"{minutes:.0f} min"
    return f"{minutes / 60:.3g} h"


def within(seconds: float) -> str:
    """Return a time [s] as the latest for something: 'within 3.4 s', or 'at once'."""
    return duration(seconds) if seconds < AT_ONCE else f"within {duration(seconds)}"


def percent(share: float) -> str:
    """Return a share [1] in per cent; small and nearly whole ones are not rounded away.

    >>> percent(0.004), percent(0.25), percent(0.996), percent(1.0)
    ('under 1 %', '25 %', 'over 99 %', '100 %')
    """
    if math.isnan(share):
        return "unknown"
    if 0 < share < 0.01:
        return "under 1 %"
    if 0.99 < share < 1:
        return "over 99 %"
    return f"{100 * share:.0f} %"


def share_of(share: float) -> str:
    """Return a share in per cent to two figures; inf is 'without limit'.

    >>> share_of(0.00004), share_of(0.0042), share_of(0.417)
    ('under 0.01 %', '0.42 %', '42 %')
    """
    if math.isinf(share):
        return "without limit"
    cent = 100 * share
    return "under 0.01 %" if 0 < cent < 0.01 else f"{cent:.0f} %" if cent >= 9.95 else f"{cent:.2g} %"


def share_range(low: float, high: float) -> str:
    """Return a range of shares: '1 % to 30 %', '1 % upward without limit', or one share where both read alike."""
    first, last = share_of(low), share_of(high)
    if first == last:
        return first
    return f"{first} upward without limit" if math.isinf(high) else f"{first} to {last}"


def chance(share: float, draws: int) -> str:
    """Return a share of so many draws as a chance: none of them is no proof of never, nor all of them of always.

    None of n draws bounds the chance at 3/n with 95 % confidence (the rule of three: Hanley and Lippman-Hand, JAMA 249
    (1983) 1743, from memory); the bound is rounded up to whole per cent.

    >>> chance(0.0, 250), chance(0.0, 1000), chance(1.0, 1000), chance(0.25, 1000)
    ('under 2 %', 'under 1 %', 'over 99 %', '25 %')
    """
    if math.isnan(share) or draws < _RULE_OF_THREE:
        return "unknown"
    bound = math.ceil(100 * _RULE_OF_THREE / draws)
    if share < 0.01:
        return f"under {bound} %"
    if share > 0.99:
        return f"over {100 - bound} %"
    return percent(share)


def with_and(words: list[str]) -> str:
    """Return words as a list in a sentence.

    >>> with_and(["a", "b", "c"]), with_and(["a"]), with_and([])
    ('a, b and c', 'a', '')
    """
    return " and ".join(filter(None, [", ".join(words[:-1]), words[-1]])) if words else ""
