"""Words of the trade, each said in one plain sentence."""

from html import escape

import ipywidgets as widgets

from tlib.panels.markup import shown
from tlib.panels.style import sheet
from tlib.tables import table
from tlib.validation import OutOfRange

__all__ = ["words"]


def words(*terms):
    """Return a short list of words of the trade with what they mean.

    Parameters
    ----------
    *terms : str
        Words of the glossary, such as ``"coil"``.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.

    Raises
    ------
    OutOfRange
        If the glossary does not have one of them.
    """
    glossary = table("glossary")["word"]
    if unknown := [term for term in terms if term not in glossary]:
        raise OutOfRange(f"words must be in the glossary; got {', '.join(unknown)}.")
    lines = "".join(f"<dt>{escape(term)}</dt><dd>{escape(glossary[term])}</dd>" for term in terms)
    page = widgets.VBox([sheet(), shown(f'<dl class="tlib-meanings">{lines}</dl>')])
    page.add_class("tlib")
    return page
