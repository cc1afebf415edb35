"""Gas from the crown as fuel: how much of it makes the mixture too rich."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import given, settings, strategies as st

from screening.physics.cylinder.crown_gas import gas_that_floods
from screening.records.materials.materials import load_materials
from screening.stoichiometry import air_fuel_ratio


def test_polyamide_on_isobutyl_acetate_by_hand() -> None:
    """phi 1, limit 1.6, four tenths mixed: (1.6 - 1) x 9.52/(0.4 x 10.1) = 1.41; all mixed 0.57."""
    assert float(gas_that_floods(1.0, 1.6, 0.4, 10.1, 9.52)) == pytest.approx(1.41, abs=0.005)
    assert float(gas_that_floods(1.0, 1.6, 1.0, 10.1, 9.52)) == pytest.approx(0.57, abs=0.005)


@settings(deadline=None)
@given(phi=st.floats(0.7, 1.5), rich=st.floats(1.4, 1.8), share=st.floats(0.2, 1.0), gas=st.floats(4.0, 15.0))
def test_that_much_gas_brings_the_mixture_to_the_limit(phi: float, rich: float, share: float, gas: float) -> None:
    """The air is the same: of it the fuel takes phi, and the gas that is mixed in x (m_g/m_f) (L_g/L_f) phi more."""
    ratio = float(gas_that_floods(phi, rich, share, gas, 9.52))
    total = phi * (1 + share * ratio * gas / 9.52)
    assert total == pytest.approx(max(rich, phi))


def test_table_of_air_needs_is_that_of_the_repeat_units() -> None:
    """Rows that name their repeat unit: burned to carbon dioxide, water and nitrogen in air, no char left (stoichiometry)."""
    checked = 0
    for id in load_materials().ids:
        value = load_materials().get(id).value("air_need_of_gas")
        named = value and re.search(r"stoichiometry of (C[\w.]+)", value.note)
        if not named:
            continue
        atoms = Counter(
            {symbol: float(count or 1) for symbol, count in re.findall(r"([CHNOSF])([\d.]*)", named.group(1))}
        )
        if set(atoms) <= {"C", "H", "N", "O"}:
            need = air_fuel_ratio(atoms["C"], atoms["H"], atoms["O"], atoms["N"])
            assert value.typical == pytest.approx(need, rel=0.01), id
            checked += 1
    assert checked >= 10


def test_a_mixture_too_rich_without_it_takes_none() -> None:
    assert gas_that_floods([1.7, 1.5], 1.6, 0.4, 10.0, 9.5).tolist() == pytest.approx(
        [0.0, (1.6 / 1.5 - 1) * 9.5 / 4.0]
    )
