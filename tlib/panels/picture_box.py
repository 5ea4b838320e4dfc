"""One picture on the page: the drawing, its sentence as a live region, and its table when a reader asks for it."""

import re

import ipywidgets as widgets

from tlib.figures.tabletwin import table_twin
from tlib.panels.disclosure import Disclosure
from tlib.panels.markup import plain, shown, status, unbroken
from tlib.panels.style import sheet

__all__ = ["PictureBox", "show"]

_SIZE = re.compile(r'<(?:svg|img)\b[^>]*?\bwidth="(\d+)(?:px)?"', re.IGNORECASE)


class PictureBox:
    """A place for a picture, which another may take later without the page moving.

    Attributes
    ----------
    widget : ipywidgets.VBox
        What the page shows.
    drawing, words, rows : ipywidgets.HTML
        Its parts; `rows` stays empty until a reader opens the table.
    """

    def __init__(self):
        self.picture = None
        self.drawing, self.words, self.rows = shown(kind="drawing"), shown(kind="says"), shown()
        self.table = Disclosure("Show as a table", "Hide the table", self.rows, self._write_rows)
        self.widget = widgets.VBox([self.drawing, self.words, self.table.widget])
        self.widget.add_class("tlib-picture")

    def take(self, picture, *, aloud=True):
        """Show a picture: anything with `markup`, `words` and `rows`; a screen reader speaks its words if `aloud`."""
        self.picture = picture
        if (size := _SIZE.search(picture.markup)) and self.widget.layout.width != f"{size[1]}px":
            self.widget.layout.width = f"{size[1]}px"
        self.drawing.value = picture.markup
        self.words.value = (status if aloud else plain)(unbroken(picture.words))
        if self.table.is_open:
            self._write_rows()

    def _write_rows(self):
        twin = table_twin(self.picture.rows, "The numbers of this picture")
        self.rows.value = f'<div class="tlib-table" tabindex="0">{twin}</div>'


def show(picture):
    """Return a picture that nothing moves, with its sentence and its table.

    Parameters
    ----------
    picture : Picture
        From any function of `tlib.figures`.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.
    """
    box = PictureBox()
    box.take(picture)
    page = widgets.VBox([sheet(), box.widget])
    page.add_class("tlib")
    return page
