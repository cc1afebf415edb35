"""The glass transition of a mixture, against a textbook and by hand."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.contact.softened_transition import fox_transition


def test_fox_by_hand():
    assert fox_transition(0.25, 150.0, 373.0) == pytest.approx(1 / (0.25 / 150 + 0.75 / 373))


def test_fox_for_a_textbook_copolymer():
    """62 % methyl methacrylate (105 degC) and 38 % ethyl acrylate (-23 degC) by mass: exercise 6.5 of a textbook (the
    question was looked up, its answer not seen); by hand 1/(0.62/378.15 + 0.38/250.15) = 316.6 K. A mean by mass would
    say 329.5 K."""
    assert fox_transition(0.38, 250.15, 378.15) == pytest.approx(316.6, abs=0.05)


def test_transition_of_a_mixture():
    """Fox 1956 (from memory), by hand: 1/(0.3/140 + 0.7/380) = 251.0 K."""
    assert fox_transition(0.0, 140.0, 380.0) == pytest.approx(380.0)
    assert fox_transition(1.0, 140.0, 380.0) == pytest.approx(140.0)
    assert fox_transition(0.3, 140.0, 380.0) == pytest.approx(251.0, abs=0.1)
    assert (np.diff(fox_transition(np.linspace(0, 1, 30), 140.0, 380.0)) < 0).all()
