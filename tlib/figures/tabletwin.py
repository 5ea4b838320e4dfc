"""The table twin of a picture: the same numbers, for those who would rather read than look."""

from html import escape

from tlib.figures import palette
from tlib.figures.lettering import FACES, READING
from tlib.validation import OutOfRange

__all__ = ["table_twin"]

_CELL = f"padding:2px 12px;border-bottom:1px solid {palette.RULE};text-align:"


def table_twin(rows, caption):
    """Write rows as a table that a screen reader can walk.

    Parameters
    ----------
    rows : sequence of sequence of str
        The head row first; the first cell of each further row names that row.
    caption : str
        What the table holds.

    Returns
    -------
    str
        A ``<table>`` with a caption and scoped heads; every text is escaped.

    Raises
    ------
    OutOfRange
        If there is no head row, or a row has another number of cells than the head row.

    Examples
    --------
    >>> table_twin([("band", "reading"), ("top", "81 °C")], "The store").count("<th scope")
    3
    """
    if not rows:
        raise OutOfRange("rows must hold a head row; got none.")
    head, *body = rows
    for row in body:
        if len(row) != len(head):
            raise OutOfRange(f"each row must have {len(head)} cells like the head row; got {len(row)} in {row!r}.")
    columns = "".join(_cell("th", name, ' scope="col"', _side(place)) for place, name in enumerate(head))
    lines = "".join(f"<tr>{_row(row)}</tr>" for row in body)
    faces = ", ".join(f"'{face}'" for face in FACES)
    style = (
        f"border-collapse:collapse;font:{READING}px/1.5 {faces},sans-serif;font-variant-numeric:tabular-nums;"
        f"color:{palette.INK};background:{palette.PAPER}"
    )
    over = "text-align:left;padding:8px 12px;background:inherit"
    return (
        f'<table style="{style}"><caption style="{over}">{escape(caption)}</caption>'
        f"<thead><tr>{columns}</tr></thead><tbody>{lines}</tbody></table>"
    )


def _row(row):
    name, *cells = row
    return _cell("th", name, ' scope="row"', "left;font-weight:normal") + "".join(
        _cell("td", cell, "", "right") for cell in cells
    )


def _side(place):
    return "right" if place else "left"


def _cell(element, content, scope, side):
    return f'<{element}{scope} style="{_CELL}{side}">{escape(str(content))}</{element}>'
