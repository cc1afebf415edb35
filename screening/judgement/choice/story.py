"""The whole story of one material: its times, its heat, its contact with the fuel, and why it stands where it does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from screening.arrays import FloatArray
from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.printability import Printability
from screening.judgement.choice.sensitivity import Influence, Unknowns
from screening.judgement.choice.verdict import Standing
from screening.judgement.contact.pair import Contact
from screening.judgement.piston.fit_advice import FitAdvice
from screening.records.materials.materials import Material
from screening.sentences import Text


@dataclass(frozen=True)
class Story:
    """One material's result; what lacks values without which no run can be computed has only what needs no run.

    Parameters
    ----------
    material : with its values
    standing : the verdict; None where it was not run
    life : (n_draw,) [s], the time at which the first mechanism ends the run; empty where it was not run
    times : mechanism -> the time at which it would end the run by itself, of the draws that are followed to the horizon
        (`heating.SHOWN`), (n_shown,) [s]
    history : the crown's heat; None where it was not run
    printability : on the case's printer
    contacts : exposure -> what the fuel does to it
    fit : what to print and file; None where it was not run
    softens, swells : the two warnings that people look for first; empty where it was not run
    reasons : sentences, the most telling first
    unknowns : what was not known of its runs; None where it was not run, or is the metal's
    missing : names of the values that it lacks
    bursts_at : 5th, 50th and 95th percentile of the pressure at which its bare crown bursts cold [Pa]; None where it was not
        run or where the ring sits in metal
    rank : among the others, from 1; 0 before they are ranked
    """

    material: Material
    standing: Standing | None
    life: FloatArray
    times: Mapping[str, FloatArray]
    history: CrownHistory | None
    printability: Printability
    contacts: Mapping[str, Contact]
    fit: FitAdvice | None
    reasons: tuple[Text, ...]
    unknowns: Unknowns | None
    missing: tuple[str, ...]
    softens: Text = ""
    swells: str = ""
    bursts_at: tuple[float, ...] | None = None
    rank: int = 0

    @property
    def influences(self) -> tuple[Influence, ...]:
        """The items that move what its life is worth by more than chance would, largest first."""
        return () if self.unknowns is None else self.unknowns.influences

    @property
    def print_diameter(self) -> tuple[float, float, float] | None:
        """Diameter to print the skirt at, median and other end of the range [m]; None where it was not run."""
        return None if self.fit is None else self.fit.skirt

    def with_rank(self, rank: int) -> Story:
        """Return the story with its rank among the others."""
        return replace(self, rank=rank)
