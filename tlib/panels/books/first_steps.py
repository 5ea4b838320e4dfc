"""Book 00, how a page works: a panel to try, where answers are kept, a file for the desktop, and the books."""

import json
import re
from functools import cache

import ipywidgets as widgets
import numpy as np

from tlib import tables
from tlib.assessment import desk
from tlib.figures.store import store_picture
from tlib.heat_transfer import stored_heat
from tlib.panels.controls import Control
from tlib.panels.fields import button
from tlib.panels.markup import paragraph, shown, status
from tlib.panels.panel import Panel
from tlib.panels.sitting import sitting
from tlib.panels.style import sheet

__all__ = [
    "CONTROL", "BookList", "DesktopFile", "WhereKept", "books", "desktop_file", "practice", "store_at", "where_kept",
]  # fmt: skip

VOLUME, COOL = 0.300, 20.0
"""The practice store [m3], and the temperature that its heat is counted from [°C]."""
CONTROL = Control("temperature", 20, 80, 5, 40, "°C", "Drag the knob, press the arrow keys, or type in the box.")


def store_at(temperature):
    """Return the practice store at one temperature.

    Parameters
    ----------
    temperature : float
        Of all its water [°C].

    Returns
    -------
    tuple of Picture
        One.
    """
    heat = float(stored_heat(VOLUME, temperature - COOL)) / 3.6e6
    words = f"All the water is at {temperature:.0f} °C. It holds {heat:.1f} kWh more heat than at {COOL:.0f} °C."
    return (store_picture(np.full(12, float(temperature)), (), title="A store of 300 litres", words=words),)


def practice():
    """Return a panel with one slider, to find out how panels work.

    Returns
    -------
    Panel
        It needs no prediction.
    """
    return Panel((CONTROL,), {"A warm store": {"temperature": 60}}, store_at, title="A panel to try")


class WhereKept:
    """Says in which folder the answers of whoever sits here are kept.

    Attributes
    ----------
    says : ipywidgets.HTML
        The folder, or that there is none yet.
    widget : ipywidgets.VBox
        All of it.
    """

    def __init__(self, place=None):
        self._place, self.says = place or sitting(), shown()
        self.widget = widgets.VBox([sheet(), self.says])
        self.widget.add_class("tlib")
        self._place.on_switch(self._tell)
        self._tell()

    def _tell(self):
        number = self._place.learner
        if not number:
            self.says.value = status("Nothing is kept yet. Give your learner number at the top of this page.")
            return
        told = status(f"The answers of learner {number} are in this folder on this computer, and nowhere else:")
        self.says.value = told + paragraph(str(desk.books_folder(number)), "path")


def where_kept():
    """Return the line that says where answers are kept, for the last line of a cell."""
    return WhereKept().widget


class DesktopFile:
    """A button that puts a file to double-click on the desktop.

    Parameters
    ----------
    place : callable
        Puts it there and returns its path; `tlib.lab.shortcut.place_shortcut` is meant.

    Attributes
    ----------
    press : ipywidgets.Button
        Does it.
    says : ipywidgets.HTML
        What became of it.
    """

    def __init__(self, place):
        self._put, self.says = place, shown()
        self.press = button("Put a file on my desktop", self._place)
        self.widget = widgets.VBox([sheet(), self.press, self.says])
        self.widget.add_class("tlib")

    def _place(self):
        try:
            file = self._put()
        except OSError as fault:
            self.says.value = status(f"The file could NOT be made ({fault}). The README says how to open the books.")
            return
        told = status(f"Done. Next time, double-click “{file.stem}” on your desktop. The file is:")
        self.says.value = told + paragraph(str(file), "path")


def desktop_file(place):
    """Return the button that makes a file to double-click, for the last line of a cell."""
    return DesktopFile(place).widget


@cache
def books():
    """Return the books that came with this copy of tlib.

    Returns
    -------
    dict of str to (str, str)
        By number such as ``"04"``: the file's name and the book's title.
    """
    found = {}
    for path in sorted(tables.shipped("workbooks").glob("[0-9][0-9]-*.ipynb")):
        first = "".join(json.loads(path.read_text(encoding="utf-8"))["cells"][0]["source"])
        found[path.name[:2]] = (path.name, re.search(r"^# (.+)$", first, re.MULTILINE)[1])
    return found


class BookList:
    """The books that there are, each a link that opens it."""

    def _repr_markdown_(self):
        lines = [f"- [Book {number}: {title}]({file})" for number, (file, title) in books().items() if number != "00"]
        return "\n".join(lines)

    def __repr__(self):
        """Return the list for a reader of plain text."""
        return "\n".join(f"Book {number}: {title}" for number, (_, title) in books().items())
