"""Where everything on a chart goes: pure geometry, from numbers to shapes, with no drawing library in sight."""

import math
from dataclasses import dataclass

import numpy as np

from tlib.figures import lettering, palette
from tlib.figures.canvas import Box, Trace, Words
from tlib.figures.lettering import READING, clock, spread, width, wrap

__all__ = [
    "LANE",
    "SIZE",
    "Plot",
    "boxes",
    "clock_ticks",
    "end_labels",
    "foot",
    "free_place",
    "heading",
    "lanes",
    "plain_ticks",
    "rules",
]

SIZE = (640, 360)
_LEFT, _RIGHT, _TOP, _FLOOR = 66, 506, 82, 318
LANE = 26  # height of one row of events [px]
_STEPS = (60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400)


@dataclass(frozen=True)
class Plot:
    """The field of a chart: which numbers its edges stand for, and the strip kept free for events."""

    start: float
    end: float
    low: float
    high: float
    strip: float = 0.0

    @property
    def left(self):
        """The left edge [px]."""
        return _LEFT

    @property
    def right(self):
        """The right edge [px]."""
        return _RIGHT

    @property
    def top(self):
        """The upper edge [px]."""
        return _TOP

    @property
    def floor(self):
        """The axis [px]; the strip of events stands on it."""
        return _FLOOR

    def x(self, value):
        """Return the place of a number along the chart [px]."""
        return _LEFT + (_RIGHT - _LEFT) * (value - self.start) / (self.end - self.start)

    def y(self, value):
        """Return the place of a number up the chart [px]."""
        lowest = _FLOOR - self.strip
        return lowest - (lowest - _TOP) * (value - self.low) / (self.high - self.low)


def plain_ticks(low, high, most=6):
    """Return the round numbers from `low` to `high`, evenly spaced, at most so many."""
    decade = 10.0 ** math.floor(math.log10((high - low) / most))
    shares = (share * decade for share in (1, 2, 5, 10, 20))
    step = next(step for step in shares if (high - low) / step <= most - 1 + 1e-9)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(place * step, 10) + 0.0 for place in range(first, last + 1)]


def clock_ticks(start, end, most=8):
    """Return (time, words) at round clock times between two times after a midnight [s]."""
    step = next((step for step in _STEPS if (end - start) / step <= most), None)
    if step is None:
        step = 86400 * math.ceil((end - start) / 86400 / most)
    times = [step * place for place in range(math.ceil(start / step - 1e-9), math.floor(end / step + 1e-9) + 1)]
    return [(time, f"day {time // 86400 + 1}" if step >= 86400 else _said(time)) for time in times]


def _said(time):
    return {0: "midnight", 43200: "noon"}.get(time % 86400) or clock(time)


def heading(title, notice):
    """Return the one bold line and, where the chart must warn, the line below it."""
    shown = lettering.fitted(title, SIZE[0] - 48, lettering.TITLE, bold=True)
    shapes = [Words(24, 22, shown, lettering.TITLE, bold=True)] if shown else []
    if notice:
        said = lettering.fitted(notice, SIZE[0] - 60, lettering.NAME)
        shapes += [Box(24, 38, 4, 19, palette.WARNING), Words(36, 47.5, said, lettering.NAME)]
    return shapes


def rules(plot, ticks, unit):
    """Return the pale horizontal rules and their numbers; the top one carries the unit."""
    shapes = []
    for value in ticks:
        y, top = plot.y(value), value == ticks[-1]
        shapes.append(Trace((plot.left, plot.right), (y, y), palette.RULE, width=0.8))
        said = f"{value:g}".replace("-", "−") + (f" {unit}" if top else "")
        shapes.append(Words(plot.left - 8, y, said, READING, anchor="right"))
    return shapes


def foot(plot, ticks):
    """Return the axis and the words below it."""
    shapes = [Trace((plot.left, plot.right), (plot.floor, plot.floor), palette.QUIET, width=1.0)]
    for value, said in ticks:
        x = plot.x(value)
        shapes.append(Trace((x, x), (plot.floor, plot.floor + 4), palette.QUIET, width=1.0))
        shapes.append(Words(x, plot.floor + 17, said, READING, anchor="center"))
    return shapes


def lanes(events):
    """Return for each group of events the lane in which it meets no other, lowest lane 0.

    Parameters
    ----------
    events : sequence of sequence of tuple
        For each group, the stretches (begin, end) that it takes up along the axis [px].

    Returns
    -------
    list of int
        A lane for each group, in order.
    """
    taken, given = [], []
    for stretches in events:
        lane = next((n for n, held in enumerate(taken) if not _meet(held, stretches)), len(taken))
        if lane == len(taken):
            taken.append([])
        taken[lane] += stretches
        given.append(lane)
    return given


def _meet(held, stretches, gap=10):
    return any(a < d + gap and c < b + gap for a, b in held for c, d in stretches)


def end_labels(plot, labels):
    """Return the words at the ends of the lines, pushed apart where they would meet.

    Parameters
    ----------
    plot : Plot
        The field.
    labels : sequence of (str, float, str)
        What to say, at which height [px] its line ends, and in which colour.

    Returns
    -------
    list of Words or Trace
        The words, with a thin leader to each that had to move far.
    """
    labels = sorted(labels, key=lambda label: label[1])
    edge = plot.right + 14
    blocks = [wrap(said, SIZE[0] - 8 - edge, READING, most=2) for said, _, _ in labels]
    sizes = [16 * len(block) for block in blocks]
    ends = [y for _, y, _ in labels]
    shapes = []
    for (_, y, colour), block, middle in zip(labels, blocks, spread(ends, sizes, 60, SIZE[1] - 6, gap=2), strict=True):
        if abs(middle - y) > 5:
            shapes.append(Trace((plot.right + 2, edge - 3), (y, middle), colour, width=0.8))
        first = middle - 8 * (len(block) - 1)
        shapes += [Words(edge, first + 16 * n, line, READING, colour) for n, line in enumerate(block)]
    return shapes


def boxes(shapes):
    """Return (left, top, right, bottom) of every line of words, at its widest [px]."""
    found = []
    for shape in shapes:
        if isinstance(shape, Words):
            long = width(shape.text, shape.size, shape.bold)
            left = shape.x - {"left": 0.0, "center": 0.5, "right": 1.0}[shape.anchor] * long
            found.append((left, shape.y - 0.6 * shape.size, left + long, shape.y + 0.6 * shape.size))
    return found


def free_place(places, traces, taken):
    """Return the first place that no line crosses and no words hold, else the one crossed least.

    Parameters
    ----------
    places : sequence of tuple
        Boxes (left, top, right, bottom) in order of preference [px].
    traces : sequence of Trace
        The lines.
    taken : sequence of tuple
        Boxes that hold words already.

    Returns
    -------
    int
        Index of the place.
    """
    costs = sum((_crossed(trace, places) for trace in traces), np.zeros(len(places), dtype=int))
    costs += [1000 * sum(_overlap(place, box) for box in taken) for place in places]
    return int(np.argmin(costs))


def _overlap(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _crossed(trace, places, margin=3):
    """Return for each box how many pieces of a line run through it."""
    x, y = np.asarray(trace.x), np.asarray(trace.y)
    if len(x) < 200:  # a long piece must not be taken for the box around it
        share = np.linspace(0.0, len(x) - 1.0, 400)
        x, y = np.interp(share, np.arange(len(x)), x), np.interp(share, np.arange(len(y)), y)
    left, top, right, bottom = (
        np.array(places).T[:, :, None] + np.array([-margin, -margin, margin, margin])[:, None, None]
    )
    low, high = np.minimum(y[1:], y[:-1]), np.maximum(y[1:], y[:-1])
    return np.sum((x[1:] > left) & (x[:-1] < right) & (high > top) & (low < bottom), axis=1)
