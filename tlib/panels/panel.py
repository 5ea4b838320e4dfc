"""The panel: controls beside the pictures that a pure function draws from them."""

import ipywidgets as widgets

from tlib.panels.controls import Controls
from tlib.panels.markup import blank, heading, paragraph, shown, status
from tlib.panels.page import Page
from tlib.panels.picture_box import PictureBox
from tlib.panels.style import sheet
from tlib.validation import OutOfRange

__all__ = ["CLOSED", "GETTING_READY", "Panel"]

GETTING_READY = "Getting the engine ready, about ten seconds, this once…"
CLOSED = "The panel opens when you have locked your prediction."
_BROKEN = (
    "This picture could not be drawn. You did nothing wrong. Press “Back to the start”; "
    "if that does not help, show this line to your tutor: "
)


class Panel:
    """A picture that answers to controls.

    Parameters
    ----------
    controls : sequence of Control or Choice
        At most five, always in sight.
    presets : mapping of str to mapping
        By the words on its button, the values that differ from the start.
    show : callable
        A pure function: takes the value of each control by name, and returns a sequence of pictures (things with
        `markup`, `words` and `rows`). With a prediction it also takes ``prediction``.
    more : sequence of Control or Choice, optional
        Those under *More settings*.
    prediction : Prediction, optional
        What a learner must lock before the panel opens.
    getting_ready : callable, optional
        Returns whether the first drawing will take seconds, because the engine is still to be compiled.
    title : str, optional
        The heading.

    Attributes
    ----------
    controls : Controls
        The column of controls.
    pictures : list of PictureBox
        The places of the pictures, as many as the last drawing had.
    says : ipywidgets.HTML
        The line that says why there is no picture; empty when all is well.
    fault : Exception or None
        What the last drawing raised. A test of a panel asserts that it is None, or an `OutOfRange` that is meant.
    widget : ipywidgets.VBox
        All of it.

    Notes
    -----
    Nothing is drawn before the panel is on the page, or `draw` is called, or a control moves: so a learner sees the
    controls, and why there is a wait, while the engine compiles.
    """

    def __init__(self, controls, presets, show, *, more=(), prediction=None, getting_ready=None, title=""):
        self.controls = Controls(controls, more, presets)
        self._show, self._prediction, self._getting_ready = show, prediction, getting_ready or (lambda: False)
        self.pictures, self.fault = [], None
        self.says, self._easel = shown(kind="says"), widgets.Box()
        self._easel.add_class("tlib-easel")
        self._closed = shown(paragraph(CLOSED, "quiet"))
        pictures = widgets.VBox([self.says, self._easel])
        pictures.add_class("tlib-pictures")
        self._desk = widgets.Box([self.controls.widget, pictures])
        self._desk.add_class("tlib-desk")
        self.widget = Page([sheet(), *self._above(title), self._desk], self.draw)
        self.widget.add_class("tlib")
        self.controls.on_change(self.draw)
        self._open_or_close()
        if prediction is not None:
            prediction.on_change(self._prediction_changed)

    @property
    def is_open(self):
        """Whether the pictures may be seen: a prediction, if there is one, is locked."""
        return self._prediction is None or self._prediction.is_locked

    def draw(self):
        """Draw the pictures for the values that the controls have now."""
        if not self.is_open:
            return
        if not self.pictures and self._getting_ready():
            self.says.value = status(GETTING_READY)
        try:
            pictures = tuple(self._show(**self._values()))
            self._place(pictures)
            self.fault, said = None, ""
        except OutOfRange as fault:
            self.fault, said = fault, _as_sentence(str(fault))
        except Exception as fault:  # a learner must never meet a traceback; tests read `fault`
            self.fault, said = fault, f"{_BROKEN}{type(fault).__name__}: {fault}"
        self.says.value = status(said) if said else ""
        (self._easel.add_class if said else self._easel.remove_class)("tlib-blank")  # its place stays, so nothing jumps

    def _values(self):
        values = self.controls.values()
        return values if self._prediction is None else values | {"prediction": self._prediction.value}

    def _place(self, pictures):
        if len(pictures) != len(self.pictures):
            self.pictures = (self.pictures + [PictureBox() for _ in pictures])[: len(pictures)]
            self._easel.children = [box.widget for box in self.pictures]
        for box, picture in zip(self.pictures, pictures, strict=True):
            box.take(picture)

    def _above(self, title):
        heads = [shown(heading(title))] if title else []
        return heads if self._prediction is None else [*heads, self._prediction.widget, self._closed]

    def _open_or_close(self):
        """Show the desk or hide it, as the prediction stands; another learner's picture is never left behind."""
        blank(self._desk, hidden=not self.is_open)
        blank(self._closed, hidden=self.is_open)

    def _prediction_changed(self):
        self._open_or_close()
        self.draw()

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)


def _as_sentence(text):
    return text[:1].upper() + text[1:]
