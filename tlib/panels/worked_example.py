"""A worked sum, a line at a time."""

from html import escape

import ipywidgets as widgets

from tlib.panels.fields import button, side_by_side
from tlib.panels.markup import blank, heading, shown
from tlib.panels.style import sheet
from tlib.validation import require

__all__ = ["WorkedExample"]


class WorkedExample:
    """A sum whose lines a reader uncovers.

    Parameters
    ----------
    lines : sequence of tlib.sizing.Line
        The sum, each line with its working.
    title : str, optional
        The heading.

    Attributes
    ----------
    lines : tuple
        As given.
    uncovered : int
        How many lines are in sight.
    sum : ipywidgets.HTML
        The lines.
    next, all : ipywidgets.Button
        Uncover one more line; uncover them all.
    widget : ipywidgets.VBox
        All of it.

    Raises
    ------
    OutOfRange
        If there are no lines.
    """

    def __init__(self, lines, title=""):
        self.lines, self.uncovered = tuple(lines), 1
        require(len(self.lines), "the number of lines", "", at_least=1)
        self.sum = shown()
        self.next = button("Show the next line", lambda: self._uncover(self.uncovered + 1))
        self.all = button("Show every line", lambda: self._uncover(len(self.lines)))
        head = [shown(heading(title))] if title else []
        self.widget = widgets.VBox([sheet(), *head, self.sum, side_by_side(self.next, self.all)])
        for kind in ("tlib", "tlib-worked"):
            self.widget.add_class(kind)
        self._uncover(1)

    def _uncover(self, count):
        self.uncovered = min(count, len(self.lines))
        rows = "".join(map(_row, self.lines[: self.uncovered]))
        self.sum.value = f'<div role="status" aria-live="polite"><dl class="tlib-sum">{rows}</dl></div>'
        for each in (self.next, self.all):
            blank(each, hidden=self.uncovered == len(self.lines))

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)


def _row(line):
    named = f"{line.name[0].upper()}{line.name[1:]}: {line.working}"
    return f"<dt>{escape(named)}</dt><dd>= {escape(line.says)}</dd>"
