"""Steps that are moved earlier or later, with buttons that work by key and by finger alike."""

from functools import partial

import ipywidgets as widgets

from tlib.assessment.asked import LETTERS
from tlib.panels.fields import button
from tlib.panels.markup import paragraph, shown, status

__all__ = ["OrderField"]


class OrderField:
    """Steps under each other, each with two buttons. The rows stay; the steps move through them.

    Attributes
    ----------
    earlier, later : tuple of ipywidgets.Button
        The buttons of each row, from the first to the last.
    """

    def __init__(self, question, said):
        self._things, self._told = question.things, lambda text: None
        self._order, self._moved = list(range(len(self._things))), False
        self._texts = tuple(shown() for _ in self._things)
        self.earlier = tuple(button("▲ Earlier", partial(self._move, row, -1)) for row in range(len(self._things)))
        self.later = tuple(button("▼ Later", partial(self._move, row, 1)) for row in range(len(self._things)))
        self._heard = shown()
        rows = [widgets.HBox(row) for row in zip(self._texts, self.earlier, self.later, strict=True)]
        for row in rows:
            row.add_class("tlib-step")
        self.widget = widgets.VBox([shown(paragraph("Move the steps until the first stands on top.", "quiet")), *rows,
                                    self._heard])  # fmt: skip
        self._disabled = False
        self._show()

    @property
    def value(self):
        """The letters of the steps from first to last; empty until one was moved."""
        return ", ".join(LETTERS[place] for place in self._order) if self._moved else ""

    @value.setter
    def value(self, text):
        named = [LETTERS.index(letter) for letter in text.upper() if letter in LETTERS[: len(self._things)]]
        self._moved = sorted(named) == list(range(len(self._things)))
        self._order = named if self._moved else list(range(len(self._things)))
        self._show()
        self._told(self.value)

    @property
    def disabled(self):
        """Whether the steps stay where they are."""
        return self._disabled

    @disabled.setter
    def disabled(self, is_disabled):
        self._disabled = is_disabled
        self._show()

    def on_change(self, told):
        """Call a function with the letters at each change."""
        self._told = told

    def _move(self, row, way):
        other = row + way
        self._order[row], self._order[other] = self._order[other], self._order[row]
        self._moved = True
        self._show()
        said = self._things[self._order[other]].rstrip(".")
        self._heard.value = status(f"{said}: now step {other + 1} of {len(self._order)}.", "quiet")
        buttons = (self.earlier if way < 0 else self.later)[other], (self.later if way < 0 else self.earlier)[other]
        next(one for one in buttons if not one.disabled).focus()  # it goes with the step, also at either end
        self._told(self.value)

    def _show(self):
        last = len(self._order) - 1
        for row, place in enumerate(self._order):
            thing = self._things[place]
            self._texts[row].value = paragraph(f"{row + 1}. {thing} ({LETTERS[place]})")
            self.earlier[row].tooltip, self.later[row].tooltip = f"Earlier: {thing}", f"Later: {thing}"
            self.earlier[row].disabled = self._disabled or row == 0
            self.later[row].disabled = self._disabled or row == last
