"""Options with their letters: one to choose, or several to tick."""

import ipywidgets as widgets

from tlib.assessment.asked import LETTERS
from tlib.assessment.lettered import letters, places_read
from tlib.assessment.typed import Unreadable
from tlib.panels.markup import paragraph, shown

__all__ = ["ChoiceField"]


class ChoiceField:
    """Options under each other.

    Attributes
    ----------
    boxes : tuple of ipywidgets.Checkbox
        One for each option where several may be ticked; else empty.
    list : ipywidgets.RadioButtons or None
        The options where only one can be chosen.
    """

    def __init__(self, question, said):
        labels = [f"{letter}. {thing}" for letter, thing in zip(LETTERS, question.things, strict=False)]
        self._count, self._told, self._quiet = len(labels), lambda text: None, False
        self.boxes, self.list = (), None
        if question.several:
            self.boxes = tuple(widgets.Checkbox(description=label, indent=False) for label in labels)
            for box in self.boxes:
                box.add_class("tlib-tick")
            self._shown = self.boxes
            self.widget = widgets.VBox([shown(paragraph("Tick all that are right.", "quiet")), *self.boxes])
        else:
            pairs = [(label, letter) for label, letter in zip(labels, LETTERS, strict=False)]
            self.list = widgets.RadioButtons(description=said, options=pairs, value=None)
            for name in ("tlib-choice", "tlib-above"):
                self.list.add_class(name)
            self._shown, self.widget = (self.list,), widgets.VBox([self.list])
        for box in self._shown:
            box.observe(lambda _: None if self._quiet else self._told(self.value), "value")

    @property
    def value(self):
        """The letters of what is chosen, such as ``"B, D"``; empty for nothing."""
        if self.list is not None:
            return self.list.value or ""
        return ", ".join(letter for letter, box in zip(LETTERS, self.boxes, strict=False) if box.value)

    @value.setter
    def value(self, text):
        named = set(_named(text, self._count))
        self._quiet = True
        try:
            if self.list is not None:
                self.list.value = min(named) if named else None
            for letter, box in zip(LETTERS, self.boxes, strict=False):
                box.value = letter in named
        finally:
            self._quiet = False
        self._told(self.value)

    @property
    def disabled(self):
        """Whether nothing can be chosen any more."""
        return self._shown[0].disabled

    @disabled.setter
    def disabled(self, is_disabled):
        for box in self._shown:
            box.disabled = is_disabled

    def on_change(self, told):
        """Call a function with the letters at each change."""
        self._told = told


def _named(text, count):
    """Return the letters that a kept text names, as marking reads them; none where it cannot be read."""
    try:
        return letters(places_read(text, count, "option")).split(", ")
    except Unreadable:
        return []
