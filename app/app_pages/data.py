"""The open materials table: every value with its range and source; what is from memory, and the gaps."""

from __future__ import annotations

import altair as alt
import pandas as pd
import streamlit as st

from app import widgets
from screening.records.materials import known_properties, load_materials
from screening.records.sources import load_sources
from screening.report.shortlist_text import neutralised

st.title("The open materials table")
materials = load_materials()
table = materials.table
shares = table["how"].value_counts(normalize=True)
st.markdown(
    f"{len(materials.ids)} materials, {len(table):,} values: "
    + ", ".join(f"{100 * share:.0f} % {how}" for how, share in shares.items())
    + ". Values are in SI; temperatures in kelvin. A gap means that no value was found."
)
view = st.radio("Show", ["by material", "by property"], horizontal=True)
if view == "by material":
    id = st.selectbox("Material", materials.ids, format_func=lambda i: f"{materials.get(i).name} ({i})")
    own = table[table["material"] == id]
    sources = {name: source.citation for name, source in load_sources().items()}
    shown = own.assign(source=own["source"].map(lambda s: sources.get(s, s)))
    st.dataframe(shown.drop(columns=["material", "name"]), hide_index=True)
    gaps = [name.replace("_", " ") for name in known_properties() if materials.get(id).value(name) is None]
    st.markdown(f"**Gaps:** {', '.join(gaps) if gaps else 'none'}.")
else:
    name = st.selectbox("Property", known_properties(), index=list(known_properties()).index("glass_transition"))
    rows = table[(table["property"] == name) & (table["use"] == "main")]
    if rows.empty:
        st.markdown("No values are known.")
    else:
        st.markdown(
            f"Low to high as a bar, typical as a tick, in {rows['unit'].iloc[0]}; the table below has the same numbers."
        )
        base = alt.Chart(rows).encode(y=alt.Y("name:N", sort="-x", title=None, axis=alt.Axis(labelLimit=260)))
        bars = base.mark_bar(height=8).encode(
            x=alt.X("low:Q", title=name.replace("_", " "), scale=alt.Scale(zero=False)), x2="high:Q",
            color=alt.Color("how:N", scale=alt.Scale(range=["#1f5fa8", "#c8641e", "#7b8494"])),
        )  # fmt: skip
        st.altair_chart((bars + base.mark_tick(thickness=3, color="#888888").encode(x="typical:Q")), width="stretch")
        st.dataframe(rows[["name", "low", "typical", "high", "unit", "condition", "how", "source"]], hide_index=True)
safe = pd.DataFrame({column: table[column].map(neutralised) for column in table})
st.download_button("Download the whole table (CSV)", safe.to_csv(index=False), "materials.csv", "text/csv")
widgets.page_end()
