"""The whole story of one material: its times, its heat, its contact with the fuel, and why it stands where it does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from screening.judgement.choice.printability import Printability
from screening.judgement.choice.ranking import Standing
from screening.judgement.choice.sensitivity import Influence
from screening.judgement.contact.pair import Contact
from screening.judgement.piston.fit_advice import FitAdvice
from screening.records.materials.materials import Material

FloatArray = np.ndarray
QUANTILES = (0.05, 0.5, 0.95)


@dataclass(frozen=True)
class CrownHistory:
    """Quantiles (5th, 50th, 95th) of the crown's heat over the draws; the first axis of each array is the quantile.

    `times` (n_time,) [s]; `depth_share` (n_depth,), depth over the stack's thickness [1]; `temperature`
    (3, n_time, n_depth) [K]; `surface` and `back` (3, n_time) [K]; `limit_pressure` (3, n_time) [Pa]; `load` (3,) [Pa];
    `softened_depth` (3, n_time) [m], polymer hotter than its softening temperature; `softening` (3,) [K];
    `thickness` typical stack thickness [m]; `recession` (3, n_time) [m]; `swing` (3,) [K]; `centre` (3, n_time) [K], the
    middle of a metal crown's face, of which `surface` is the mean (None: a polymer conducts nothing sideways).
    """

    times: FloatArray
    depth_share: FloatArray
    temperature: FloatArray
    surface: FloatArray
    back: FloatArray
    limit_pressure: FloatArray
    load: FloatArray
    softened_depth: FloatArray
    softening: FloatArray
    thickness: float
    recession: FloatArray
    swing: FloatArray
    centre: FloatArray | None = None


@dataclass(frozen=True)
class Story:
    """One material's result.

    `fit` says what to print and file, None where nothing is known. `life` (n_draw,) [s] is when the first mechanism ends the run, empty where nothing is known; `times` maps each
    mechanism to when it would end it by itself, of the draws that were followed to the horizon (`run.SHOWN`).
    """

    material: Material
    standing: Standing | None
    life: FloatArray
    times: Mapping[str, FloatArray]
    history: CrownHistory | None
    printability: Printability
    contacts: Mapping[str, Contact]
    fit: FitAdvice | None
    reasons: tuple[str, ...]
    influences: tuple[Influence, ...]
    missing: tuple[str, ...]
    rank: int = 0

    @property
    def print_diameter(self) -> tuple[float, float, float] | None:
        """Diameter to print the skirt at, median and other end of the range [m]; None where nothing is known."""
        return None if self.fit is None else self.fit.skirt

    def with_rank(self, rank: int) -> Story:
        """Return the story with its rank among the others."""
        return replace(self, rank=rank)
