"""A logged day as charts, with the faults and the tests to choose from."""

import re

import ipywidgets as widgets

from tlib.assessment.asked import LETTERS
from tlib.panels.markup import shown, status
from tlib.panels.picture_box import PictureBox

__all__ = ["TraceField"]


class TraceField:
    """Charts of a logged day, a list of faults by letter and one of tests by number.

    Attributes
    ----------
    name, test : ipywidgets.RadioButtons
        The fault and the test.
    charts : list of PictureBox
        What the logger kept; empty until `draw`.
    """

    def __init__(self, question, said):
        names = [(f"{letter}. {thing}", letter) for letter, thing in zip(LETTERS, question.things, strict=False)]
        tests = [(f"{number}. {thing}", number) for number, thing in enumerate(question.tests, start=1)]
        self.name = widgets.RadioButtons(description=f"{said}: the fault", options=names, value=None)
        self.test = widgets.RadioButtons(description=f"{said}: the test that decides", options=tests, value=None)
        self.charts, self._told, self._quiet, self._letters = [], lambda text: None, False, len(names)
        self._easel, self.says, self._is_logged = widgets.VBox(), shown(), question.picture is not None
        for box in (self.name, self.test):
            box.add_class("tlib-choice")
            box.add_class("tlib-above")
            box.observe(lambda _: None if self._quiet else self._told(self.value), "value")
        self.widget = widgets.VBox([self.says, self._easel, self.name, self.test])
        self.widget.add_class("tlib-column")

    def draw(self, picture):
        """Draw the charts; `picture` is called for the log, which may take seconds the first time."""
        from tlib.figures.logged_day import logged_day
        from tlib.panels.panel import GETTING_READY
        from tlib.simulation import engine_is_ready

        if not (self._is_logged or engine_is_ready()):
            self.says.value = status(GETTING_READY)
        try:
            pictures = logged_day(**picture())
        finally:
            self.says.value = ""
        self.charts = [PictureBox() for _ in pictures]
        for box, drawn in zip(self.charts, pictures, strict=True):
            box.take(drawn)
        self._easel.children = [box.widget for box in self.charts]

    @property
    def value(self):
        """The letter of the fault and the number of the test, such as ``"B, 2"``; one alone while the other lacks."""
        return ", ".join(str(value) for value in (self.name.value, self.test.value) if value is not None)

    @value.setter
    def value(self, text):
        letter = re.search(r"[A-Z]", text.upper())
        number = re.search(r"\d+", text[:200])
        self._quiet = True
        try:
            self.name.value = letter[0] if letter and letter[0] in LETTERS[: self._letters] else None
            known = [value for _, value in self.test.options]
            self.test.value = int(number[0]) if number and int(number[0]) in known else None
        finally:
            self._quiet = False
        self._told(self.value)

    @property
    def disabled(self):
        """Whether nothing can be chosen any more."""
        return self.name.disabled

    @disabled.setter
    def disabled(self, is_disabled):
        self.name.disabled = self.test.disabled = is_disabled

    def on_change(self, told):
        """Call a function with the answer at each change."""
        self._told = told
