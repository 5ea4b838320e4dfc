"""A line to type a number and its unit in."""

import ipywidgets as widgets

from tlib.panels import fields

__all__ = ["NumberField"]


class NumberField:
    """A line of text; `box` is the widget that holds it."""

    def __init__(self, question, said):
        self.box = self.widget = widgets.Text(
            description=said, placeholder="number and unit", continuous_update=True
        )  # fmt: skip
        self.box.add_class("tlib-field")

    @property
    def value(self):
        """What stands in it."""
        return self.box.value

    @value.setter
    def value(self, text):
        self.box.value = text

    @property
    def disabled(self):
        """Whether nothing can be typed any more."""
        return self.box.disabled

    @disabled.setter
    def disabled(self, is_disabled):
        self.box.disabled = is_disabled

    def on_change(self, told):
        """Call a function with the text at each change."""
        self.box.observe(lambda change: told(change["new"]), "value")

    def on_enter(self, press):
        """Call a function, without arguments, when Enter is pressed in it."""
        fields.on_enter(self.box, press)
