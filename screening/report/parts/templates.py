"""The templates that pages are made by: every text that enters one is worded in the units chosen, then escaped.

Templates are the `.html` files in the folders of the report; one is named by its path from there, `parts/page.html`. What is
missing is an error, never an empty place. `parts/blocks.html` holds what pages share: section, fold, list and table.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from screening.sentences import TRADE, Sentence, Temperature, TemperatureRange, Units, worded

_FOLDER = Path(__file__).parents[1]
_SHORT = 9
"""Up to so many letters a cell is kept on one line."""


def page_part(template: str, units: Units = TRADE, /, **values: object) -> Markup:
    """Return a template filled in, as HTML that another template takes as it is.

    Parameters
    ----------
    template : str
        Path of the template in the report's folder.
    units : Units
        Units in which its sentences are worded.
    **values : object
        What the template names; text is escaped, `Markup` is not.

    Raises
    ------
    jinja2.UndefinedError
        Where the template names what is not given.

    Examples
    --------
    >>> page_part("parts/list.html", texts=["1 < 2"])
    Markup('<ul><li>1 &lt; 2</li></ul>')
    """
    return Markup(_environment(units).get_template(template).render(values))


@lru_cache(maxsize=4)
def _environment(units: Units) -> Environment:
    def in_units(value: object) -> object:
        return worded(value, units) if isinstance(value, Sentence | Temperature | TemperatureRange) else value

    environment = Environment(
        loader=FileSystemLoader(_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=in_units,
    )
    environment.filters["cell"] = lambda cell: _cell(worded(cell, units))
    environment.filters["row_name"] = lambda cell: _row_name(worded(cell, units))
    return environment


def style_sheet(name: str) -> Markup:
    """Return a style sheet of the report's folder, such as `parts/page.css`, to stand in a page as it is."""
    return Markup((_FOLDER / name).read_text("utf-8"))


def _cell(text: str) -> str:
    """Return a cell's text; a short one is kept on one line."""
    is_short = len(text) <= _SHORT and not isinstance(text, Markup)
    return text.replace(" ", "\N{NO-BREAK SPACE}") if is_short else text


def _row_name(text: str) -> str:
    """Return the cell that names a row; a narrow column may part a long word such as polyetheretherketone behind poly."""
    if isinstance(text, Markup):
        return text
    words = _cell(text).split(" ")
    return " ".join(word.replace("poly", "poly\N{SOFT HYPHEN}") if len(word) > _SHORT else word for word in words)
