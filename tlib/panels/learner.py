"""The first box of a page: whose answers these are, asked once, and changed when another sits down."""

import ipywidgets as widgets

from tlib.assessment import desk
from tlib.panels.fields import button, on_enter, side_by_side
from tlib.panels.markup import blank, paragraph, shown, status
from tlib.panels.sitting import sitting
from tlib.panels.style import sheet

__all__ = ["LearnerBox", "learner"]


class LearnerBox:
    """Asks for the learner number, then says whose answers the page shows.

    Attributes
    ----------
    number : ipywidgets.Text
        Where the number is typed.
    take, other, keep : ipywidgets.Button
        Take the number; ask again because someone else is here; leave it as it was.
    says : ipywidgets.HTML
        Whose answers these are, or what was wrong with the number.
    widget : ipywidgets.VBox
        All of it.
    """

    def __init__(self, place):
        self._place = place
        self.number = widgets.Text(description="Your learner number", placeholder="such as 17")
        self.take = button("This is me", self._take, "chief")
        self.keep = button("Leave it as it was", self._show_whose, "plain")
        self.other = button("Someone else is here", self._ask, "plain")
        self.says, self._why = shown(kind="says"), shown(paragraph(_WHY, "quiet"))
        self.number.add_class("tlib-field")
        self._form = widgets.VBox([self.number, side_by_side(self.take, self.keep), self._why])
        self._form.add_class("tlib-column")
        on_enter(self.number, self._take)
        self.widget = widgets.VBox([sheet(), self.says, self.other, self._form])
        for kind in ("tlib", "tlib-learner"):
            self.widget.add_class(kind)
        place.on_switch(self._show_whose)
        self._show_whose()

    def _take(self):
        try:
            self._place.switch(self.number.value)
        except desk.NoLearner as fault:
            self.says.value = status(str(fault))

    def _ask(self):
        self.number.value = ""
        self.says.value = status("Whose turn is it now?")
        self._choose(asking=True)

    def _show_whose(self):
        number = self._place.learner
        self.says.value = status(
            f"These are the answers of learner {number}." if number else "Whose answers are these?"
        )
        self._choose(asking=not number)

    def _choose(self, *, asking):
        blank(self._form, hidden=not asking)
        blank(self.other, hidden=asking)
        blank(self.keep, hidden=not self._place.learner)


_WHY = (
    "Your tutor gives you the number. If you learn on your own, take 1. "
    "The number gives you numbers of your own in each exercise, and keeps your answers apart from others’."
)


def learner(workbook):
    """Return the first box of a workbook, and begin the work.

    Parameters
    ----------
    workbook : str
        Its number, such as ``"04"``: the answers go into the book ``book-04``.

    Returns
    -------
    ipywidgets.VBox
        For the last line of the first cell.
    """
    sitting().begin(f"book-{workbook}")
    return LearnerBox(sitting()).widget
