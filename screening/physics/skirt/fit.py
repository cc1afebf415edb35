"""What diameter must be printed so that the hot piston runs free in the hot bore, and what does the gap around it cost?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.shares import refuse_outside_share


def print_diameter(
    bore_diameter: ArrayLike,
    bore_strain: ArrayLike,
    part_strain: ArrayLike,
    swelling: ArrayLike,
    running_clearance: ArrayLike,
    print_error: ArrayLike = 0.0,
) -> FloatArray:
    """Return the cold diameter to print at one station of the piston (crown land, or skirt).

    Holds for a round part free to grow, at the hottest it gets while the run lasts.

        D = (D_b (1 + e_b) - c)/((1 + e_p)(1 + s)) - d

    Parameters
    ----------
    bore_diameter : [m] D_b, cold, (n_draw,)
    bore_strain : [1] e_b, growth from cold to hot (`expansion_strain`), above -1, (n_draw,)
    part_strain : [1] e_p, likewise, (n_draw,)
    swelling : [1] s, linear swelling by absorbed liquid (a third of the volume's), 0 or more, (n_draw,)
    running_clearance : [m] c, on the diameter, hot, (n_draw,)
    print_error : [m] d, how much larger than drawn the printer makes it, (n_draw,)

    Returns
    -------
    [m] (n_draw,)

    Raises
    ------
    OutOfRange : a bore of 0 or less, swelling below 0, a strain of -1 or less

    Example
    -------
    A 56 mm iron bore at 120 degC; a part of 90e-6/K at 110 degC, 0.03 mm running clearance, from 20 degC:

    >>> round(1e3 * float(print_diameter(0.056, 11e-6 * 100, 90e-6 * 90, 0.0, 30e-6)), 3)
    55.581
    """
    bore, bore_growth, part_growth, swelled, clear = (
        np.asarray(v, dtype=float) for v in (bore_diameter, bore_strain, part_strain, swelling, running_clearance)
    )
    if np.any(bore <= 0):
        raise OutOfRange("bore_diameter must be above 0")
    if np.any(swelled < 0):
        raise OutOfRange(f"swelling: got {np.nanmin(swelled):g}, must be 0 or more")
    if np.any(part_growth <= -1) or np.any(bore_growth <= -1):
        raise OutOfRange("bore_strain and part_strain must be above -1")
    hot = bore * (1.0 + bore_growth) - clear
    return hot / ((1.0 + part_growth) * (1.0 + swelled)) - np.asarray(print_error, dtype=float)


def diameter_range(diameters: ArrayLike, share_that_touch: float = 0.05) -> tuple[float, float, float]:
    """Return the diameter to print so that few draws touch, the median, and the other end of the range.

    Holds for draws of `print_diameter`; draws that are NaN are left out.

    Parameters
    ----------
    diameters : [m] (n_draw,)
    share_that_touch : [1] share of draws that would touch at the first diameter, 0 to 0.5

    Returns
    -------
    (low, median, high) [m]; print the low one: too small costs compression, too large seizes. NaN when every
    draw is NaN

    Raises
    ------
    OutOfRange : a share outside 0 to 0.5

    Example
    -------
    >>> [round(1e3 * end, 2) for end in diameter_range([0.0551, 0.0552, 0.0553, 0.0554, np.nan], 0.0)]
    [55.1, 55.25, 55.4]
    """
    refuse_outside_share("share_that_touch", np.asarray(2 * share_that_touch))
    drawn = np.asarray(diameters, dtype=float)
    drawn = drawn[~np.isnan(drawn)]
    if drawn.size == 0:
        return (np.nan, np.nan, np.nan)
    low, middle, high = np.quantile(drawn, [share_that_touch, 0.5, 1.0 - share_that_touch])
    return (float(low), float(middle), float(high))


def crevice_volume(bore_diameter: ArrayLike, land_diameter: ArrayLike, land_height: ArrayLike) -> FloatArray:
    """Return the volume between the crown land and the bore, above the top ring.

    Holds for round, concentric parts; a land larger than the bore leaves none.

        V = pi/4 (D_b^2 - D_l^2) H

    Parameters
    ----------
    bore_diameter : [m] D_b, (n_draw,)
    land_diameter : [m] D_l, (n_draw,)
    land_height : [m] H, from the crown's face to the top ring, (n_draw,)

    Returns
    -------
    [m3] the broadcast of all, 0 or more

    Example
    -------
    >>> round(1e9 * float(crevice_volume(0.056, 0.0554, 0.006)))
    315
    """
    bore, land, height = (np.asarray(v, dtype=float) for v in (bore_diameter, land_diameter, land_height))
    return np.asarray(np.pi / 4.0 * np.maximum(bore**2 - land**2, 0.0) * height)


def compression_with_crevice(
    compression_ratio: ArrayLike,
    swept_volume: ArrayLike,
    extra_crevice: ArrayLike,
    density_ratio: ArrayLike = 1.0,
) -> FloatArray:
    """Return the compression ratio that is left when the gap around the land has grown.

    Holds for a crevice in pressure balance with the chamber; cooled by the walls it holds more charge than
    its volume says, which `density_ratio` allows for. What blows past the rings is not in it.

        V_c = V_s/(r - 1);  r' = (V_s + V_c + x V)/(V_c + x V)

    Parameters
    ----------
    compression_ratio : [1] r, of the metal piston, above 1, (n_draw,)
    swept_volume : [m3] V_s, (n_draw,)
    extra_crevice : [m3] V, beyond what the metal piston had; below 0 where the new land is the tighter one
    density_ratio : [1] x, density in the crevice over that in the chamber at the end of compression (1 to 2)

    Returns
    -------
    [1] (n_draw,)

    Raises
    ------
    OutOfRange : a ratio of 1 or less, no swept volume, or a crevice taken away that is larger than the chamber

    Example
    -------
    0.3 mm more all round a 6 mm land, 98 cc:

    >>> round(float(compression_with_crevice(8.0, 98e-6, 0.315e-6)), 2)
    7.85
    """
    ratio, swept, extra = (np.asarray(v, dtype=float) for v in (compression_ratio, swept_volume, extra_crevice))
    if np.any(ratio <= 1) or np.any(swept <= 0):
        raise OutOfRange("compression_ratio must be above 1 and swept_volume above 0")
    clearance = swept / (ratio - 1.0) + np.asarray(density_ratio, dtype=float) * extra
    if np.any(clearance <= 0):
        raise OutOfRange("extra_crevice: takes away more than the whole chamber")
    return np.asarray((swept + clearance) / clearance)
