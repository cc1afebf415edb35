"""Where the head's surface is, draw by draw: from a gun's reading or a run log, by the surface's emissivity."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.judgement.case.case import Case
from screening.judgement.draws.sampling import drawn
from screening.judgement.head.run_log import read_log
from screening.physics.head.thermometry import can_be_read, surface_temperature
from screening.quantities import from_si
from screening.records.tables.surfaces import find_surface

LEAST_OILED = 0.05
"""Share of draws [1] whose bore its oil must stand, or the case is refused (the project's choice)."""
MOST_IMPOSSIBLE = 0.1
"""Share of draws [1] that may contradict the reading before the case is refused (the project's choice)."""


@dataclass(frozen=True)
class HeadDraws:
    """Draws (n_draw,) of what the head's reading depends on.

    Parameters
    ----------
    reading, ambient : array (n_draw,)
        What the gun shows once settled, and the air [K].
    surroundings, gun_compensates_for : array (n_draw,)
        What the surface mirrors, and what the gun takes that to be [K].
    emissivity : array (n_draw,)
        Of the surface [1].
    warm_up_time : array (n_draw,) or None
        Time constant of the log's warm-up [s]; None without a log.
    surface : array (n_draw,)
        Temperature of the head's surface [K].
    liner_below_head : array (n_draw,)
        How much cooler the bore is than that [K].
    redrawn : float
        Share of the draws that contradicted the reading and were drawn anew [1].
    """

    reading: FloatArray
    ambient: FloatArray
    surroundings: FloatArray
    gun_compensates_for: FloatArray
    emissivity: FloatArray
    warm_up_time: FloatArray | None
    surface: FloatArray
    liner_below_head: FloatArray
    redrawn: float


def mirrored_around_head(
    case: Case, ambient: FloatArray, drawn_row: Callable[[str], FloatArray]
) -> dict[str, FloatArray]:
    """Return what the head mirrors, and what the gun takes that to be, (n_draw,) [K].

    What the case gives, else about the air's temperature; a gun without a setting takes its own, which is the air's.
    `drawn_row` gives the draws of a row of `assumptions.csv`.
    """
    head, everywhere = case.head, np.ones_like(ambient)
    around, taken = head.surroundings, head.gun_compensates_for
    return {
        "surroundings": ambient + drawn_row("mirrored_above_air") if around is None else around * everywhere,
        "gun_compensates_for": ambient.copy() if taken is None else taken * everywhere,
    }


def draw_head(case: Case, values: Mapping[str, FloatArray], n_draw: int, seed: int) -> HeadDraws:
    """Return `n_draw` draws of the head's surface.

    `values` holds the air, what is mirrored and what the gun takes it for, the drop to the bore and the hottest bore.

    A cold reading, warm surroundings and a bright surface can meet in a draw that no surface could show: what it mirrors
    alone would be more than the gun sees. Such a draw is false, so it is replaced by one of the possible draws (reading,
    air, surroundings, emissivity and drop to the bore together, chosen at random): the draws are then those that agree with
    the reading. So is one whose bore would be hotter than its oil film stands, since the engine runs.

    Raises
    ------
    OutOfRange
        When more than a tenth of the draws contradict the reading, or nearly all have a bore that no oil stands: then an
        input is wrong.
    """
    head, drop = case.head, values["liner_below_head"]
    given = "head.log" if head.log_text is not None else "head.reading_C"
    reading, warm_up_time = _reading(case, n_draw, seed)
    row = find_surface(head.surface)
    emissivity = np.minimum(drawn("emissivity", row.low, row.typical, row.high, "lognormal", n_draw, seed), 1)
    ambient, around, taken_off = (values[name] for name in ("ambient", "surroundings", "gun_compensates_for"))
    possible = can_be_read(reading, head.gun_emissivity, emissivity, around, taken_off)
    impossible = float(np.mean(~possible))
    if impossible > MOST_IMPOSSIBLE:
        shown = from_si(float(np.median(reading)), "degC")
        mirrored = from_si(float(np.median(around)), "degC")
        raise OutOfRange(
            f"{given}: in {100 * impossible:.0f} % of the draws "
            f"no surface such as {row.name} can make a gun show {shown:.0f} °C where it mirrors {mirrored:.0f} °C; "
            "check head.surface, head.gun_emissivity, head.surroundings_C, operation.ambient_C and the reading itself"
        )
    # a draw that no surface could show is only kept out of the way here; it is not among those taken
    seen = np.where(possible, reading, np.median(reading[possible]))
    surface = surface_temperature(seen, head.gun_emissivity, np.where(possible, emissivity, 1.0), around, taken_off)
    stands = possible & (surface - drop <= values["hottest_bore"])
    if float(np.mean(stands)) < LEAST_OILED:
        raise OutOfRange(
            f"{given}: in {100 * float(np.mean(~stands)):.0f} % of the draws the bore would be hotter than its oil film "
            "stands; check the reading, head.surface and head.gun_emissivity"
        )
    generator = np.random.default_rng([seed, n_draw])
    taken = np.where(stands, np.arange(n_draw), generator.choice(np.flatnonzero(stands), n_draw))
    return HeadDraws(
        reading=reading[taken],
        ambient=ambient[taken],
        surroundings=around[taken],
        gun_compensates_for=taken_off[taken],
        emissivity=emissivity[taken],
        warm_up_time=warm_up_time,
        surface=surface[taken],
        liner_below_head=drop[taken],
        redrawn=impossible,
    )


def _reading(case: Case, n_draw: int, seed: int) -> tuple[FloatArray, FloatArray | None]:
    """Return draws of the settled reading [K], and of the warm-up's time constant [s] where there is a log."""
    head = case.head
    if head.log_text is None:
        return np.full(n_draw, head.reading), None
    fit = read_log(io.StringIO(head.log_text)).fit_warm_up()  # as a stream: the text of a case never names a file
    low, high = fit.settled_interval
    reading = fit.settled + drawn("head_reading", low - fit.settled, 0.0, high - fit.settled, "normal", n_draw, seed)
    fast, slow = fit.time_constant_interval
    return reading, drawn("bore_warm_up_time", fast, fit.time_constant, slow, "lognormal", n_draw, seed)


def head_values(draws: HeadDraws, values: Mapping[str, FloatArray]) -> dict[str, FloatArray]:
    """Wall temperatures for the conditions, from the head's draws; `values` holds the head wall's excess over its surface."""
    head = {
        "ambient": draws.ambient,
        "surroundings": draws.surroundings,
        "gun_compensates_for": draws.gun_compensates_for,
        "emissivity": draws.emissivity,
        "liner_below_head": draws.liner_below_head,
        "head_surface": draws.surface,
        "head_wall": draws.surface + values["head_wall_excess"],
        "liner": np.maximum(draws.surface - draws.liner_below_head, draws.ambient),
    }
    return head if draws.warm_up_time is None else head | {"bore_warm_up_time": draws.warm_up_time}
