"""What the crown's layers are made of, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, case, conditions, gas, polymer, stack

from screening.judgement.case.case import CrownLayer
from screening.judgement.cylinder.gas_side import COLD_CROWN
from screening.judgement.piston.stack import ON_SKIRT, crown_stack, gas_film

CAP = (CrownLayer("aluminium", 0.005),)


def test_open_infill_conducts_and_weighs_by_its_solid_share() -> None:
    """0.6 x 0.25 = 0.15 W/mK and 0.6 x 1000 = 600 kg/m3; a kilogram warms as before."""
    layer = crown_stack(case(), conditions(solid_share=0.6), gas(), polymer()).layers[0]
    assert layer.conductivity == pytest.approx([0.15])
    assert layer.density == pytest.approx([600.0])
    assert layer.heat_capacity == pytest.approx([1500.0])
    assert layer.thickness == pytest.approx([0.004])


def test_gas_answers_to_a_hot_crown() -> None:
    """Film 100 W/m2K and gas 1200 K at 450 K, 0.02 W/m2K and 0.1 K more for each kelvin; the face sees the head's wall."""
    film = gas_film(conditions(), gas())
    assert (film.coefficient, film.temperature) == (pytest.approx([100.0]), pytest.approx([1200.0]))
    assert (film.coefficient_feedback, film.feedback) == (pytest.approx([0.02]), pytest.approx([0.1]))
    assert film.feedback_at == COLD_CROWN == 450.0
    assert (film.radiation_emissivity, film.radiation_temperature) == (pytest.approx([0.5]), pytest.approx([450.0]))


def test_crankcase_cools_the_underside() -> None:
    back = crown_stack(case(), conditions(), gas(), polymer()).back
    assert (back.coefficient, back.temperature) == (pytest.approx([100.0]), pytest.approx([360.0]))


def test_cap_drains_to_its_rings_and_is_hotter_at_its_centre() -> None:
    """The belt's 1000 W/m2K over 0.2 of the bore's width are 1000 x 4 x 0.2 = 800 W/m2K of the face. On the way there lie
    R^2/(8 k t) = 0.025^2/(8 x 200 x 0.005) = 7.81e-5 m2K/W: 1/(1/800 + 7.81e-5) = 753 W/m2K, and the centre is
    753 x 7.81e-5 = 0.0588 further from the bore than the mean (both to a hundredth: the film takes some on the way)."""
    crown = crown_stack(case("metal cap", CAP), conditions(), gas(), polymer())
    assert crown.layers[0].ring_conductance == pytest.approx([753.0], rel=0.01)
    assert crown.centre_excess == pytest.approx([0.0588], rel=0.01)
    assert crown.layers[0].ring_temperature == pytest.approx([400.0])
    assert crown.groove_in_metal
    assert crown.decomposition is None, "beneath a layer it lets go, it does not recede"


def test_coating_does_not_drain_to_the_rings() -> None:
    crown = crown_stack(case("coated crown", CAP), conditions(), gas(), polymer())
    assert crown.layers[0].ring_conductance == pytest.approx([0.0])
    assert crown.centre_excess == pytest.approx([0.0])
    assert not crown.groove_in_metal


def test_of_a_skirt_under_a_metal_crown_the_seat_alone_is_in_the_stack() -> None:
    """0.1 mm of it, so that it is as warm as the metal."""
    crown = crown_stack(case(ON_SKIRT, CAP), conditions(), gas(), polymer())
    assert crown.layers[-1].thickness == pytest.approx([1e-4])
    assert crown.on_skirt


def test_gasifying_costs_what_warming_has_not_paid_for() -> None:
    """2 MJ/kg from the cold, less 1500 x (740 - 296.15) = 0.666 MJ/kg of warming to the face's onset, 700 K + 40: 1.334 MJ/kg."""
    gives_off = crown_stack(case(), conditions(), gas(), polymer()).decomposition
    assert gives_off is not None
    assert gives_off.gasification_heat == pytest.approx([1.3342e6], rel=1e-3)
    dear = crown_stack(case(), conditions(), gas(), polymer(gasification_heat=0.5e6)).decomposition
    assert dear is not None
    assert dear.gasification_heat == pytest.approx([0.1e6]), "a fifth of it at least"


def test_vapour_and_char_that_the_face_gives_off() -> None:
    """Vapour of 2 kJ/kgK, and 0.3 of the polymer that is char instead."""
    gives_off = crown_stack(case(), conditions(), gas(), polymer(char_yield=0.3)).decomposition
    assert gives_off is not None
    assert (gives_off.vapour_heat_capacity, gives_off.char_yield) == (pytest.approx([2000.0]), pytest.approx([0.3]))


def test_cells_lie_in_the_layer_whose_thickness_they_are_in() -> None:
    """Of 400 cells of 10 um the first 100 are the cap of 1 mm."""
    assert stack(cap=0.001).cell_layer(DEPTH).tolist() == [0] * 100 + [1] * 300
    assert np.all(stack().cell_layer(DEPTH) == 0)
