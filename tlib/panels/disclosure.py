"""A button that brings more into sight."""

import ipywidgets as widgets

from tlib.panels.fields import button
from tlib.panels.markup import blank

__all__ = ["Disclosure"]


class Disclosure:
    """A button that brings something into sight and takes it away again; its words say which.

    Parameters
    ----------
    show, hide : str
        The button's words while the thing is hidden, and while it is in sight.
    content : ipywidgets.Widget
        The thing.
    fill : callable, optional
        Called each time when the thing comes into sight.
    put_away : callable, optional
        Called each time when it goes out of sight.
    """

    def __init__(self, show, hide, content, fill=None, put_away=None):
        self._words, self._content, self._told, self.is_open = (show, hide), content, (put_away, fill), False
        self.button = button(show, self.turn, "plain")
        blank(content, hidden=True)
        self.widget = widgets.VBox([self.button, content])
        self.widget.add_class("tlib-column")

    def turn(self):
        """Show the thing if it is hidden, hide it if it is in sight."""
        self.is_open = not self.is_open
        if told := self._told[self.is_open]:
            told()
        self.button.description = self._words[self.is_open]
        blank(self._content, hidden=not self.is_open)
