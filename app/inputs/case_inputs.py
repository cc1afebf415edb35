"""The case's inputs: three to start with, all others behind, each with the default that stands in and what knowing it
would bring."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import streamlit as st

from app.inputs import layers, widgets
from app.session import case_state
from app.shown.wording import influences_of
from screening.demo_cases import bundled_logs
from screening.errors import ScreeningError
from screening.judgement.case.case import CHOKED, CONDITIONED, DRY, GOVERNED, HELD, NO_WEBS, NOT_KNOWN, WEBS
from screening.judgement.case.case_file import demo_cases, load_case
from screening.judgement.choice.story import Story
from screening.judgement.choice.unknown_items import item_of
from screening.judgement.head.run_log import read_log
from screening.quantities import from_si
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.surfaces import load_surfaces
from screening.sentences import Quantity, TemperatureRange, Text
from screening.words import percent

Slots = dict[tuple[str, str], Any]
DEMO_NAMES = {
    "petrol_baseline": "demo: petrol",
    "cyclopentanone_blend": "demo: ketone blend",
    "metal_cap_blend": "demo: metal cap",
}
_BORES = {"aluminium": "aluminium", "cast_iron": "cast iron", "steel": "steel"}
_DIRECTIONS = {"crown flat on bed": "crown flat on the bed", "crown upright": "crown upright"}
_STARTS = {
    NOT_KNOWN: "not known",
    GOVERNED: "governed, throttle open",
    HELD: "throttle held nearly shut",
    CHOKED: "on the choke",
}
_WEBS = {NO_WEBS: "none", WEBS: "tie the crown to the pin bosses"}
_STATES = {DRY: "dry", CONDITIONED: "as moist as the air leaves them"}
_AS_IT_IS = "your case, below"


def _range(name: str, unit: str = "1") -> str:
    a = load_assumptions()[name]
    low, high = (from_si(value, unit) for value in (a.low, a.high))
    return f"{low:.3g} to {high:.3g}"


def _temperatures(name: str) -> TemperatureRange:
    a = load_assumptions()[name]
    return TemperatureRange(a.low, a.high)


def quick_start() -> None:
    """Draw demo choice, engine size, fuel and head temperature."""
    engine, head = case_state.document().get("engine", {}), case_state.document().get("head", {})
    first, second, third, fourth = st.columns([4, 3, 5, 4])  # a blend of two names must be read whole
    with first:
        _demo_choice()
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
            _log_in_use(head["log"])
        else:
            widgets.number("head", "reading_C", "Gun reading on the head")


def _demo_choice() -> None:
    names = list(demo_cases())
    key = f"demo.{st.session_state.generation}"
    untouched = next((name for name in names if case_state.document() == case_state.demo(name)), _AS_IT_IS)
    if st.session_state.get(key) != untouched:
        st.session_state[key] = untouched  # an edit turns a demo case into one's own

    def take() -> None:
        if st.session_state[key] in names:
            case_state.replace(case_state.demo(st.session_state[key]))

    st.selectbox(
        "Start from",
        names if untouched in names else [_AS_IT_IS, *names],
        format_func=lambda name: DEMO_NAMES.get(name, name.replace("_", " ")),
        key=key,
        on_change=take,
        help="A demo case takes the place of what you have entered; Back in the browser brings that back.",
    )


def _log_in_use(log: Any) -> None:
    """Say which log stands for the head's temperature, and offer to type a reading in its place."""
    name = log.get("bundled", "") if isinstance(log, dict) else ""
    words = f"the invented *{name.replace('_', ' ')}*" if name in bundled_logs() else "your own log"
    st.markdown(f"Head temperature: from {words} (page *Gun and log*).")
    st.button("Type a reading", on_click=_read_instead)


def _read_instead() -> None:
    """Put the log's own settled reading in its place, to be changed; leave it open where the log gives none."""
    document = case_state.document()
    head = {key: value for key, value in document["head"].items() if key != "log"}
    try:
        text = load_case(document).head.log_text or ""
        settled = read_log(io.StringIO(text)).fit_warm_up().settled
        head["reading_C"] = round(from_si(settled, "degC"), 1)
    except ScreeningError:
        pass
    case_state.replace(document | {"head": head})


def further() -> Slots:
    """Draw all other inputs, folded; return where to say what knowing each would bring."""
    slots: Slots = {}

    def number(section: str, key: str, label: str, default: Text | Quantity = "", disabled: bool = False) -> None:
        widgets.number(section, key, label, default, disabled)
        if key not in case_state.document().get(section, {}):
            slots[section, key] = st.empty()

    with st.expander("Further inputs: what you leave open is drawn from a range, what you give narrows the answer"):
        left, middle, right = st.columns(3)
        with left:
            _engine_and_run(number)
        with middle:
            _piston(number)
        with right:
            _head_and_printer()
    return slots


def _engine_and_run(number: Callable[..., None]) -> None:
    st.markdown("**Engine and run**")
    if "displacement_cc" in case_state.document().get("engine", {}):
        number("engine", "bore_mm", "Bore [mm]", "from the displacement")
        number("engine", "stroke_mm", "Stroke [mm]", "from the displacement")
    number("engine", "compression_ratio", "Compression ratio", _range("compression_ratio"))
    known = "compression_ratio" in case_state.document().get("engine", {})
    number("engine", "compression_gauge_bar", "or compression by gauge [bar]", "unknown", known)
    number("engine", "speed_rpm", "Speed [rpm]", _range("speed", "rpm"))
    number("operation", "spark_before_top_deg", "Spark before top dead centre [deg]", "unknown")
    widgets.choice("operation", "start", "How it is started", _STARTS, NOT_KNOWN)
    operation = case_state.document().get("operation", {})
    number("operation", "burned_mL", "Fuel burned [mL]", "unknown")
    number("operation", "burn_duration_s", "in a time of [s]", "unknown")
    number("operation", "throttle", "or throttle, 0 to 1", "unknown", "burned_mL" in operation)
    number("operation", "equivalence_ratio", "Mixture (1 is right, above is rich)", _range("equivalence_ratio"))
    number("operation", "ambient_C", "Air", _temperatures("ambient"))
    widgets.number("operation", "target_run_s", "Wanted run [s]", "300")


def _piston(number: Callable[..., None]) -> None:
    st.markdown("**Piston**")
    layers.editor()
    number("piston", "crown_thickness_mm", "Polymer crown [mm]", _of_bore("crown_thickness_to_bore"))
    number("piston", "skirt_wall_mm", "Skirt wall [mm]", _of_bore("skirt_wall_to_bore"))
    number("piston", "ring_groove_depth_mm", "Face to top ring groove [mm]", _of_bore("ring_groove_depth_to_bore"))
    number("piston", "ring_depth_mm", "Depth of the ring groove [mm]", _of_bore("ring_depth_to_bore"))
    number("piston", "pin_diameter_mm", "Pin [mm]", _of_bore("pin_diameter_to_bore"))
    number("piston", "both_bosses_length_mm", "Both pin bosses on the pin [mm]", _of_bore("both_bosses_length_to_bore"))
    widgets.choice("piston", "webs", "Webs under the crown", _WEBS, NO_WEBS)
    widgets.number("piston", "cold_clearance_mm", "Cold clearance [mm]", "as this tool advises")
    widgets.choice("piston", "polyamide_state", "Polyamides", _STATES, DRY)
    widgets.choice("piston", "print_direction", "Print direction", _DIRECTIONS, "crown flat on bed")
    widgets.choice("piston", "bore_material", "Bore", _BORES, "aluminium")


def _of_bore(name: str) -> str:
    a = load_assumptions()[name]
    return f"{100 * a.low:.3g} to {100 * a.high:.3g} % of bore"


def _head_and_printer() -> None:
    st.markdown("**Head, reference and printer**")
    surfaces = {id: surface.name for id, surface in load_surfaces().items()}
    widgets.choice("head", "surface", "Surface the gun sees", surfaces, "bare_cast_aluminium")
    widgets.number("head", "gun_emissivity", "Gun set to emissivity", "0.95")
    widgets.number("head", "surroundings_C", "Surface mirrors", "about the air's")
    widgets.number("head", "gun_compensates_for_C", "Gun assumes it mirrors", "the air's")
    widgets.fuel("reference_fuel", "Reference fuel")
    for key, label in (("nozzle", "Nozzle reaches"), ("bed", "Bed reaches"), ("chamber", "Chamber reaches")):
        widgets.number("printer", f"{key}_C", label, _temperatures(key))
    widgets.tick("printer", "hardened_nozzle", "Hardened nozzle")
    widgets.tick("printer", "dryer", "Filament dryer")
    widgets.number("printer", "annealing_oven_C", "Annealing oven reaches", "none")


def tell_narrowing(slots: Slots, leading: Story | None) -> None:
    """Say beneath each open input by how much knowing it would narrow the leading material's range of times."""
    if leading is None or leading.unknowns is None:
        return
    by_item = dict.fromkeys(leading.unknowns.items, 0.0) | {i.name: i.narrowing for i in leading.influences}
    for (_, key), slot in slots.items():
        gains = [by_item[item] for item in map(item_of, influences_of(key)) if item in by_item]
        if gains:
            gain = max(gains)
            slot.caption(
                f"Knowing it narrows the range by {percent(gain)}." if gain else "Narrows it too little to tell."
            )
