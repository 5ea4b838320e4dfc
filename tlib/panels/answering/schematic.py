"""The schematic of a place with its numbered spots, and a list of the same to tick."""

import re

import ipywidgets as widgets

from tlib.panels.markup import paragraph, shown
from tlib.panels.picture_box import PictureBox

__all__ = ["SchematicField"]


class SchematicField:
    """A drawing, and a box to tick for each of its spots; what is ticked has a double ring in the drawing.

    Attributes
    ----------
    boxes : tuple of ipywidgets.Checkbox
        One for each spot, the first being 1.
    drawing : PictureBox
        The schematic.
    """

    def __init__(self, question, said):
        self.drawing, self._plan, self._told, self._quiet = PictureBox(), None, lambda text: None, False
        self.boxes = tuple(
            widgets.Checkbox(description=f"{number}. {thing}", indent=False)
            for number, thing in enumerate(question.things, start=1)
        )
        for box in self.boxes:
            box.add_class("tlib-tick")
            box.observe(lambda _: None if self._quiet else self._ticked(), "value")
        ticks = widgets.VBox(self.boxes)
        ticks.add_class("tlib-ticks")
        self.widget = widgets.VBox(
            [self.drawing.widget, shown(paragraph("Tick a part by its number.", "quiet")), ticks]
        )

    def draw(self, picture):
        """Draw the schematic; `picture` is called for its plan."""
        from tlib.installation.schematic_plan import Plan

        self._plan = Plan.from_record(picture())
        self._draw()

    def _draw(self):
        from tlib.figures.schematic import schematic

        if self._plan is None:
            return
        marked = [number for number, box in enumerate(self.boxes, start=1) if box.value]
        said = f"Marked: {', '.join(map(str, marked))}." if marked else "Nothing is marked yet."
        self.drawing.take(schematic(self._plan, marked, title="The installation", words=said))

    def _ticked(self):
        self._draw()
        self._told(self.value)

    @property
    def value(self):
        """The numbers of the ticked spots, such as ``"3, 7"``; empty for none."""
        return ", ".join(str(number) for number, box in enumerate(self.boxes, start=1) if box.value)

    @value.setter
    def value(self, text):
        named = {int(number) for number in re.findall(r"\d+", text[:200])}
        self._quiet = True
        try:
            for number, box in enumerate(self.boxes, start=1):
                box.value = number in named
        finally:
            self._quiet = False
        self._ticked()

    @property
    def disabled(self):
        """Whether nothing can be ticked any more."""
        return self.boxes[0].disabled

    @disabled.setter
    def disabled(self, is_disabled):
        for box in self.boxes:
            box.disabled = is_disabled

    def on_change(self, told):
        """Call a function with the numbers at each change."""
        self._told = told
