"""Sliders, predictions and answer boxes: a thin skin over pure functions.

A book's own panel is a module in `books` that builds a `Panel` from a pure function; a notebook calls it, and the
boxes below, one in a cell.
"""

from tlib.panels.answers import answer
from tlib.panels.caution import caution
from tlib.panels.controls import Choice, Control, ends, starts
from tlib.panels.faded_example import FadedExample
from tlib.panels.hand_in import hand_in
from tlib.panels.learner import learner
from tlib.panels.own_words import own_words
from tlib.panels.panel import Panel
from tlib.panels.picture_box import show
from tlib.panels.playback import Playback
from tlib.panels.prediction import Prediction
from tlib.panels.set_work import set_exercise, set_work
from tlib.panels.words import words, words_used
from tlib.panels.worked_example import WorkedExample

__all__ = [
    "Choice", "Control", "FadedExample", "Panel", "Playback", "Prediction", "WorkedExample",
    "answer", "caution", "ends", "hand_in", "learner", "own_words",
    "set_exercise", "set_work", "show", "starts", "words", "words_used",
]  # fmt: skip
