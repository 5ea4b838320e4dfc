"""Sliders, predictions and answer boxes: a thin skin over pure functions.

A book's own panel is a module here that builds a `Panel` from a pure function; a notebook calls it, and the boxes
below, one in a cell.
"""

from tlib.panels.caution import caution
from tlib.panels.controls import Choice, Control, ends
from tlib.panels.learner import learner
from tlib.panels.panel import Panel
from tlib.panels.picture_box import show
from tlib.panels.prediction import Prediction
from tlib.panels.worked_example import WorkedExample

__all__ = ["Choice", "Control", "Panel", "Prediction", "WorkedExample", "caution", "ends", "learner", "show"]
