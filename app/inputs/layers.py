"""What lies on the polymer crown: the build, and its layers from the gas inwards, so that no case file is needed."""

from __future__ import annotations

import copy
from typing import Any

import streamlit as st

from app.session import case_state
from app.shown import prose
from screening.judgement.case.case_file import case_schema
from screening.records.materials.materials import load_materials

BUILDS = {
    "all polymer": "all polymer",
    "coated crown": "polymer with a coated crown",
    "metal cap": "metal cap with the ring groove, on a polymer crown",
    "metal crown on polymer skirt": "metal crown by itself, standing on the end of a polymer skirt",
}
STARTS: dict[str, tuple[str, float, str]] = {
    "coated crown": (
        "silicone_ceramic_paint",
        0.1,
        "0.1 mm, two coats of paint; it must cure below the polymer's softening",
    ),
    "metal cap": ("aluminium", 5.0, "5 mm, enough for one ring groove with land above and below it"),
    "metal crown on polymer skirt": ("aluminium", 6.0, "6 mm, about a tenth of the bore of a small engine"),
}
"""What a build starts with: material, thickness [mm], and why (common practice)."""
_MOST = 4
Layer = dict[str, Any]


def editor() -> None:
    """Draw the choice of build and, where it has layers, what they are."""
    piston = case_state.document().get("piston", {})
    build, generation = piston.get("build", "all polymer"), st.session_state.generation
    widget = f"piston.build.{generation}"
    st.selectbox(
        "Build",
        list(BUILDS),
        index=list(BUILDS).index(build) if build in BUILDS else 0,
        format_func=lambda value: BUILDS[value],
        key=widget,
        help="What is printed, and what lies on it on the gas side.",
        on_change=lambda: _take_build(st.session_state[widget]),
    )
    if build not in STARTS:
        return
    st.caption(f"Layers on the polymer, from the gas inwards. A start, to be changed: {STARTS[build][2]}.")
    layers: list[Layer] = piston.get("crown_layers", [])
    for place, layer in enumerate(layers):
        _layer(place, layer, len(layers), generation)
    if len(layers) < _MOST:
        st.button("Add a layer beneath", key=f"layer.add.{generation}", on_click=_add)


def _layer(place: int, layer: Layer, count: int, generation: int) -> None:
    """Draw one layer: what it is, how thick, and away with it."""
    known = _choices(layer["material"])
    limits = case_schema()["properties"]["piston"]["properties"]["crown_layers"]["items"]["properties"]["thickness_mm"]
    what, thick = f"layer.{place}.material.{count}.{generation}", f"layer.{place}.thickness.{count}.{generation}"
    st.selectbox(
        f"Layer {place + 1}",
        list(known),
        index=list(known).index(layer["material"]),
        format_func=lambda id: known[id],
        key=what,
        on_change=lambda: _change(place, "material", st.session_state[what]),
    )
    st.number_input(
        f"Thickness of layer {place + 1} [mm]",
        float(limits["minimum"]),
        float(limits["maximum"]),
        float(layer["thickness_mm"]),
        format="%g",
        step=0.5 if layer["thickness_mm"] >= 1 else 0.05,
        key=thick,
        on_change=lambda: _change(place, "thickness_mm", st.session_state[thick]),
    )
    row = load_materials().get(layer["material"]) if layer["material"] in load_materials().ids else None
    if row is not None and row.note:
        st.caption(prose.told(f"{row.note[:1].upper()}{row.note[1:]}."))
    if count > 1:
        st.button(
            f"Take layer {place + 1} away",
            key=f"layer.{place}.away.{count}.{generation}",
            on_click=_remove,
            args=(place,),
        )


def _choices(present: str) -> dict[str, str]:
    """Return the metals and coatings of the table, and the present material whatever it is: id to name."""
    materials = load_materials()
    found = {i: materials.get(i).name for i in materials.ids if materials.get(i).morphology in ("metal", "ceramic")}
    return found if present in found else found | {present: present}


def _take_build(build: str) -> None:
    """Take a build, with layers to start from where it needs them and none where it has none."""
    piston = copy.deepcopy(case_state.document().get("piston", {})) | {"build": build}
    piston.pop("crown_layers", None)
    if build in STARTS:
        material, thickness, _ = STARTS[build]
        piston["crown_layers"] = [{"material": material, "thickness_mm": thickness}]
    case_state.put("piston", piston)


def _present() -> list[Layer]:
    return copy.deepcopy(case_state.document()["piston"]["crown_layers"])


def _change(place: int, key: str, value: Any) -> None:
    layers = _present()
    layers[place][key] = value
    case_state.change("piston", "crown_layers", layers)


def _add() -> None:
    case_state.change("piston", "crown_layers", [*_present(), {"material": "aluminium", "thickness_mm": 3.0}])


def _remove(place: int) -> None:
    layers = _present()
    del layers[place]
    case_state.change("piston", "crown_layers", layers)
