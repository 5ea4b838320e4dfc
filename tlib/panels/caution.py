"""The caution card of a workbook: always in sight, and it never replaces a licensed person."""

import ipywidgets as widgets

from tlib.panels.markup import heading, paragraph, shown
from tlib.panels.style import sheet
from tlib.tables import table
from tlib.validation import OutOfRange

__all__ = ["caution"]


def caution(workbook):
    """Return the caution card of a workbook.

    Parameters
    ----------
    workbook : str
        Its number, such as ``"04"``, or ``"mock"``.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.

    Raises
    ------
    OutOfRange
        If there is no card for it.
    """
    cards = table("cautions")
    if workbook not in cards["caution"]:
        raise OutOfRange(f"workbook must be one of {', '.join(cards['caution'])}; got {workbook!r}.")
    words = heading("Take care") + paragraph(f"{cards['caution'][workbook]}\n\n{cards['ending']}")
    card = widgets.VBox([sheet(), shown(f'<div role="note" aria-label="Caution">{words}</div>')])
    for kind in ("tlib", "tlib-caution"):
        card.add_class(kind)
    return card
