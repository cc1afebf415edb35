"""Hansen distance, and the Hansen parameters of the tables against groups and the open tables."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.contact.hansen_distance import hansen_distance_squared
from screening.records.liquids.find_fuel import find_fuel, known_fuels
from screening.records.materials.spheres import load_spheres


def test_distance_by_hand():
    assert hansen_distance_squared((18.0, 1.4, 2.0), (21.28, 5.75, 4.3)) == pytest.approx(
        4 * 3.28**2 + 4.35**2 + 2.3**2
    )


# van Krevelen 2009, table 7.8 (from memory): dispersion [J^0.5 cm^1.5/mol], polar [same], hydrogen bonds [J/mol]
GROUPS = {
    "CH2": (270.0, 0.0, 0.0),
    "CH": (80.0, 0.0, 0.0),
    "phenylene": (1270.0, 110.0, 0.0),
    "Cl": (450.0, 550.0, 400.0),
    "O": (100.0, 400.0, 3000.0),
}


def group_hansen(groups: dict[str, int], molar_volume: float) -> tuple[float, float, float]:
    """Hansen parameters of a repeat unit [MPa^0.5]: sum(F_d)/V, sqrt(sum(F_p^2))/V, sqrt(sum(E_h)/V)."""
    volume = molar_volume * 1e6
    d, p2, h = (sum(n * GROUPS[g][i] ** (2 if i == 1 else 1) for g, n in groups.items()) for i in range(3))
    return d / volume, np.sqrt(p2) / volume, np.sqrt(h / volume)


def test_group_parameters_of_polystyrene():
    """van Krevelen's worked magnitude: dispersion 17-20, hardly polar; from memory."""
    d, p, h = group_hansen({"CH2": 1, "CH": 1, "phenylene": 1}, 98e-6)
    assert 15 < d < 20
    assert p < 2
    assert h == 0


def test_epichlorohydrin_in_the_table_is_what_its_groups_give():
    """Repeat unit CH2-CH(CH2Cl)-O of 92.5 g/mol at 1360 kg/m3 (van Krevelen 2009, from memory)."""
    (row,) = load_spheres()["eco"]
    groups = group_hansen({"CH2": 2, "CH": 1, "O": 1, "Cl": 1}, 0.0925 / 1360.0)
    assert row.centre == pytest.approx(groups, abs=0.05)
    assert np.isnan(row.R0)


OTHER_EDITION = {
    "methanol": 0.41, "dimethyl carbonate": 4.71, "diethyl ether": 0.51, "anisole": 0.31, "isopentane": 0.11,
    "1-methylnaphthalene": 0.91, "nitromethane": 1.01,
}  # fmt: skip
"""Liquids whose table value comes from another publication than the package's, and by how much it may differ."""


def test_hansen_parameters_equal_the_open_tables():
    """The `chemicals` package (Hansen's handbook) holds what the table holds, but for seven liquids named here."""
    from chemicals import hansen_delta_d, hansen_delta_h, hansen_delta_p

    compared = 0
    for name in known_fuels():
        fuel = find_fuel(name)
        if len(fuel.components) > 1 or fuel.hansen is None or not fuel.cas:
            continue
        table = [function(fuel.cas) for function in (hansen_delta_d, hansen_delta_p, hansen_delta_h)]
        if any(value is None for value in table):
            continue
        compared += 1
        difference = np.max(np.abs(np.array(table) / 1000 - np.array(fuel.hansen)))
        assert difference <= OTHER_EDITION.get(name, 0.051), name
    assert compared >= 50
