"""A few lines to write in."""

import ipywidgets as widgets

__all__ = ["WrittenField"]


class WrittenField:
    """A box of several lines; `box` is the widget that holds it."""

    def __init__(self, question, said):
        self.box = self.widget = widgets.Textarea(description=said, rows=5, continuous_update=True)
        self.box.add_class("tlib-writing")

    @property
    def value(self):
        """What stands in it."""
        return self.box.value

    @value.setter
    def value(self, text):
        self.box.value = text

    @property
    def disabled(self):
        """Whether nothing can be written any more."""
        return self.box.disabled

    @disabled.setter
    def disabled(self, is_disabled):
        self.box.disabled = is_disabled

    def on_change(self, told):
        """Call a function with the text at each change."""
        self.box.observe(lambda change: told(change["new"]), "value")
