"""One material's run and the metal piston's, in a made-up heat (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, case, conditions, gas, heat, polymer, stack, warming

from screening.judgement.case.case import Case, CrownLayer
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston import ends
from screening.judgement.piston.collapse import limit_pressure_history
from screening.judgement.piston.heating import horizon_of, output_times
from screening.judgement.piston.hot_crown import carried_temperature
from screening.judgement.piston.run import PartRun, run_metal, run_polymer
from screening.judgement.piston.stack import ON_SKIRT
from screening.physics.crown.crown_heat import CrownHeat
from screening.records.materials.materials import load_materials

Run = Callable[..., PartRun]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return what runs a polymer in a heat given in place of a computed one; the fuel takes `lost` [m] of its strength."""
    module = sys.modules[run_polymer.__module__]

    def in_heat(
        warm: CrownHeat, of: Case, with_polymer: Polymer, lost: float = 0.0, attacks: float = np.inf
    ) -> PartRun:
        def heated(*given: Any) -> CrownHeat:
            given[3](warm)  # the solver asks how far each draw is wanted
            return warm

        attack = SimpleNamespace(lost_depth=np.array([lost]), time=np.array([attacks]))
        monkeypatch.setattr(module, "heated", heated)
        monkeypatch.setattr(module, "attack_in_run", lambda *_: attack)
        return run_polymer(of, conditions(), gas(), with_polymer, None)

    return in_heat


def test_bare_crown_is_asked_for_all_that_can_end_it(run: Run) -> None:
    """19 bar are 10 x 76 N/(20 mm)^2: of the cold 200 N 0.38, at 424 K, 5.2 doublings after 1 s: 36.76 s. Ring land after 96 s as
    in its file's test; with 20 K a mm the crown's strength is that of other temperatures, so each has a heat of its own."""
    warm = run(heat(warming()), case(), polymer(), attacks=77.0)
    assert warm.times[ends.COLLAPSE] == pytest.approx([2**5.2], rel=1e-4)
    assert warm.times[ends.FUEL_ATTACK].tolist() == [77.0]
    colder_below = run(heat(warming(start=320.0, under=20e3)), case(), polymer())
    assert colder_below.times[ends.RING_LAND] == pytest.approx([96.0])
    assert set(warm.times) == {
        ends.COLLAPSE, ends.CRACKING, ends.RING_LAND, ends.PIN_BOSS, ends.FUEL_ATTACK, ends.FLOODING, ends.BURNED_THROUGH,
        ends.IGNITION,
    }  # fmt: skip


def test_depth_that_the_fuel_takes_is_taken_from_the_crown_that_carries(run: Run) -> None:
    """0.95 of 4 mm lost leaves (3.05/4)^2 x 50 bar = 29.07 bar cold. Of 7.5 cycles of the start's 0.5 s the highest is 36.3 bar: 35.3
    over the air, 28.2 over the gain of 1.25. So 0.971 of the strength is needed, left at 300 + 200 x 0.029 = 305.8 K, as the
    crown has after 0.29 of the first second, in which it warms by 20 K."""
    warm = run(heat(warming()), case(), polymer(), lost=0.00095)
    needed = warm.load.stages[0].pressure_to_flow / (50e5 * (3.05 / 4) ** 2)
    assert warm.load.stages[0].pressure_to_flow == pytest.approx([28.2e5], rel=2e-3)
    assert warm.times[ends.COLLAPSE] == pytest.approx(10 * (1 - needed), abs=1e-3)


def test_swing_of_the_face_at_its_transition_lights_the_charge(run: Run) -> None:
    """At the transition's 480 K the flux's harmonic is 1.45e5 - 100 x 480 = 97 kW/m2: 97/100 of 16.82 K are 16.3 K. The face
    needs 800 - 16.3 = 783.7 K, (783.7 - 660)/20 = 6.18 doublings after 1 s: 72.7 s."""
    lit = run(heat(warming(start=660.0)), case(), polymer(char_yield=0.2)).times[ends.IGNITION]
    assert lit == pytest.approx([2 ** ((800 - 0.97 * 16.82 - 660) / 20)], rel=1e-3)


def test_cold_crack_counts_as_the_brittle_crowns_end(run: Run) -> None:
    """35.3 bar x (20/4)^2 = 88.2 MPa at the underside against 1.5 x 58 = 87 MPa, see test_cracking.py: at once."""
    assert run(heat(warming()), case(), polymer(cold=58e6, brittle=True)).times[ends.CRACKING].tolist() == [0.0]
    assert run(heat(warming()), case(), polymer(cold=60e6, brittle=True)).times[ends.CRACKING][0] > 0


def test_held_start_is_told_beside_that_of_the_case(run: Run) -> None:
    """Held, the highest of 7.5 cycles of 20 bar that scatter by a tenth lies between 20 and 20 x (1 + 2 x 0.1) = 24 bar: 19 to 23 over
    the air, 15.2 to 18.4 over the gain of 1.25. Brittle: 25 x 19 to 25 x 23 = 475 to 575 bar, 47.5 to 57.5 MPa, hold at 1.5 x 58 =
    87, which the governed start breaks, and break 1.5 x 30 = 45. Tough: with 0.95 of 4 mm lost 29.07 bar are left, 27.6 at the 310 K
    after 0.5 s: the governed start ends it, the held one not; with 2.2 mm lost 10.1 bar are left, too few for either."""
    for cold, breaks in ((58e6, False), (30e6, True)):
        hard = run(heat(warming()), case(), polymer(cold=cold, brittle=True))
        assert hard.times[ends.CRACKING].tolist() == [0.0]
        assert hard.start.held_breaks.tolist() == [breaks]
    for lost, breaks in ((0.00095, False), (0.0022, True)):
        tough = run(heat(warming()), case(), polymer(), lost=lost)
        assert tough.times[ends.COLLAPSE] < tough.load.start_lasts
        assert tough.start.held_breaks.tolist() == [breaks]


def test_crown_beneath_a_coating_lets_go_and_does_not_glow(run: Run) -> None:
    """Beneath 1 mm that conducts nothing sideways the onset's 640 K come after 32 s and 680 K after 128: 0.417 K/s, 2.5 times as
    fast as 10 K/min: 655.2 K, after 55.3 s (see test_decomposition.py)."""
    coated = case("coated crown", (CrownLayer("aluminium", 0.001),))
    times = run(heat(warming(start=540.0)), coated, polymer(char_yield=0.2, decomposition_onset=640.0)).times
    assert times[ends.DECOMPOSITION] == pytest.approx([55.29], rel=1e-3)
    assert ends.IGNITION not in times
    assert ends.SEAT not in times


def test_crown_on_a_skirt_has_a_seat(run: Run) -> None:
    """The metal stands on 50 x 1.2 x 0.36 = 21.6 MPa of cold skirt; at once hotter than 500 K, it has nothing left by 1 s."""
    of, with_polymer = case(ON_SKIRT, (CrownLayer("aluminium", 0.0039),)), polymer()
    looks = output_times(horizon_of(of))
    field = np.where(looks[:, None, None] > 0, 600.0, 300.0) + 0 * DEPTH[:, None]
    none = np.zeros((looks.size, 1))
    warm = CrownHeat(
        looks, DEPTH, field, field[:, 0], field[:, -1], none, none, np.array([np.inf]), np.array([looks[-1]]),
        none, none, none, none, none, np.array([300.0]),
    )  # fmt: skip
    seat = run(warm, of, with_polymer).times[ends.SEAT]
    assert 0 < seat[0] < 0.05


def test_metal_crowns_centre_is_hotter_than_the_mean_of_its_face(monkeypatch: pytest.MonkeyPatch) -> None:
    """4 mm of metal: 1/(1/800 + 0.025^2/(8 x 200 x 0.004)) = 742 W/m2K, excess 742 x 9.77e-5 = 0.0725. At 480 K of mean face and
    400 K of bore the centre has 480 + 0.0725 x 80 = 485.8 K."""
    warm = heat(warming(start=480.0, each=0.0))
    monkeypatch.setattr(sys.modules[run_metal.__module__], "heated", lambda *_: warm)
    done = run_metal(case(), conditions(), gas(), load_materials().get("aluminium"))
    assert done.centre is not None
    assert done.centre[-1] == pytest.approx([485.8], abs=0.1)
    assert set(done.times) == {ends.COLLAPSE}


# how far and how closely a run is followed


@pytest.mark.parametrize(("wanted", "horizon"), [(300.0, 3600.0), (7200.0, 7200.0)])
def test_run_is_followed_for_an_hour_or_as_long_as_is_wanted(wanted: float, horizon: float) -> None:
    of = cast(Any, SimpleNamespace(operation=SimpleNamespace(target_run=wanted)))
    assert horizon_of(of) == horizon


def test_crown_is_looked_at_from_a_twentieth_of_a_second_to_the_horizon() -> None:
    """At the start, then each look the same share later: (3600/0.05)^(1/71) = 1.1706 times."""
    looks = output_times(3600.0)
    assert (looks[0], looks[1], looks[-1]) == pytest.approx((0.0, 0.05, 3600.0))
    assert looks[2:] / looks[1:-1] == pytest.approx([1.1706] * 71, abs=1e-4)


def test_limit_pressure_that_is_shown_is_the_one_that_decides() -> None:
    """0.1 of the strength: 5 MPa cold, 0.1 x 25 = 2.5 MPa at 400 K after 16 s; with 1 of 4 mm lost (3/4)^2 of them."""
    warm, few = heat(warming()), slice(0, 1)
    hot = carried_temperature(warm, few)
    for lost, share in ((0.0, 1.0), (0.001, 0.5625)):
        shown = limit_pressure_history(conditions(), stack(), warm, hot, np.array([lost]), few)
        assert shown[0] == pytest.approx([share * 5e6])
        assert shown[5] == pytest.approx([share * 2.5e6])
