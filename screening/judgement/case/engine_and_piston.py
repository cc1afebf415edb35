"""Engine and piston of a case document in SI: sizes that fit together, layers of materials that there are, typical values in the gaps."""

from __future__ import annotations

import numpy as np

from screening.errors import Fault, UnknownName
from screening.judgement.case.case import DRY, NO_WEBS, CrownLayer, Engine, Piston
from screening.judgement.case.compression_gauge import ratio_by_gauge
from screening.judgement.case.section_values import Section, optional_si, si, typical

BUILDS_WITH_LAYERS = ("coated crown", "metal cap", "metal crown on polymer skirt")
SHORTEST_ROD = 0.8
"""Length of a connecting rod over the stroke under which the case is refused: the piston would meet the crank [1]."""
DISAGREEMENT = 0.05
"""How far displacement and bore and stroke may be apart [1] (the project's choice): as written on an engine's plate."""
LARGEST_SHARE = {
    "crown_thickness": 0.6,
    "pin_diameter": 0.6,
    "both_bosses_length": 1.0,
    "skirt_wall": 0.4,
    "cold_clearance": 0.1,
}
"""Largest size of a part over the bore that the case may give [1] (the project's choice): beyond it a unit is wrong."""


def engine_section(section: Section, faults: list[Fault]) -> Engine:
    """Return the engine in SI; what does not fit together is added to `faults`."""
    bore, stroke = _bore_and_stroke(section, faults)
    rod = si(section, "rod_length_mm", stroke * typical("rod_to_stroke"))
    if rod < SHORTEST_ROD * stroke:
        message = (
            f"got {rod * 1e3:g} mm; must be longer than {SHORTEST_ROD:g} of the stroke "
            f"({1e3 * SHORTEST_ROD * stroke:.1f} mm), centre to centre"
        )
        faults.append(Fault("engine.rod_length_mm", message))
    gauge = optional_si(section, "compression_gauge_bar")
    usual = (
        typical("compression_ratio") if gauge is None or rod <= stroke / 2 else ratio_by_gauge(gauge, stroke, rod)[1]
    )
    return Engine(
        bore=bore,
        stroke=stroke,
        rod_length=rod,
        compression_ratio=si(section, "compression_ratio", usual),
        compression_gauge=gauge,
        speed=si(section, "speed_rpm", typical("speed")),
        warmed_metal=optional_si(section, "warmed_metal_kg"),
    )


def _bore_and_stroke(section: Section, faults: list[Fault]) -> tuple[float, float]:
    """Return bore and stroke [m], as given or those of the displacement at the usual ratio."""
    has_bore, has_stroke, has_volume = (key in section for key in ("bore_mm", "stroke_mm", "displacement_cc"))
    if has_bore != has_stroke:
        missing = "stroke_mm" if has_bore else "bore_mm"
        faults.append(Fault(f"engine.{missing}", "missing; bore_mm and stroke_mm go together"))
    if not (has_volume or has_bore or has_stroke):
        faults.append(Fault("engine", "must give displacement_cc, or bore_mm and stroke_mm"))
    if not (has_bore and has_stroke):
        ratio = typical("bore_to_stroke")
        bore = float(np.cbrt(4 * section.get("displacement_cc", 100.0) * 1e-6 * ratio / np.pi))
        return bore, bore / ratio
    bore, stroke = section["bore_mm"] * 1e-3, section["stroke_mm"] * 1e-3
    swept = np.pi / 4 * bore**2 * stroke * 1e6
    if has_volume and abs(swept / section["displacement_cc"] - 1) > DISAGREEMENT:
        message = f"got {section['displacement_cc']:g} cc, but bore and stroke make {swept:.1f} cc; give one or mend it"
        faults.append(Fault("engine.displacement_cc", message))
    return bore, stroke


def piston_section(section: Section, bore: float, known: tuple[str, ...], faults: list[Fault]) -> Piston:
    """Return the piston for a `bore` [m] in SI; `known` are the ids a layer may name; what is wrong is added to `faults`."""
    piston = Piston(
        build=section.get("build", "all polymer"),
        crown_thickness=si(section, "crown_thickness_mm", bore * typical("crown_thickness_to_bore")),
        crown_layers=_crown_layers(section, known, faults),
        pin_diameter=si(section, "pin_diameter_mm", bore * typical("pin_diameter_to_bore")),
        both_bosses_length=si(section, "both_bosses_length_mm", bore * typical("both_bosses_length_to_bore")),
        cold_clearance=optional_si(section, "cold_clearance_mm"),
        skirt_wall=si(section, "skirt_wall_mm", bore * typical("skirt_wall_to_bore")),
        ring_groove_depth=si(section, "ring_groove_depth_mm", bore * typical("ring_groove_depth_to_bore")),
        bore_material=section.get("bore_material", "aluminium"),
        print_direction=section.get("print_direction", "crown flat on bed"),
        solid_share=si(section, "solid_share", typical("solid_share")),
        webs=section.get("webs", NO_WEBS),
        ring_depth=si(section, "ring_depth_mm", bore * typical("ring_depth_to_bore")),
        polyamide_state=section.get("polyamide_state", DRY),
    )
    for part, share in LARGEST_SHARE.items():
        size, largest = getattr(piston, part) or 0.0, share * bore
        if size > largest:
            of_bore = "the bore" if share == 1 else f"{share:g} of the bore"
            message = f"got {size * 1e3:g} mm; at most {of_bore} ({largest * 1e3:.1f} mm)"
            faults.append(Fault(f"piston.{part}_mm", message))
    return piston


def _crown_layers(section: Section, known: tuple[str, ...], faults: list[Fault]) -> tuple[CrownLayer, ...]:
    """Return the layers on the polymer, from the gas inwards: of materials that there are, where the build has layers."""
    build = section.get("build", "all polymer")
    layers = tuple(CrownLayer(row["material"], row["thickness_mm"] * 1e-3) for row in section.get("crown_layers", ()))
    for i, layer in enumerate(layers):
        if layer.material not in known:
            unknown = str(UnknownName("material", layer.material, known))
            faults.append(Fault(f"piston.crown_layers[{i}].material", unknown))
    if build in BUILDS_WITH_LAYERS and not layers:
        missing = f"missing; a piston built as {build!r} needs its layers, from the gas inwards"
        faults.append(Fault("piston.crown_layers", missing))
    if build == "all polymer" and layers:
        needless = "given, but piston.build is 'all polymer'; name the build that has layers"
        faults.append(Fault("piston.crown_layers", needless))
    return layers
