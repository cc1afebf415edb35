"""The open materials table: every value with its range and source; what is from memory, and the gaps."""

from __future__ import annotations

import streamlit as st

from app.inputs import widgets
from app.shown import prose, shown_units
from app.shown.values_table import HOW, is_logarithmic, values_html
from screening.records.materials.materials import known_properties, load_materials
from screening.records.tables.sources import load_sources
from screening.report.materials.material_rows import applies, gaps, plain_property, scale_of, shown_value, shown_values
from screening.report.materials.materials_csv import materials_csv

ROLES = {"printable": "to print", "seal": "seals", "hose": "hoses", "tank": "tanks", "float": "floats",
         "bucket": "buckets", "metal": "metals", "coating": "coatings"}  # fmt: skip

st.title("The open materials table")
materials, sources = load_materials(), load_sources()
table = materials.table
shares = table["how"].value_counts(normalize=True)
st.markdown(
    f"{len(materials.ids)} materials, {len(table):,} values: "
    + ", ".join(f"{100 * shares.get(how, 0):.0f} % {words}" for how, words in HOW.items())
    + ". *From memory* means that the published source was not at hand: check such a value before you rest on it. "
    "A typical value stands before its low and high, about the 5th and 95th percentile. Unknown means that none was found."
)
units = shown_units.units()
view = st.radio("Show", ["one material", "one property"], horizontal=True)
if view == "one material":
    id = st.selectbox("Material", materials.ids, format_func=lambda i: f"{materials.get(i).name} ({i})")
    material = materials.get(id)
    filler = f", {100 * material.filler_mass_fraction:.0f} % {material.filler} by mass" if material.filler else ""
    st.markdown(f"**{material.name}** ({material.symbol}), {material.morphology}{filler}, {material.form}.")
    if material.note:
        st.markdown(prose.told(material.note))
    shown = shown_values(material, units)
    role = material.roles[0]
    scales = {v.name: scale_of(materials, v.name, role, units) for v in shown if v.row.use == "main"}
    st.html(
        values_html(
            [(plain_property(v.name), v, scales[v.name]) for v in shown if v.row.use == "main"],
            "property",
            f"The values that the models take. Each bar lies between the lowest and the highest of all materials of its "
            f"kind ({ROLES.get(role, role)}), the tick is the typical value; where these lie a hundredfold apart, equal "
            "steps are equal ratios.",
            [plain_property(name) for name in gaps(material)],
        )
    )
    others = [(plain_property(v.name), v, scales.get(v.name)) for v in shown if v.row.use != "main"]
    if others:
        with st.expander(f"Second sources, other states and measured curves ({len(others)})"):
            st.html(
                values_html(
                    others, "property", "What no model takes, to compare with; curves are taken point by point."
                )
            )
    cited = {v.row.source for v in shown}
else:
    left, right = st.columns(2)
    names = list(known_properties())
    name = left.selectbox("Property", names, index=names.index("glass_transition"), format_func=plain_property)
    role = right.selectbox("Materials", list(ROLES), format_func=lambda kind: ROLES[kind])
    kept = [materials.get(id) for id in materials.with_role(role) if applies(materials.get(id), name)]
    known = [(m.name, shown_value(name, value, units)) for m in kept if (value := m.value(name)) is not None]
    cited = {value.row.source for _, value in known}
    if known:
        scale = scale_of(materials, name, role, units)
        rows = sorted(known, key=lambda row: -row[1].numbers[1])
        caption = (
            f"{plain_property(name).capitalize()}, highest first; bar from low to high, tick at the typical value"
            + (", equal steps being equal ratios." if is_logarithmic(scale) else ".")
        )
        missing = [m.name for m in kept if m.value(name) is None]
        st.html(values_html([(words, value, scale) for words, value in rows], "material", caption, missing))
    else:
        st.markdown("No values are known of these materials." if kept else "Such materials have no such property.")
if cited:
    with st.expander("These sources in full"):
        prose.listed(f"{sources[key].citation} ({sources[key].kind})" for key in sorted(cited))
st.download_button("Download the whole table (CSV, in °C, MPa, GPa ...)", materials_csv(), "materials.csv", "text/csv")
widgets.page_end()
