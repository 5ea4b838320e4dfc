"""Places to type in: a line for a number and its unit, a few lines for words."""

import ipywidgets as widgets

from tlib.panels import fields

__all__ = ["TextField", "number_field", "written_field"]


def number_field(question, said):
    """Return a line for a number and its unit."""
    return TextField(widgets.Text(description=said, placeholder="number and unit", continuous_update=True), "field")


def written_field(question, said):
    """Return a box of several lines."""
    return TextField(widgets.Textarea(description=said, rows=5, continuous_update=True), "writing")


class TextField:
    """A text that is typed; `box` is the widget that holds it."""

    def __init__(self, box, look):
        self.box = self.widget = box
        self.box.add_class(f"tlib-{look}")

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
        """Call a function, without arguments, when Enter ends a line; in a box of several lines it only begins one."""
        fields.on_enter(self.box, press)
