"""From the sections of a case document to records in SI: units converted, defaults filled, cross-checks made.

The document has passed the JSON Schema when it comes here, so each value has the right type and lies in its range;
what is checked here is what a schema cannot say: names, and how values fit together.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from screening.demo_cases import bundled_logs
from screening.errors import CaseError, Fault, LogError, ScreeningError, UnknownName
from screening.judgement.case.case import (
    Case,
    CrownLayer,
    Engine,
    Head,
    Operation,
    Piston,
    Printer,
    Probe,
    SoakTest,
    canonical_text,
)
from screening.judgement.case.own_materials import own_materials
from screening.judgement.head.run_log import read_log
from screening.quantities import from_si, to_si
from screening.records.liquids.find_fuel import Fuel, find_fuel, own_fuel
from screening.records.materials.materials import load_materials
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.surfaces import find_surface

Section = Mapping[str, Any]
WIDEST_SETTLED = 60.0
"""A log that has not settled is refused when the 90 % interval of its end is wider [K] (the project's own choice)."""
BUILDS_WITH_LAYERS = ("coated crown", "metal cap", "metal crown on polymer skirt")


def checked_case(document: dict[str, Any]) -> Case:
    """Return the case in a document that fits the schema; raise CaseError with every fault found."""
    faults: list[Fault] = []
    own = own_materials(document.get("own_materials", []), faults)
    known = (*load_materials().ids, *(material.id for material in own))
    engine = _engine(document["engine"], faults)
    piston = _piston(document.get("piston", {}), engine, known, faults)
    fuel = _fuel(document["fuel"], "fuel", faults)
    reference = _fuel(document.get("reference_fuel", "petrol E0"), "reference_fuel", faults)
    operation = _operation(document.get("operation", {}), faults)
    head = _head(document["head"], faults)
    soaks = [_soak_test(row, f"soak_tests[{i}]", known, faults) for i, row in enumerate(document.get("soak_tests", ()))]
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
        own_materials=own,
        probe=_probe(document.get("probe")),
        text=canonical_text(document),
    )


def _kept(faults: list[Fault], where: str, work: Callable[[], Any]) -> Any:
    """Result of `work`, or None with its complaint added to `faults`."""
    try:
        return work()
    except CaseError as error:
        faults += [fault if fault.where.startswith(where) else Fault(where, str(fault)) for fault in error.faults]
    except ScreeningError as error:
        faults.append(Fault(where, str(error)))
    return None


def _si(section: Section, key: str, default: float) -> float:
    """Return `key` in SI, read by the unit its name ends in, or the SI `default` where it is left out."""
    return to_si(section[key], unit_of_key(key)) if key in section else default


def _optional(section: Section, key: str) -> float | None:
    return to_si(section[key], unit_of_key(key)) if key in section else None


def unit_of_key(key: str) -> str:
    """Return the unit that a key of the case names at its end; '1' where it names none."""
    endings = {
        "_W_m2K": "W/(m2 K)", "_mm": "mm", "_cc": "cc", "_mL": "mL", "_C": "degC", "_K": "K", "_rpm": "rpm",
        "_kg": "kg", "_g": "g", "_s": "s", "_h": "h",
    }  # fmt: skip
    return next((unit for ending, unit in endings.items() if key.endswith(ending)), "1")


def _typical(name: str) -> float:
    return load_assumptions()[name].typical


def _engine(section: Section, faults: list[Fault]) -> Engine:
    has_bore, has_stroke, has_volume = (key in section for key in ("bore_mm", "stroke_mm", "displacement_cc"))
    if has_bore != has_stroke:
        missing = "stroke_mm" if has_bore else "bore_mm"
        faults.append(Fault(f"engine.{missing}", "missing; bore_mm and stroke_mm go together"))
    if not (has_volume or has_bore or has_stroke):
        faults.append(Fault("engine", "must give displacement_cc, or bore_mm and stroke_mm"))
    if has_bore and has_stroke:
        bore, stroke = section["bore_mm"] * 1e-3, section["stroke_mm"] * 1e-3
        swept = np.pi / 4 * bore**2 * stroke * 1e6
        if has_volume and abs(swept / section["displacement_cc"] - 1) > 0.05:
            message = (
                f"got {section['displacement_cc']:g} cc, but bore and stroke make {swept:.1f} cc; give one or mend it"
            )
            faults.append(Fault("engine.displacement_cc", message))
    else:
        ratio = _typical("bore_to_stroke")
        bore = float(np.cbrt(4 * section.get("displacement_cc", 100.0) * 1e-6 * ratio / np.pi))
        stroke = bore / ratio
    rod = _si(section, "rod_length_mm", stroke * _typical("rod_to_stroke"))
    if rod < 0.8 * stroke:
        message = (
            f"got {rod * 1e3:g} mm; must be longer than 0.8 of the stroke ({800 * stroke:.1f} mm), centre to centre"
        )
        faults.append(Fault("engine.rod_length_mm", message))
    return Engine(
        bore=bore,
        stroke=stroke,
        rod_length=rod,
        compression_ratio=_si(section, "compression_ratio", _typical("compression_ratio")),
        speed=_si(section, "speed_rpm", _typical("speed")),
        warmed_metal=_si(
            section, "warmed_metal_kg", _typical("warmed_metal_to_swept_volume") * np.pi / 4 * bore**2 * stroke
        ),
    )


def _piston(section: Section, engine: Engine, known: tuple[str, ...], faults: list[Fault]) -> Piston:
    bore = engine.bore
    build = section.get("build", "all polymer")
    layers = tuple(CrownLayer(row["material"], row["thickness_mm"] * 1e-3) for row in section.get("crown_layers", ()))
    for i, layer in enumerate(layers):
        if layer.material not in known:
            faults.append(
                Fault(f"piston.crown_layers[{i}].material", str(UnknownName("material", layer.material, known)))
            )
    if build in BUILDS_WITH_LAYERS and not layers:
        faults.append(
            Fault("piston.crown_layers", f"missing; a piston built as {build!r} needs its layers, from the gas inwards")
        )
    if build == "all polymer" and layers:
        faults.append(
            Fault("piston.crown_layers", "given, but piston.build is 'all polymer'; name the build that has layers")
        )
    piston = Piston(
        build=build,
        crown_thickness=_si(section, "crown_thickness_mm", bore * _typical("crown_thickness_to_bore")),
        crown_layers=layers,
        pin_diameter=_si(section, "pin_diameter_mm", bore * _typical("pin_diameter_to_bore")),
        pin_boss_length=_si(section, "pin_boss_length_mm", bore * _typical("pin_boss_length_to_bore")),
        cold_clearance=_optional(section, "cold_clearance_mm"),
        skirt_wall=_si(section, "skirt_wall_mm", bore * _typical("skirt_wall_to_bore")),
        ring_groove_depth=_si(section, "ring_groove_depth_mm", bore * _typical("ring_groove_depth_to_bore")),
        bore_material=section.get("bore_material", "aluminium"),
        print_direction=section.get("print_direction", "crown flat on bed"),
        solid_share=_si(section, "solid_share", _typical("solid_share")),
    )
    for key, size, limit, why in (
        ("crown_thickness_mm", piston.crown_thickness, 0.6 * bore, "0.6 of the bore"),
        ("pin_diameter_mm", piston.pin_diameter, 0.6 * bore, "0.6 of the bore"),
        ("pin_boss_length_mm", piston.pin_boss_length, bore, "the bore"),
        ("skirt_wall_mm", piston.skirt_wall, 0.4 * bore, "0.4 of the bore"),
        ("cold_clearance_mm", piston.cold_clearance or 0.0, 0.1 * bore, "0.1 of the bore"),
    ):
        if size > limit:
            faults.append(Fault(f"piston.{key}", f"got {size * 1e3:g} mm; at most {why} ({limit * 1e3:.1f} mm)"))
    return piston


def _operation(section: Section, faults: list[Fault]) -> Operation:
    if ("burned_mL" in section) != ("burn_duration_s" in section):
        missing = "burn_duration_s" if "burned_mL" in section else "burned_mL"
        faults.append(Fault(f"operation.{missing}", "missing; burned_mL and burn_duration_s go together"))
    if "burned_mL" in section and "throttle" in section:
        faults.append(
            Fault("operation.throttle", "given beside a measured burn; give one of the two: the burn tells more")
        )
    return Operation(
        burned_volume=_optional(section, "burned_mL"),
        burn_duration=_optional(section, "burn_duration_s"),
        throttle=_optional(section, "throttle"),
        equivalence_ratio=_si(section, "equivalence_ratio", _typical("equivalence_ratio")),
        ambient=_si(section, "ambient_C", _typical("ambient")),
        target_run=_si(section, "target_run_s", 300.0),
        crankcase=_si(section, "crankcase_C", _typical("crankcase")),
        crankcase_film=_si(section, "crankcase_film_W_m2K", _typical("crankcase_film")),
    )


def _head(section: Section, faults: list[Fault]) -> Head:
    if ("reading_C" in section) == ("log" in section):
        faults.append(Fault("head", "must give either reading_C or log" + (", not both" if "log" in section else "")))
    log = section.get("log")
    text = None
    if isinstance(log, str):
        text = log
    elif isinstance(log, Mapping) and "bundled" in log:
        text = _kept(faults, "head.log.bundled", lambda: _bundled_log(log["bundled"]))
    elif isinstance(log, Mapping):
        name = f" ({log['name']})" if "name" in log else ""
        message = (
            f"the log with digest {log['digest'][:12]}...{name} is not here; "
            "open that file beside the case, or give its text, or a reading_C in its place"
        )
        faults.append(Fault("head.log", message))
    if text is not None:
        _kept(faults, "head.log", lambda: _check_log(text))
    surface = section.get("surface", "bare_cast_aluminium")
    _kept(faults, "head.surface", lambda: find_surface(surface))
    return Head(
        reading=_optional(section, "reading_C"),
        log_text=text,
        gun_emissivity=_si(section, "gun_emissivity", 0.95),
        surface=surface,
    )


def _check_log(text: str) -> None:
    """Raise LogError for a log that cannot be read, or that says next to nothing of where the head settles."""
    fit = read_log(io.StringIO(text)).fit_warm_up()  # as a stream: the text of a case never names a file
    low, high = fit.settled_interval
    if not fit.is_settled and high - low > WIDEST_SETTLED:
        raise LogError(
            f"the run had not settled: its end may lie anywhere from {from_si(low, 'degC'):.0f} to "
            f"{from_si(high, 'degC'):.0f} °C (90 %); log for longer, or give reading_C in its place"
        )


def _bundled_log(name: str) -> str:
    logs = bundled_logs()
    if name not in logs:
        raise UnknownName("bundled log", name, logs)
    return logs[name].read_text("utf-8")


def _printer(section: Section) -> Printer:
    return Printer(
        nozzle=_si(section, "nozzle_C", _typical("nozzle")),
        bed=_si(section, "bed_C", _typical("bed")),
        chamber=_si(section, "chamber_C", _typical("chamber")),
        hardened_nozzle=section.get("hardened_nozzle", False),
        dryer=section.get("dryer", False),
        annealing_oven=_optional(section, "annealing_oven_C"),
    )


def _fuel(entry: str | Mapping[str, Any], where: str, faults: list[Fault]) -> Fuel | None:
    found: Fuel | None = _kept(
        faults, where, lambda: find_fuel(entry) if isinstance(entry, str) else own_fuel(entry, where)
    )
    return found


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
        temperature=_si(row, "temperature_C", 296.15),
        time=_optional(row, "time_h"),
        mass_before=_optional(row, "mass_before_g"),
        mass_after=_optional(row, "mass_after_g"),
        size_before=_optional(row, "size_before_mm"),
        size_after=_optional(row, "size_after_mm"),
        outcome=row.get("outcome"),
        note=row.get("note", ""),
    )


def _probe(section: Section | None) -> Probe | None:
    if section is None:
        return None
    return Probe(
        kind=section["kind"],
        temperature=to_si(section["temperature_C"], "degC"),
        uncertainty=section.get("uncertainty_K", 15.0),
        depth=_optional(section, "depth_mm"),
        time=_optional(section, "time_s"),
    )
