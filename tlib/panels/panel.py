"""The panel: controls beside the pictures that a pure function draws from them."""

import ipywidgets as widgets

from tlib.panels.controls import Controls
from tlib.panels.easel import GETTING_READY, Easel
from tlib.panels.markup import blank, heading, paragraph, shown
from tlib.panels.page import Page
from tlib.panels.style import sheet

__all__ = ["CLOSED", "GETTING_READY", "Panel"]

CLOSED = "The panel opens when you have locked your prediction."


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
    play : Playback, optional
        A player below the pictures, which plays the run of the values that the controls have.

    Attributes
    ----------
    controls : Controls
        The column of controls.
    show : callable
        As given.
    easel : Easel
        The place of the pictures.
    play : Playback or None
        The player.
    widget : ipywidgets.VBox
        All of it.

    Notes
    -----
    Nothing is drawn before the panel is on the page, or `draw` is called, or a control moves: so a learner sees the
    controls, and why there is a wait, while the engine compiles.
    """

    def __init__(
        self, controls, presets, show, *, more=(), prediction=None, getting_ready=None, title="", play=None
    ):  # fmt: skip
        self.controls = Controls(controls, more, presets)
        self.show, self._prediction, self.play = show, prediction, play
        self.easel = Easel(getting_ready)
        self._closed = shown(paragraph(CLOSED, "quiet"))
        pictures = widgets.VBox([self.easel.widget, play.widget]) if play else self.easel.widget
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

    @property
    def pictures(self):
        """The places of the pictures, as many as the last drawing had."""
        return self.easel.pictures

    @property
    def says(self):
        """The line that says why there is no picture; empty when all is well."""
        return self.easel.says

    @property
    def fault(self):
        """What the last drawing raised. A test of a panel asserts that it is None, or an `OutOfRange` that is meant."""
        return self.easel.fault

    def draw(self):
        """Draw the pictures for the values that the controls have now."""
        if not self.is_open:
            return
        values = self._values()
        self.easel.draw(lambda: self.show(**values))
        if self.play:
            self.play.take(**values)

    def _values(self):
        values = self.controls.values()
        return values if self._prediction is None else values | {"prediction": self._prediction.value}

    def _above(self, title):
        heads = [shown(heading(title))] if title else []
        return heads if self._prediction is None else [*heads, self._prediction.widget, self._closed]

    def _open_or_close(self):
        """Show the desk or hide it, as the prediction stands; another learner's picture is never left behind."""
        blank(self._desk, hidden=not self.is_open)
        blank(self._closed, hidden=self.is_open)
        if self.play and not self.is_open:
            self.play.put_away()

    def _prediction_changed(self):
        self._open_or_close()
        self.draw()

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)
