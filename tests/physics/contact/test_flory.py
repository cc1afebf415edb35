"""Uptake of liquids by free polymers and networks: a reference library, worked exercises, limits and laws."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from screening.physics.contact.flory import interaction_of_uptake, network_potential, network_uptake, volume_swell

PUBLISHED = Path(__file__).parents[2] / "published"


def free_activity(uptake, chi):
    """Activity of a liquid in chains without links, much longer than the liquid's molecules."""
    return np.exp(network_potential(1 - np.asarray(uptake), chi, 0.0))


def free_uptake(activity, chi):
    return network_uptake(activity, chi, 0.0)


def test_activity_against_reference_library():
    from polykin.thermo.acm.floryhuggins import FloryHuggins2_activity

    phi = np.linspace(0.02, 0.98, 25)
    for chi in (0.3, 0.5, 1.2):
        theirs = [FloryHuggins2_activity(p, 1e9, chi) for p in phi]
        assert free_activity(phi, chi) == pytest.approx(np.array(theirs, dtype=float), rel=1e-8)


def test_activity_by_hand():
    """ln a = ln 0.3 + 0.7 + 0.44 x 0.49."""
    assert free_activity(0.3, 0.44) == pytest.approx(0.3 * np.exp(0.7 + 0.44 * 0.49))


@pytest.mark.parametrize("chi", [0.2, 0.6, 1.0, 2.0, 4.0])
def test_uptake_inverts_activity(chi):
    activity = np.array([1e-6, 0.01, 0.3, 0.9])
    uptake = free_uptake(activity, chi)
    assert free_activity(uptake, chi) == pytest.approx(activity, rel=1e-9)


def test_good_solvent_dissolves_and_bad_does_not():
    assert free_uptake(1.0, 0.49) > 0.999
    assert free_uptake(1.0, 0.6) < 0.85


def test_dilute_vapour_follows_henry():
    """phi1 = a exp(-1 - chi) as a goes to 0."""
    assert free_uptake(1e-8, 0.7) == pytest.approx(1e-8 * np.exp(-1.7), rel=1e-6)


def test_uptake_laws():
    chi = np.linspace(0.1, 5.0, 80)
    for links in (0.0, 0.02, 0.5):
        assert (np.diff(network_uptake(0.8, chi, links)) < 0).all()
    activity = np.linspace(0.01, 1.0, 80)
    assert (np.diff(network_uptake(activity, 0.8, 0.02)) > 0).all()
    links = np.geomspace(1e-3, 2.0, 40)
    assert (np.diff(network_uptake(1.0, 0.4, links)) < 0).all()


def test_network_balance_closes():
    """At equilibrium with the liquid the potential is zero, links and mixing in balance (Flory & Rehner 1943)."""
    uptake = network_uptake(1.0, 0.39, 0.0213)
    assert network_potential(1 - uptake, 0.39, 0.0213) == pytest.approx(0.0, abs=1e-10)


def test_weak_network_in_good_solvent_follows_the_power_law():
    """phi2 ~ (V1 nu / (1/2 - chi))^(3/5) for high swelling (Flory 1953, ch. XIII eq. 40, from memory)."""
    links, chi = 1e-7, 0.2
    phi2 = 1 - network_uptake(1.0, chi, links)
    assert phi2 == pytest.approx((links / (0.5 - chi)) ** 0.6, rel=0.02)


SWELLING = pd.read_csv(PUBLISHED / "network_swelling.csv").set_index("quantity")["value"]


def test_chain_mass_of_a_published_exercise():
    """Rubber swollen 5.5 times in carbon tetrachloride, chi 0.290: 4.5 kg/mol; the answer's own rounding is 1 to 2 %.

    With phi^(1/3) alone in the elastic term it would be 5.4 kg/mol.
    """
    phi2 = 1 / SWELLING["swelling_ratio_carbon_tetrachloride"]
    mixing = network_potential(phi2, SWELLING["interaction_carbon_tetrachloride"], 0.0)
    elastic = network_potential(phi2, SWELLING["interaction_carbon_tetrachloride"], 1.0) - mixing
    chains = -mixing / elastic / SWELLING["molar_volume_carbon_tetrachloride"]
    assert SWELLING["density"] / chains == pytest.approx(SWELLING["chain_molar_mass"], rel=0.02)


def test_one_liquid_foretells_another():
    """Links found in carbon tetrachloride give a chi in benzene that was measured by other means (0.40; ours 0.42)."""
    phi2 = 1 / SWELLING["swelling_ratio_carbon_tetrachloride"]
    mixing = network_potential(phi2, SWELLING["interaction_carbon_tetrachloride"], 0.0)
    elastic = network_potential(phi2, SWELLING["interaction_carbon_tetrachloride"], 1.0) - mixing
    chains = -mixing / elastic / SWELLING["molar_volume_carbon_tetrachloride"]
    uptake, links = 1 - 1 / SWELLING["swelling_ratio_benzene"], SWELLING["molar_volume_benzene"] * chains
    chi = interaction_of_uptake(uptake, links)
    assert chi == pytest.approx(SWELLING["interaction_benzene_measured"], rel=0.06)
    bare = interaction_of_uptake(uptake, 0.0)
    assert bare == pytest.approx(SWELLING["interaction_benzene_without_elastic_term"], rel=0.002)


def test_network_without_links_is_the_reference_library():
    from polykin.thermo.acm.floryhuggins import FloryHuggins2_activity

    phi1 = np.linspace(0.02, 0.98, 13)
    for chi in (0.3, 0.8, 2.0):
        theirs = np.array([FloryHuggins2_activity(p, 1e12, chi) for p in phi1], dtype=float)
        assert np.exp(network_potential(1 - phi1, chi, 0.0)) == pytest.approx(theirs, rel=1e-9)


def test_interaction_of_uptake_inverts():
    chi = interaction_of_uptake(0.2, 0.3)
    assert network_uptake(1.0, chi, 0.3) == pytest.approx(0.2, rel=1e-9)


def test_volume_swell():
    assert volume_swell(0.2, 0.5) == pytest.approx(0.125)
    assert np.isinf(volume_swell(1.0))


def test_nan_in_nan_out():
    assert np.isnan(network_uptake(np.nan, 0.5, 0.0))
    assert np.isnan(network_uptake(0.5, np.nan, 0.0))
