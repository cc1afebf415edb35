"""The case's inputs: three to start with, all others behind, each with the default that stands in."""

from __future__ import annotations

import streamlit as st

from app import case_state, widgets
from screening.demo_cases import bundled_logs
from screening.judgement.case_file import demo_cases
from screening.quantities import from_si
from screening.records.assumptions import load_assumptions
from screening.records.surfaces import load_surfaces

_BUILDS = ["all polymer", "coated crown", "metal cap", "metal crown on polymer skirt"]


def _range(name: str, unit: str = "1", scale: float = 1.0) -> str:
    a = load_assumptions()[name]
    low, high = (scale * from_si(value, unit) for value in (a.low, a.high))
    return f"{low:.3g} to {high:.3g}"


def quick_start() -> None:
    """Draw demo choice, engine size, fuel and head temperature."""
    engine, head = case_state.document().get("engine", {}), case_state.document().get("head", {})
    first, second, third, fourth = st.columns(4)
    with first:
        names = list(demo_cases())
        chosen = st.selectbox(
            "Start from", ["the case as it is", *names], key=f"demo.{st.session_state.get('generation', 0)}"
        )
        if chosen in names:
            case_state.load_demo(chosen)
            st.rerun()
    with second:
        if "displacement_cc" not in engine and engine:
            widgets.number("engine", "bore_mm", "Bore [mm]")
            widgets.number("engine", "stroke_mm", "Stroke [mm]")
        else:
            widgets.number("engine", "displacement_cc", "Displacement [cc]")
    with third:
        widgets.fuel("fuel", "Fuel")
    with fourth:
        if "log" in head:
            logs = list(bundled_logs())
            name = head["log"].get("bundled", "") if isinstance(head["log"], dict) else ""
            st.markdown(
                f"Head temperature from the log **{name if name in logs else 'of the case'}** (page *Gun and log*)"
            )
            if st.button("Type one reading instead"):
                document = case_state.document()
                case_state.replace(document | {"head": {k: v for k, v in head.items() if k != "log"}})
                st.rerun()
        else:
            widgets.number("head", "reading_C", "Gun reading on the head")


def further() -> None:
    """Draw all other inputs, folded."""
    with st.expander("Further inputs: each narrows the ranges"):
        left, middle, right = st.columns(3)
        with left:
            st.markdown("**Engine and run**")
            if "displacement_cc" in case_state.document().get("engine", {}):
                widgets.number("engine", "bore_mm", "Bore [mm]", "from the displacement")
                widgets.number("engine", "stroke_mm", "Stroke [mm]", "from the displacement")
            widgets.number("engine", "compression_ratio", "Compression ratio", _range("compression_ratio"))
            widgets.number("engine", "speed_rpm", "Speed [rpm]", _range("speed", "rpm"))
            operation = case_state.document().get("operation", {})
            widgets.number("operation", "burned_mL", "Fuel burned [mL]", "unknown")
            widgets.number("operation", "burn_duration_s", "in [s]", "unknown")
            widgets.number(
                "operation", "throttle", "or throttle (0 to 1)", "unknown", disabled="burned_mL" in operation
            )
            widgets.number("operation", "equivalence_ratio", "Equivalence ratio", _range("equivalence_ratio"))
            widgets.number("operation", "ambient_C", "Air", "10 to 30 °C")
            widgets.number("operation", "target_run_s", "Wanted run [s]", "300")
        with middle:
            st.markdown("**Piston**")
            widgets.choice("piston", "build", "Build", _builds(), "all polymer")
            widgets.number("piston", "crown_thickness_mm", "Polymer crown [mm]", "5.5 to 10 % of the bore")
            widgets.number("piston", "skirt_wall_mm", "Skirt wall [mm]", "4 to 10 % of the bore")
            widgets.number("piston", "ring_groove_depth_mm", "Face to top ring groove [mm]", "6 to 12 % of the bore")
            widgets.number("piston", "pin_diameter_mm", "Pin [mm]", "20 to 28 % of the bore")
            widgets.number("piston", "cold_clearance_mm", "Cold clearance [mm]", "as this tool advises")
            widgets.choice("piston", "print_direction", "Print direction", ["crown flat on bed", "crown upright"],
                           "crown flat on bed")  # fmt: skip
            widgets.choice("piston", "bore_material", "Bore", ["aluminium", "cast_iron", "steel"], "aluminium")
        with right:
            st.markdown("**Head, reference and printer**")
            widgets.choice("head", "surface", "Surface the gun sees", list(load_surfaces()), "bare_cast_aluminium")
            widgets.number("head", "gun_emissivity", "Gun set to emissivity", "0.95")
            widgets.fuel("reference_fuel", "Reference fuel")
            widgets.number("printer", "nozzle_C", "Nozzle reaches", "260 to 300 °C")
            widgets.number("printer", "bed_C", "Bed reaches", "100 to 120 °C")
            widgets.number("printer", "chamber_C", "Chamber reaches", "40 to 60 °C")
            widgets.tick("printer", "hardened_nozzle", "Hardened nozzle")
            widgets.tick("printer", "dryer", "Filament dryer")
            widgets.number("printer", "annealing_oven_C", "Annealing oven reaches", "none")


def _builds() -> list[str]:
    """Builds with layers need the layers, which a demo or a case file brings."""
    layered = bool(case_state.document().get("piston", {}).get("crown_layers"))
    return _BUILDS[1:] if layered else _BUILDS[:1]
