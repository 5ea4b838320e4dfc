"""A worked sum: in full, a line at a time, or with lines left for the learner to fill."""

from html import escape

import ipywidgets as widgets

from tlib.panels.fields import button, side_by_side
from tlib.panels.markup import blank, heading, shown
from tlib.panels.style import sheet
from tlib.validation import OutOfRange

__all__ = ["WorkedExample"]

_BLANK = "your turn"


class WorkedExample:
    """A sum whose lines a reader uncovers.

    Parameters
    ----------
    lines : sequence of (str, str)
        What each line works out, and what it gives: ``("8 kg × 4.087 kWh/kg", "32.7 kWh")``.
    title : str, optional
        The heading.
    left_out : sequence of int, optional
        Lines, counting from 1, whose values the learner works out on paper before uncovering them.

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
        If there are no lines, or a line that is left out is not there.
    """

    def __init__(self, lines, title="", left_out=()):
        self.lines = tuple((str(text), str(value)) for text, value in lines)
        if not self.lines or not set(left_out) <= set(range(1, len(self.lines) + 1)):
            raise OutOfRange(f"left_out must name lines from 1 to {len(self.lines)}; got {list(left_out)}.")
        self._left_out, self._told, self.uncovered = frozenset(left_out), frozenset(), 0
        self.sum = shown()
        self.next, self.all = button("", self._step), button("Show every line", self._uncover_all)
        head = [shown(heading(title))] if title else []
        self.widget = widgets.VBox([sheet(), *head, self.sum, side_by_side(self.next, self.all)])
        for kind in ("tlib", "tlib-worked"):
            self.widget.add_class(kind)
        self._step()

    @property
    def _waiting(self):
        """The number of the last line in sight if its value is still the learner's to find, else 0."""
        number = self.uncovered
        return number if number in self._left_out - self._told else 0

    def _step(self):
        if self._waiting:
            self._told |= {self.uncovered}
        else:
            self.uncovered += 1
        self._write()

    def _uncover_all(self):
        self.uncovered, self._told = len(self.lines), self._left_out
        self._write()

    def _write(self):
        shown_lines = enumerate(self.lines[: self.uncovered], start=1)
        rows = "".join(
            f"<dt>{escape(text)}</dt><dd>{escape(_BLANK if number == self._waiting else f'= {value}')}</dd>"
            for number, (text, value) in shown_lines
        )
        self.sum.value = f'<div role="status" aria-live="polite"><dl class="tlib-sum">{rows}</dl></div>'
        self.next.description = "Show what it gives" if self._waiting else "Show the next line"
        finished = self.uncovered == len(self.lines) and not self._waiting
        for each in (self.next, self.all):
            blank(each, hidden=finished)

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)
