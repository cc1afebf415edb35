"""The case: one piston in one engine on one fuel, as checked records in SI units.

A `Case` is made by `load_case` (see `case_file`). It keeps the document it was made from, so that what was given
and what was filled in by default can always be kept apart.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from screening.records.liquids.find_fuel import Fuel

NOT_KNOWN, GOVERNED, HELD, CHOKED = "not known", "governed", "held", "choke"
"""How the engine is started: not known, the throttle open until the governor shuts it, held nearly shut, or on the choke."""
DRY, CONDITIONED = "dry", "conditioned"
"""What state a polyamide's print is in: kept dry, or moist from the air."""
NO_WEBS, WEBS = "none", "at the pin bosses"
"""What ties the crown's underside to the pin bosses."""


@dataclass(frozen=True)
class Engine:
    """Geometry and speed of a four-stroke cylinder; typical values stand where the case gives none.

    Parameters
    ----------
    bore, stroke, rod_length : float
        [m]
    compression_ratio : float
        Geometric, [1].
    compression_gauge : float or None
        What a compression gauge kept above the air's pressure, cranked [Pa].
    speed : float
        Crankshaft speed [rev/s].
    warmed_metal : float or None
        Mass of head and barrel [kg], by which a log's heat is weighed; None: not weighed.
    """

    bore: float
    stroke: float
    rod_length: float
    compression_ratio: float
    compression_gauge: float | None
    speed: float
    warmed_metal: float | None


@dataclass(frozen=True)
class CrownLayer:
    """A layer on the gas side of the polymer: a metal or a coating of the table, `thickness` in [m]."""

    material: str
    thickness: float


@dataclass(frozen=True)
class Piston:
    """How the piston is built and how large its parts are; lengths in [m].

    `cold_clearance` is the bore's diameter less the skirt's, both cold; None: printed to the recommended diameter.
    """

    build: str
    crown_thickness: float
    crown_layers: tuple[CrownLayer, ...]
    pin_diameter: float
    both_bosses_length: float
    cold_clearance: float | None
    skirt_wall: float
    ring_groove_depth: float
    bore_material: str
    print_direction: str
    solid_share: float
    webs: str
    ring_depth: float
    polyamide_state: str


@dataclass(frozen=True)
class Operation:
    """How the engine is run: burn as volume [m3] in a duration [s], or throttle [1]; temperatures [K], time [s].

    `start` is NOT_KNOWN, GOVERNED, HELD or CHOKED; `spark` is before firing top dead centre [rad], None: not known.
    """

    burned_volume: float | None
    burn_duration: float | None
    throttle: float | None
    equivalence_ratio: float
    ambient: float
    target_run: float
    crankcase: float
    crankcase_film: float
    start: str
    spark: float | None


@dataclass(frozen=True)
class Head:
    """What the gun said of the head: a settled `reading` [K] or a log's text, the gun's emissivity, the surface.

    `surroundings` is what the surface mirrors, `gun_compensates_for` what the gun takes that to be [K]; None: not said.
    """

    reading: float | None
    log_text: str | None
    gun_emissivity: float
    gun_compensates_for: float | None
    surroundings: float | None
    surface: str


@dataclass(frozen=True)
class Printer:
    """What the printer reaches: temperatures [K] (None: there is none) and equipment."""

    nozzle: float
    bed: float
    chamber: float
    hardened_nozzle: bool
    dryer: bool
    annealing_oven: float | None


@dataclass(frozen=True)
class SoakTest:
    """One soak test that the user made; temperature [K], time [s], masses [kg], lengths [m]; None: not measured."""

    material: str
    fluid: Fuel
    temperature: float
    time: float | None
    mass_before: float | None
    mass_after: float | None
    size_before: float | None
    size_after: float | None
    outcome: str | None
    note: str


@dataclass(frozen=True)
class ColdProof:
    """One bare printed crown that the user pressed cold: `thickness` [m], None: as the case's crown.

    `burst` or `held` [Pa], over the pressure outside; the other one is None.
    """

    material: str
    thickness: float | None
    burst: float | None
    held: float | None


@dataclass(frozen=True)
class BookedRun:
    """One run of this case that the user made: how long it `lasted` [s] and what ended it, in the builder's words.

    `thickness` [m] of its polymer crown, None: as the case's.
    """

    material: str
    thickness: float | None
    lasted: float
    ended_by: str


@dataclass(frozen=True)
class OwnMaterial:
    """A material that the user adds: the values it gives (low, typical, high in the table's units) over a base."""

    id: str
    name: str
    based_on: str
    values: tuple[tuple[str, tuple[float, float, float]], ...]


@dataclass(frozen=True)
class Probe:
    """A temperature measured in a crown: [K], its uncertainty [K], depth [m], time after the start [s]."""

    kind: str
    temperature: float
    uncertainty: float
    depth: float | None
    time: float | None


@dataclass(frozen=True)
class Case:
    """A checked case. `text` is the document in one canonical form; two cases are the same when their texts are."""

    title: str
    notes: str
    engine: Engine
    piston: Piston
    fuel: Fuel
    reference_fuel: Fuel
    operation: Operation
    head: Head
    printer: Printer
    soak_tests: tuple[SoakTest, ...]
    cold_proofs: tuple[ColdProof, ...]
    runs: tuple[BookedRun, ...]
    own_materials: tuple[OwnMaterial, ...]
    probe: Probe | None
    text: str

    def to_dict(self) -> dict[str, Any]:
        """Return the document the case was made from, ready for a JSON file."""
        document: dict[str, Any] = json.loads(self.text)
        return document

    def is_given(self, section: str, key: str) -> bool:
        """Return whether the document gives `key` in `section` (else a default with a range stands in)."""
        return key in self._document.get(section, {})

    @cached_property
    def _document(self) -> Mapping[str, Any]:
        """The document, read once; not to be changed."""
        return self.to_dict()

    @property
    def digest(self) -> str:
        """SHA-256 of the canonical document."""
        return hashlib.sha256(self.text.encode()).hexdigest()


def canonical_text(document: Mapping[str, Any]) -> str:
    """Return `document` as JSON text that depends on its content only, not on the order of its keys."""
    return json.dumps(document, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
