"""What a fuel does to a material: known pairs, order of evidence, exposures, blends, the run."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from screening.errors import UnknownName
from screening.judgement.case.case_file import load_case
from screening.judgement.contact.during_run import RunExposure, attack_over_draws, draw_contact
from screening.judgement.contact.evidence import soak_swell, swell_word
from screening.judgement.contact.exposures import charge_vapour_share, exposure_state
from screening.judgement.contact.liquids import component_activities, wetting_liquids
from screening.judgement.contact.nature import polymer_nature
from screening.judgement.contact.outcome_words import UNKNOWN, WORDS
from screening.judgement.contact.pair import EXPOSURES, assess_contact, judged_contact
from screening.judgement.contact.prediction import _attack_edge, swelling
from screening.physics.contact.vapour import compressed_vapour_pressure
from screening.records.liquids.find_fuel import find_fuel
from screening.records.materials.materials import load_materials

PUBLISHED = Path(__file__).parents[2] / "published"
KNOWN = pd.read_csv(PUBLISHED / "contact_known_pairs.csv")
FUELS = (
    "petrol E0",
    "petrol E10",
    "ethanol",
    "acetone",
    "cyclopentanone",
    "n-butyl acetate",
    "toluene",
    "nitromethane",
)


def _case(**more):
    return load_case(
        {
            "format": "polymer-piston-case",
            "version": 1,
            "engine": {"displacement_cc": 98},
            "fuel": "ethanol 70, cyclopentanone 30",
            "head": {"reading_C": 90},
            **more,
        }
    )


@pytest.mark.parametrize("row", list(KNOWN.itertuples()), ids=lambda row: f"{row.material}-{row.fluid}")
def test_known_pairs_are_foretold(row):
    """With all observations left out; each row names its source."""
    found = assess_contact(row.material, row.fluid, use_observations=False)
    assert found.outcome in row.allowed.split(";")
    assert found.evidence == "predicted"


@pytest.mark.parametrize("material", ["hdpe", "pp", "pa6", "pa66", "pa12", "pom", "pps", "peek"])
def test_crystals_do_not_dissolve_at_room_temperature(material):
    for fuel in FUELS:
        assert assess_contact(material, fuel, use_observations=False).outcome != "dissolves", fuel


def test_polyethylene_dissolves_in_hot_aromatics():
    """From about 380 K in xylene: Flory's melting point of 387 K; boiling xylene does it (common practice)."""
    assert assess_contact("hdpe", "p-xylene", 400.0, use_observations=False).outcome == "dissolves"


def test_abs_in_a_simple_ester():
    """Dissolves in the jar, a soft skin on a wet cold start, a few per cent at most on a crown of 100 degC or more."""
    jar = assess_contact("abs", "n-butyl acetate")
    cold = assess_contact("abs", "n-butyl acetate", exposure="cold start")
    assert jar.outcome == "dissolves"
    assert math.isinf(jar.volume_swell)
    assert cold.softened_transition < 250.0
    assert cold.depth < 50e-6
    for kelvin in (373.15, 423.15, 500.0):
        hot = assess_contact("abs", "n-butyl acetate", kelvin, "running")
        assert hot.uptake < 0.04
        assert hot.ranges["uptake"][1] < 0.06


def test_hotter_surface_takes_up_less():
    uptakes = [assess_contact("pc", "cyclopentanone", t, "running").uptake for t in (340.0, 380.0, 420.0, 500.0)]
    assert (np.diff(uptakes) < 0).all()


def test_cold_wall_is_wet_from_the_vapour():
    assert any(
        "wet from the vapour" in str(r) for r in assess_contact("abs", "cyclopentanone", 300.0, "running").reasons
    )


def test_nitrile_rubber_swells_most_in_the_middle_of_ethanol_blends():
    """Not additive: Abu-Isa (1983), from memory."""
    shares = ("petrol E0", "petrol E0 70, ethanol 30", "ethanol")
    low, middle, high = (
        assess_contact("nbr", name, use_observations=False).ranges["volume_swell"][1] for name in shares
    )
    assert middle > low
    assert middle > high


def test_blend_is_no_safer_than_its_aggressive_part():
    found = assess_contact("hips", "isooctane 70, toluene 30", use_observations=False)
    assert found.attacked


def test_activity_of_ethanol_in_petrol_is_far_above_its_share():
    """Ethanol in alkanes deviates far to the positive side: activity coefficient above 2 at a quarter of the moles."""
    fuel = find_fuel("isooctane 90, ethanol 10")
    activity = dict(zip([s.component.name for s in fuel.components], component_activities(fuel, 298.15), strict=True))
    moles = {share.component.name: share.mole_fraction for share in fuel.components}
    assert 2 * moles["ethanol"] < activity["ethanol"] < 1


def test_hot_oil_gives_a_volatile_fuel_back_and_cold_oil_does_not():
    """Acetone boils at 56 degC: in splashed oil at 75 degC its activity is its pressure in the blow-by gas over its own
    (about 5 kPa over 186 kPa), in oil at 10 degC what 3 % by volume make of it."""
    fuel = find_fuel("acetone")
    hot, cold = (
        {q.name: q.activity for q in exposure_state("sump", fuel, kelvin).liquids}["acetone"]
        for kelvin in (348.15, 283.15)
    )
    assert 0.01 < hot < 0.04
    assert cold > 0.15


def test_heavy_fuel_stays_in_the_oil():
    """3 % by volume of butyl acetate (boils at 126 degC) are about 10 % of the moles, and mix nearly ideally."""
    activity = {q.name: q.activity for q in exposure_state("sump", find_fuel("n-butyl acetate")).liquids}
    assert 0.08 < activity["n-butyl acetate"] < 0.14


@pytest.mark.parametrize("material", ["abs", "pc", "hips"])
def test_oil_does_not_dissolve_printed_glasses(material):
    """They craze or soften in oil; none goes into solution (common practice)."""
    for fuel in ("mineral oil", "petrol E0", "ethanol"):
        assert assess_contact(material, fuel, exposure="sump").outcome != "dissolves"


def test_sphere_that_stands_in_means_what_it_means_for_its_own_polymer():
    """PETG without crystals swells more than PET on the surface of PET's sphere of attack, where PET swells by 5 %."""
    petg, pet = polymer_nature("petg"), polymer_nature("pet")
    toluene = wetting_liquids(find_fuel("toluene"))[0]
    assert petg.places[-3:] == pet.places
    for nature, low, high in ((pet, 0.0499, 0.0501), (petg, 0.09, 0.5)):
        place = pet.places[0]
        edge = float(_attack_edge([place], np.array(toluene.molar_volume))[0])
        swell, _, _ = swelling(nature, toluene, np.array([edge]), 1.0, 296.15)
        assert low < swell[0] < high


def test_filler_takes_up_nothing():
    plain, filled = (
        assess_contact(id, "acetone", use_observations=False).ranges["volume_swell"][0] for id in ("pa6", "pa6_gf")
    )
    assert filled < plain


def test_published_evidence_comes_before_the_prediction_and_says_so():
    found = assess_contact("hips", "toluene")
    assert found.evidence == "published"
    assert found.sources
    assert any("Published" in str(reason) for reason in found.reasons)
    assert assess_contact("hips", "toluene", use_observations=False).evidence == "predicted"


def test_own_soak_test_comes_first():
    soak = {"material": "hips", "fluid": "toluene", "mass_before_g": 1.0, "mass_after_g": 1.001}
    found = assess_contact("hips", "toluene", case=_case(soak_tests=[soak]))
    assert found.evidence == "own soak"
    assert found.outcome == "none"
    assert found.confidence == "high"


def test_own_soak_test_teaches_about_blends_of_the_same_liquids():
    """A polymer that held better than foretold is foretold to hold better in a blend, and by less in a stranger."""
    soak = {"material": "nbr", "fluid": "acetone", "mass_before_g": 1.0, "mass_after_g": 1.08, "time_h": 168}
    plain, taught = _case(), _case(soak_tests=[soak])

    def swell(case, fuel):
        return assess_contact("nbr", fuel, case=case).ranges["volume_swell"][1]

    blend = "acetone 80, ethanol 20"
    assert swell(taught, blend) < 0.8 * swell(plain, blend)
    assert swell(taught, "isooctane") == pytest.approx(swell(plain, "isooctane"))
    assert assess_contact("nbr", blend, case=taught).evidence == "predicted"
    assert any("Own soak" in str(reason) for reason in assess_contact("nbr", blend, case=taught).reasons)


@pytest.mark.parametrize(
    ("seen", "outcome"), [("gummy", "swells strongly"), ("cracked", "stress cracks"), ("unchanged", "none")]
)
def test_what_a_person_says_of_a_sample_is_an_outcome_word(seen, outcome):
    soak = {"material": "abs", "fluid": "ethanol", "outcome": seen}
    assert assess_contact("abs", "ethanol", case=_case(soak_tests=[soak])).outcome == outcome


def test_soak_swell_from_mass_and_from_size():
    soaks = [
        {"material": "abs", "fluid": "ethanol", "mass_before_g": 10.0, "mass_after_g": 10.5},
        {"material": "abs", "fluid": "ethanol", "size_before_mm": 20.0, "size_after_mm": 20.4},
    ]
    case = _case(soak_tests=soaks)
    nature = polymer_nature("abs")
    mass, size = (soak_swell(nature, test) for test in case.soak_tests)
    assert mass == pytest.approx(0.05 * nature.density / find_fuel("ethanol").density)
    assert size == pytest.approx(1.02**3 - 1)


def test_swell_words():
    """The lines of the contact section: 1, 5 and 15 %."""
    assert [swell_word(s) for s in (0.005, 0.02, 0.08, 0.5)] == ["none", "slight", "swells", "swells strongly"]


def test_own_material_takes_its_base():
    own = {"id": "my_abs", "name": "workshop ABS", "based_on": "abs", "values": {"density": 1050}}
    case = _case(own_materials=[own])
    assert assess_contact("my_abs", "n-butyl acetate", case=case).outcome == "dissolves"


def test_unknown_is_said():
    found = assess_contact("pi", "diethyl carbonate")
    assert found.outcome == UNKNOWN
    assert found.attacked is None
    assert found.evidence == "none"
    assert assess_contact("aluminium", "ethanol").outcome == UNKNOWN


def test_room_temperature_stated_is_taken_at_its_word():
    """Left out, the running engine has its own crown surface; stated, 296.15 K is 296.15 K."""
    assert assess_contact("abs", "cyclopentanone", exposure="running").temperature == 423.15
    assert assess_contact("abs", "cyclopentanone", 296.15, "running").temperature == 296.15
    assert assess_contact("abs", "cyclopentanone", temperature=296.15) == assess_contact("abs", "cyclopentanone")


def test_refusals():
    with pytest.raises(UnknownName, match="exposure"):
        assess_contact("abs", "ethanol", exposure="bath")
    with pytest.raises(UnknownName, match="material"):
        assess_contact("absx", "ethanol")
    with pytest.raises(LookupError):
        assess_contact("abs", "no such liquid")


def test_every_polymer_and_exposure_gives_a_word():
    allowed = {*WORDS, UNKNOWN}
    for id in load_materials().ids:
        for exposure in EXPOSURES:
            found = assess_contact(id, "ethanol 70, cyclopentanone 30", exposure=exposure)
            assert found.outcome in allowed
            assert len(found.reasons) >= 2
            short = judged_contact(id, find_fuel("ethanol 70, cyclopentanone 30"), exposure=exposure)
            assert (short.outcome, short.evidence, short.confidence) == (
                found.outcome,
                found.evidence,
                found.confidence,
            )


def _attack(material: str, fuel_name: str, surface: float, back: float = 350.0, wet: float = 60.0, peak: float = 2e4,
            thickness: float = 5e-3):  # fmt: skip
    """The attack on a crown at steady face temperatures, the fuel's partial pressure that of a plain compression."""
    fuel, nature, n_draw = find_fuel(fuel_name), polymer_nature(material), 400
    times = np.concatenate([[0.0], np.geomspace(0.1, 3600.0, 40)])
    level = np.ones((times.size, n_draw))
    run = RunExposure(
        wet_start_time=np.full(n_draw, wet),
        ambient=np.full(n_draw, 293.15),
        times=times,
        surface_temperature=surface * level,
        back_temperature=back * level,
        vapour_pressure=compressed_vapour_pressure(np.full(n_draw, peak), 8.0, 96),
        blow_by_pressure=np.full(n_draw, charge_vapour_share(fuel, None) * 101325.0),
        crown_thickness=np.full(n_draw, thickness),
        horizon=3600.0,
    )
    return attack_over_draws(nature, fuel, run, draw_contact(nature, fuel, None, n_draw, 1))


def test_attack_in_a_run():
    abs_ester = _attack("abs", "n-butyl acetate", 500.0)
    assert abs_ester.lost_depth.shape == (400,)
    assert 0.5e-6 < np.median(abs_ester.lost_depth) < 3e-5
    assert np.median(abs_ester.softened_transition) < 293.15
    assert (abs_ester.running_uptake < 0.01).all()
    assert (_attack("pp", "ethanol", 400.0).lost_depth == 0).all()
    assert np.isinf(_attack("aluminium", "ethanol", 400.0).time).all()


def test_attack_grows_with_the_wet_time_and_repeats():
    short, long = (_attack("abs", "n-butyl acetate", 500.0, wet=t).lost_depth for t in (15.0, 240.0))
    assert (long >= short).all()
    diffusive = (short > 0) & (long < 5e-3)
    assert np.median(long[diffusive] / short[diffusive]) >= 3.99
    assert np.array_equal(short, _attack("abs", "n-butyl acetate", 500.0, wet=15.0).lost_depth)


def test_cool_crown_in_vapour_softens_hot_one_does_not():
    """A thin ABS crown at 52 degC in rich vapour is softened within the hour in many draws; a hot one takes up less."""
    cool = _attack("abs", "cyclopentanone", 325.0, back=310.0, peak=1e5, thickness=1e-3)
    hot = _attack("abs", "cyclopentanone", 500.0, back=310.0, peak=1e5, thickness=1e-3)
    assert np.isfinite(cool.time).mean() > np.isfinite(hot.time).mean() + 0.1
    assert cool.running_uptake.mean() > 10 * hot.running_uptake.mean()


def test_contact_is_frozen():
    found = assess_contact("abs", "ethanol")
    with pytest.raises(AttributeError):
        found.outcome = "none"
    assert replace(found, outcome="none").outcome == "none"
