"""From the sections of a case document to records in SI: units converted, defaults filled, cross-checks made.

The document has passed the JSON Schema when it comes here, so each value has the right type and lies in its range;
what is checked here is what a schema cannot say: names, and how values fit together.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from screening.errors import CaseError, Fault, UnknownName
from screening.judgement.case.case import NOT_KNOWN, Case, Operation, Printer, Probe, SoakTest, canonical_text
from screening.judgement.case.engine_and_piston import engine_section, piston_section
from screening.judgement.case.head_section import head_section
from screening.judgement.case.own_materials import own_materials
from screening.judgement.case.proofs_and_runs import booked_runs, cold_proofs
from screening.judgement.case.section_values import Section, kept, optional_si, si, typical
from screening.quantities import ROOM_TEMPERATURE, to_si
from screening.records.liquids.find_fuel import Fuel, find_fuel, own_fuel
from screening.records.materials.materials import load_materials

WANTED_RUN = 300.0
"""Run that is asked for where the case names none [s] (the project's choice)."""
PROBE_ERROR = 15.0
"""How far a probe in a crown may be off where the case does not say [K] (common practice, no source)."""
USUAL_FUEL = "petrol E0"
"""What a fuel is compared with where the case names nothing."""


def checked_case(document: dict[str, Any]) -> Case:
    """Return the case in a document that fits the schema; raise CaseError with every fault."""
    faults: list[Fault] = []
    own_rows = own_materials(document.get("own_materials", []), faults)
    known = (*load_materials().ids, *(material.id for material in own_rows))
    engine = engine_section(document["engine"], faults)
    piston = piston_section(document.get("piston", {}), engine.bore, known, faults)
    fuel = _fuel(document["fuel"], "fuel", faults)
    reference = _fuel(document.get("reference_fuel", USUAL_FUEL), "reference_fuel", faults)
    operation = _operation(document.get("operation", {}), faults)
    head = head_section(document["head"], faults)
    soaks = [_soak_test(row, f"soak_tests[{i}]", known, faults) for i, row in enumerate(document.get("soak_tests", ()))]
    proofs = cold_proofs(document.get("cold_proofs", ()), known, faults)
    runs = booked_runs(document.get("runs", ()), known, faults)
    if faults or fuel is None or reference is None:
        raise CaseError(faults)
    return Case(
        title=document.get("title", ""),
        notes=document.get("notes", ""),
        engine=engine,
        piston=piston,
        fuel=fuel,
        reference_fuel=reference,
        operation=operation,
        head=head,
        printer=_printer(document.get("printer", {})),
        soak_tests=tuple(soak for soak in soaks if soak is not None),
        cold_proofs=proofs,
        runs=runs,
        own_materials=own_rows,
        probe=_probe(document.get("probe")),
        text=canonical_text(document),
    )


def _operation(section: Section, faults: list[Fault]) -> Operation:
    if ("burned_mL" in section) != ("burn_duration_s" in section):
        missing = "burn_duration_s" if "burned_mL" in section else "burned_mL"
        faults.append(Fault(f"operation.{missing}", "missing; burned_mL and burn_duration_s go together"))
    if "burned_mL" in section and "throttle" in section:
        faults.append(
            Fault("operation.throttle", "given beside a measured burn; give one of the two: the burn tells more")
        )
    return Operation(
        burned_volume=optional_si(section, "burned_mL"),
        burn_duration=optional_si(section, "burn_duration_s"),
        throttle=optional_si(section, "throttle"),
        equivalence_ratio=si(section, "equivalence_ratio", typical("equivalence_ratio")),
        ambient=si(section, "ambient_C", typical("ambient")),
        target_run=si(section, "target_run_s", WANTED_RUN),
        crankcase=si(section, "crankcase_C", typical("crankcase")),
        crankcase_film=si(section, "crankcase_film_W_m2K", typical("crankcase_film")),
        start=section.get("start", NOT_KNOWN),
        spark=optional_si(section, "spark_before_top_deg"),
    )


def _printer(section: Section) -> Printer:
    return Printer(
        nozzle=si(section, "nozzle_C", typical("nozzle")),
        bed=si(section, "bed_C", typical("bed")),
        chamber=si(section, "chamber_C", typical("chamber")),
        hardened_nozzle=section.get("hardened_nozzle", False),
        dryer=section.get("dryer", False),
        annealing_oven=optional_si(section, "annealing_oven_C"),
    )


def _fuel(entry: str | Mapping[str, Any], where: str, faults: list[Fault]) -> Fuel | None:
    return kept(faults, where, lambda: find_fuel(entry) if isinstance(entry, str) else own_fuel(entry, where))


def _soak_test(row: Section, where: str, known: tuple[str, ...], faults: list[Fault]) -> SoakTest | None:
    if row["material"] not in known:
        faults.append(Fault(f"{where}.material", str(UnknownName("material", row["material"], known))))
    for kind, unit in (("mass", "g"), ("size", "mm")):
        before, after = f"{kind}_before_{unit}", f"{kind}_after_{unit}"
        if (before in row) != (after in row):
            missing = after if before in row else before
            faults.append(Fault(f"{where}.{missing}", f"missing; {before} and {after} go together"))
    if not {"outcome", "mass_after_g", "size_after_mm"} & set(row):
        faults.append(Fault(where, "says nothing: give outcome, or mass or size before and after"))
    fluid = _fuel(row["fluid"], f"{where}.fluid", faults)
    if fluid is None:
        return None
    return SoakTest(
        material=row["material"],
        fluid=fluid,
        temperature=si(row, "temperature_C", ROOM_TEMPERATURE),
        time=optional_si(row, "time_h"),
        mass_before=optional_si(row, "mass_before_g"),
        mass_after=optional_si(row, "mass_after_g"),
        size_before=optional_si(row, "size_before_mm"),
        size_after=optional_si(row, "size_after_mm"),
        outcome=row.get("outcome"),
        note=row.get("note", ""),
    )


def _probe(section: Section | None) -> Probe | None:
    if section is None:
        return None
    return Probe(
        kind=section["kind"],
        temperature=to_si(section["temperature_C"], "degC"),
        uncertainty=section.get("uncertainty_K", PROBE_ERROR),
        depth=optional_si(section, "depth_mm"),
        time=optional_si(section, "time_s"),
    )
