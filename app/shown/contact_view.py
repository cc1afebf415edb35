"""The pieces of the page on contacts: the question, the answer, the matrix, the fuel system."""

from __future__ import annotations

import json
from urllib.parse import urlencode

import pandas as pd
import streamlit as st

from app.inputs import pair
from app.shown import drawing, prose, shown_units, tables
from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.contact.contact_story import ContactStory, contact_story
from screening.judgement.contact.fuel_system import fuel_system_advice
from screening.judgement.contact.matrix import contact_matrix
from screening.records.liquids.placed_liquid import HOW_WRITTEN
from screening.records.materials.materials import load_materials
from screening.report.contact.contact_page import contact_page, headline, story_document, story_sheet
from screening.report.contact.contact_rows import (
    EXPOSURE_NAMES,
    curve_rows,
    curve_sentence,
    exposure_rows,
    fuel_system_rows,
    outcome_cell,
    sphere_rows,
)
from screening.report.contact.uptake_drawing import uptake_drawing

USUAL_FUELS = ("petrol E0", "petrol E10", "E85", "ethanol", "methanol", "acetone", "ethyl acetate", "toluene")
_MATERIAL_KEY, _FUEL_KEY, _MATRIX_KEY = "pair.material", "pair.fuel", "pair.matrix"


def question(ids: list[str], case: Case) -> None:
    """Draw the choice of material and the one field for the fuel."""
    materials = load_materials()
    st.session_state[_MATERIAL_KEY] = pair.material()
    st.session_state[_FUEL_KEY] = pair.fuel_text(case)
    left, right = st.columns(2)
    left.selectbox(
        "Material",
        ids,
        format_func=lambda id: f"{materials.get(id).name} ({id})",
        key=_MATERIAL_KEY,
        on_change=lambda: pair.choose(material=st.session_state[_MATERIAL_KEY]),
    )
    right.text_input(
        "Fuel or liquid",
        key=_FUEL_KEY,
        max_chars=pair.LONGEST_FUEL,
        help=(
            "A name, a CAS number, a blend by volume (ethanol 70, cyclopentanone 30), or a liquid of your own by its Hansen "
            f"parameters in MPa^0.5 and its molar volume in cm3/mol: {HOW_WRITTEN}"
        ),
        on_change=lambda: pair.choose(fuel=st.session_state[_FUEL_KEY]),
    )


def story_or_stop(case: Case) -> ContactStory:
    """Return the story of the pair; where the fuel is not understood, say so and end the page there."""
    try:
        return contact_story(pair.material(), pair.fuel(case), case)
    except ScreeningError as error:
        st.error(
            f"{prose.told(str(error))}. Write a name, a CAS number, a blend such as: ethanol 70, cyclopentanone 30; or a "
            "liquid of your own by its Hansen parameters (the question mark by the field shows how)."
        )
        st.stop()


def answer(story: ContactStory) -> None:
    """Draw the answer of a pair: outcomes, curve, distances, reasons, evidence."""
    st.subheader(prose.plain(f"{story.material_name} and {story.fuel.name}"))
    st.markdown(f"**{prose.told(headline(story))}**")
    tables.show(exposure_rows(story))
    if story.curve is not None:
        told = curve_sentence(story)
        st.markdown(prose.told(told))
        drawing.show(uptake_drawing(story.curve, prose.words(told)))
        with st.expander("The curve as numbers"):
            frame = curve_rows(story.curve).iloc[::5]
            tables.show([{name: f"{value:.3g}" for name, value in row.items()} for row in frame.to_dict("records")])
    st.markdown("**Distance in Hansen space to each published sphere**")
    tables.show(sphere_rows(story))
    if not story.spheres:
        st.markdown("No sphere of it or of a near polymer is published, or the liquid's place is not known.")
    if story.stand_in:
        st.caption(prose.told(f"It rests on {story.stand_in}."))
    for contact in story.contacts:
        with st.expander(f"Why: {EXPOSURE_NAMES[contact.exposure]}, {outcome_cell(contact.outcome)}"):
            prose.listed(contact.reasons)
    with st.expander(f"What was seen: {len(story.seen)} of this very pair, and of liquids like it"):
        prose.listed((*story.seen, *story.near), "Nothing is published of this pair or one like it: test it.")
    with st.expander("Sources"):
        prose.listed(story.sources, "None.")


def pass_on(story: ContactStory, case: Case) -> None:
    """Draw the downloads of a pair and its address."""
    first, second, third = st.columns(3)
    name, units = f"{story.material}_contact", shown_units.units()
    document = json.dumps(story_document(story), indent=2, ensure_ascii=False, allow_nan=False)
    first.download_button(
        "Text", story_sheet(story, units), f"{name}.txt", "text/plain", width="stretch", on_click="ignore"
    )
    second.download_button("Page to share (HTML)", contact_page(story, units), f"{name}.html", "text/html", width="stretch",
                           on_click="ignore")  # fmt: skip
    third.download_button("All numbers (JSON)", document, f"{name}.json", "application/json", width="stretch",
                          on_click="ignore")  # fmt: skip
    query = urlencode({pair.MATERIAL: pair.material(), pair.FUEL: pair.fuel_text(case)})
    st.markdown(
        "**Link to this pair**, for whoever can reach this address; soak tests of your own are in the case, not in it:"
    )
    st.code(f"{st.context.url or ''}?{query}", language=None, wrap_lines=True)


def matrix(ids: list[str], case: Case) -> None:
    """Draw outcomes in the tank of every material with the usual fuels; a cell that is selected is shown above."""
    names = [case.fuel.name, *USUAL_FUELS]
    fuels = {name: case.fuel if name == case.fuel.name else name for name in dict.fromkeys(names)}
    cells = contact_matrix(tuple(ids), tuple(fuels.values()), case=case)
    at_hand = (cells["material"] == pair.material()) & (cells["fuel"] == pair.fuel_text(case))
    marks = ["▸ " if here else "" for here in at_hand]
    cells = cells.assign(cell=[mark + outcome_cell(word) for mark, word in zip(marks, cells["outcome"], strict=True)])
    wide = cells.pivot(index="material", columns="fuel", values="cell")
    frame = pd.DataFrame(wide).reindex(index=ids)[list(dict.fromkeys(cells["fuel"]))]
    frame.index = pd.Index([load_materials().get(id).name for id in ids], name="material")

    def taken() -> None:
        chosen = st.session_state[_MATRIX_KEY]["selection"]["cells"]
        if chosen:
            row, column = chosen[0]
            if column in frame.columns:
                pair.choose(ids[row], column)

    st.dataframe(frame, height=480, key=_MATRIX_KEY, on_select=taken, selection_mode="single-cell",
                 column_config={"_index": st.column_config.Column("material", width=190)})  # fmt: skip
    st.caption(
        "Select a cell, or choose material and fuel at the top of the page: the story above is that of the pair marked ▸."
    )


def fuel_system(story: ContactStory, case: Case) -> None:
    """Draw what the fuel does to seals, hoses, floats, tanks and buckets, and what to fit instead."""
    advice = fuel_system_advice(story.fuel, case)
    for role, rows in advice.groupby("role", sort=False):
        st.markdown(f"**{str(role).capitalize()}**")
        tables.show(fuel_system_rows(rows))
