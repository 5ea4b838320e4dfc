"""The place where pictures stand: it draws them, and says in a sentence why there is none."""

import ipywidgets as widgets

from tlib.panels.markup import shown, status
from tlib.panels.picture_box import PictureBox
from tlib.validation import OutOfRange

__all__ = ["GETTING_READY", "Easel"]

GETTING_READY = "Getting the engine ready, about ten seconds, this once…"
_BROKEN = (
    "This picture could not be drawn. You did nothing wrong. Press “Back to the start”; "
    "if that does not help, show this line to your tutor: "
)


class Easel:
    """A place for pictures that come and go without the page moving.

    Parameters
    ----------
    getting_ready : callable, optional
        Returns whether the first drawing will take seconds, because the engine is still to be compiled.

    Attributes
    ----------
    pictures : list of PictureBox
        As many as the last drawing had.
    says : ipywidgets.HTML
        The line that says why there is no picture; empty when all is well.
    fault : Exception or None
        What the last drawing raised.
    box : ipywidgets.Box
        Where the pictures stand.
    widget : ipywidgets.VBox
        The line and the pictures.
    """

    def __init__(self, getting_ready=None):
        self._getting_ready = getting_ready or (lambda: False)
        self.pictures, self.fault = [], None
        self.says, self.box = shown(kind="says"), widgets.Box()
        self.box.add_class("tlib-easel")
        self.widget = widgets.VBox([self.says, self.box])
        self.widget.add_class("tlib-column")

    def draw(self, make, *, aloud=True):
        """Draw what a function without arguments returns: a sequence of pictures.

        Parameters
        ----------
        make : callable
            Called once; an `OutOfRange` becomes a sentence, any other fault a sentence that names it.
        aloud : bool, optional
            Whether a screen reader speaks the words of the pictures; not while they change by themselves.
        """
        if not self.pictures and self._getting_ready():
            self.says.value = status(GETTING_READY)
        try:
            self._place(tuple(make()), aloud)
            self.fault, said = None, ""
        except OutOfRange as fault:
            self.fault, said = fault, _as_sentence(str(fault))
        except Exception as fault:  # a learner must never meet a traceback; tests read `fault`
            self.fault, said = fault, f"{_BROKEN}{type(fault).__name__}: {fault}"
        self.says.value = status(said) if said else ""
        (self.box.add_class if said else self.box.remove_class)("tlib-blank")  # its place stays, so nothing jumps

    def speak(self):
        """Let a screen reader speak the words of the pictures that stand now."""
        for box in self.pictures:
            box.take(box.picture)

    def _place(self, pictures, aloud):
        if len(pictures) != len(self.pictures):
            self.pictures = (self.pictures + [PictureBox() for _ in pictures])[: len(pictures)]
            self.box.children = [box.widget for box in self.pictures]
        for box, picture in zip(self.pictures, pictures, strict=True):
            box.take(picture, aloud=aloud)


def _as_sentence(text):
    return text[:1].upper() + text[1:]
