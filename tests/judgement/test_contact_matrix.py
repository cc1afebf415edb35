"""The matrix of contacts and the fuel system's list."""

from __future__ import annotations

import time

from screening.judgement import contact_matrix as module
from screening.judgement.case_file import load_case
from screening.judgement.contact import assess_contact
from screening.judgement.contact_matrix import COLUMNS, contact_matrix
from screening.judgement.fuel_system import METAL_INSTEAD, ROLES, fuel_system_advice
from screening.records.materials import load_materials

FUELS = (
    "petrol E0", "petrol E10", "E85", "ethanol", "methanol", "acetone", "butanone", "cyclopentanone", "cyclohexanone",
    "ethyl acetate", "n-butyl acetate", "toluene", "isooctane", "n-hexane", "tetrahydrofuran", "nitromethane",
    "dimethyl carbonate", "diethyl ether", "ethanol 70, cyclopentanone 30", "2-propanol",
)  # fmt: skip


def test_matrix_says_what_single_contacts_say():
    frame = contact_matrix(["abs", "pp", "fkm"], ["acetone", "petrol E10"])
    assert tuple(frame.columns) == COLUMNS
    assert len(frame) == 6
    for row in frame.itertuples():
        single = assess_contact(row.material, row.fuel)
        assert (row.outcome, row.evidence, row.confidence) == (single.outcome, single.evidence, single.confidence)


def test_matrix_of_60_by_20_takes_about_a_second():
    """Once the materials and liquids were met before; bounded loosely, the machine may be busy."""
    ids = load_materials().ids[:60]
    contact_matrix(ids, FUELS)
    module._rows.cache_clear()
    start = time.perf_counter()
    frame = contact_matrix(ids, FUELS)
    assert time.perf_counter() - start < 4.0
    assert len(frame) == 1200
    start = time.perf_counter()
    contact_matrix(ids, FUELS)
    assert time.perf_counter() - start < 0.2


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
