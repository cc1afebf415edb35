"""The matrix of contacts and the fuel system's list."""

from __future__ import annotations

import pytest

from screening.judgement.case.case_file import load_case
from screening.judgement.contact import matrix as module
from screening.judgement.contact.fuel_system import METAL_INSTEAD, ROLES, fuel_system_advice
from screening.judgement.contact.matrix import COLUMNS, contact_matrix
from screening.judgement.contact.pair import EXPOSURES, assess_contact, judged_contact, judged_contacts
from screening.records.liquids.find_fuel import find_fuel


def test_matrix_says_what_single_contacts_say():
    frame = contact_matrix(["abs", "pp", "fkm"], ["acetone", "petrol E10"])
    assert tuple(frame.columns) == COLUMNS
    assert len(frame) == 6
    for row in frame.itertuples():
        single = assess_contact(row.material, row.fuel)
        assert (row.outcome, row.evidence, row.confidence) == (single.outcome, single.evidence, single.confidence)


@pytest.mark.parametrize("exposure", EXPOSURES)
def test_many_pairs_at_once_say_what_each_says_alone(exposure):
    """Pairs are computed side by side; none may lean on its neighbour. A blend and an unknown liquid are among them."""
    fuels = [find_fuel(name) for name in ("petrol E10", "ethanol 70, cyclopentanone 30", "methanol", "diethyl ether")]
    for material in ("abs", "pa6_gf", "hdpe", "vmq", "aluminium", "pai"):
        together = judged_contacts([material], fuels, exposure=exposure)[0]
        for fuel, found in zip(fuels, together, strict=True):
            alone = judged_contact(material, fuel, exposure=exposure)
            assert (found.outcome, found.evidence, found.confidence) == (
                alone.outcome,
                alone.evidence,
                alone.confidence,
            )
            assert found.volume_swell == pytest.approx(alone.volume_swell, rel=1e-9, nan_ok=True)


def test_a_repeated_matrix_is_kept_in_memory():
    contact_matrix(["abs"], ["acetone"])
    before = module._rows.cache_info().hits
    contact_matrix(["abs"], ["acetone"])
    assert module._rows.cache_info().hits == before + 1


def test_matrix_takes_a_case_with_its_soak_tests():
    case = load_case(
        {
            "format": "polymer-piston-case",
            "version": 1,
            "engine": {"displacement_cc": 98},
            "fuel": "ethanol",
            "head": {"reading_C": 90},
            "soak_tests": [{"material": "pp", "fluid": "acetone", "outcome": "swells"}],
        }
    )
    frame = contact_matrix(["pp", "abs"], ["acetone", "ethanol"], case=case).set_index(["material", "fuel"])
    assert frame.loc[("pp", "acetone"), "outcome"] == "swells"
    assert frame.loc[("pp", "acetone"), "evidence"] == "own soak"
    plain = contact_matrix(["pp", "abs"], ["acetone", "ethanol"]).set_index(["material", "fuel"])
    assert plain.loc[("pp", "acetone"), "evidence"] != "own soak"
    assert plain.loc[("abs", "ethanol"), "outcome"] == frame.loc[("abs", "ethanol"), "outcome"]


def test_fuel_system_names_what_to_fit_instead():
    advice = fuel_system_advice("cyclopentanone")
    assert set(advice["role"]) == set(ROLES)
    fkm = advice[(advice["material"] == "fkm") & (advice["role"] == "seal")].iloc[0]
    assert fkm["outcome"] == "swells strongly"
    assert METAL_INSTEAD["seal"] in fkm["fit_instead"]
    holding = advice[advice["outcome"].isin(["none", "slight"])]
    assert (holding["fit_instead"] == "").all()
    assert len(holding)
