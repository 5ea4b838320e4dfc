"""The marks on a chart beside its lines: events, the strip of a band, a guess and its gap, the rule of now."""

import numpy as np

from tlib.figures import palette
from tlib.figures.canvas import Box, Diamond, Trace, Words
from tlib.figures.chart_layout import LANE, free_place, lanes
from tlib.figures.lettering import READING, SMALL, clock, fitted, width
from tlib.validation import OutOfRange

__all__ = ["band_word", "event_rows", "guess_shapes", "now_shapes", "strip"]

_ROWS_AT_MOST = 4
_WORD = 200  # room for a mark's words [px]


def event_rows(plot, events):
    """Place events in rows on the axis; return the shapes and the height of the rows [px]."""
    groups = {}
    for event in events:
        if event.ends < plot.start or event.begins > plot.end:
            raise OutOfRange(f"event {event.word!r} must lie within the time that the chart shows.")
        groups.setdefault((fitted(event.word, _WORD, SMALL), event.kind), []).append(event)
    if not groups:
        return (), 0.0
    spans = [_stretches(plot, word, group) for (word, _), group in groups.items()]
    rows = lanes(spans)
    if max(rows) >= _ROWS_AT_MOST:
        raise OutOfRange(f"events must fit into {_ROWS_AT_MOST} rows; these need {max(rows) + 1}.")
    shapes = []
    for (word, kind), span, row in zip(groups, spans, rows, strict=True):
        colour, foot = palette.flow(kind).colour, plot.floor - LANE * row
        shapes += [Box(left, foot - 7, right - left, 7, colour) for left, right in span[1:]]
        shapes.append(Words(span[0][0], foot - 16.5, word, SMALL, colour))
    return tuple(shapes), LANE * (max(rows) + 1) + 8.0


def _stretches(plot, word, group):
    """Return what a group takes up along the axis: its word first, then its bars [px]."""
    bars = []
    for event in group:
        left, right = (min(max(plot.x(time), plot.left), plot.right) for time in (event.begins, event.ends))
        bars.append((left, max(right, left + 3)))
    begin = min(left for left, _ in bars)
    long = width(word, SMALL)
    begin = max(min(begin, plot.right - long), plot.left)
    return [(begin, begin + long), *bars]


def strip(plot, band):
    """Return the pale strip of a band."""
    if band is None:
        return ()
    top, floor = plot.y(band.high), plot.y(band.low)
    return (Box(plot.left, top, plot.right - plot.left, floor - top, palette.STRIP),)


def band_word(plot, band, traces, taken):
    """Return the word of a band, inside it where the lines leave room, else just outside."""
    if band is None or not band.word:
        return ()
    word = fitted(band.word, _WORD, SMALL)
    long, top, floor = width(word, SMALL), plot.y(band.high), plot.y(band.low)
    across = np.linspace(plot.left + 8, plot.right - long - 4, 9)
    inside = [(x, y) for y in (top + 11, floor - 10) for x in across]
    outside = [(x, y) for y in (top - 10, floor + 10) for x in across]
    middles = inside + outside if floor - top > 20 else outside
    places = [(x, y - 0.6 * SMALL, x + long, y + 0.6 * SMALL) for x, y in middles]
    x, y = middles[free_place(places, traces, taken)]
    ground = palette.STRIP if top < y < floor else palette.PAPER
    return (Box(x - 3, y - 8, long + 4, 16, ground), Words(x, y, word, SMALL, palette.QUIET))


def guess_shapes(plot, guess, sheet, taken):
    """Return an open diamond at a guess, a filled one on the line, the gap between, and what they say.

    Parameters
    ----------
    plot : Plot
        The field.
    guess : Guess or None
        The guess, its `at` on the scale of the chart.
    sheet : Sheet
        The lines.
    taken : sequence of tuple
        Boxes that hold words already [px].

    Returns
    -------
    tuple
        Shapes.
    """
    if guess is None:
        return ()
    result = sheet.value(guess.line, guess.at)
    x, y = plot.x(guess.at), plot.y(guess.value)
    said = [
        f"{fitted(guess.word, _WORD, READING)} {sheet.axis.says(guess.value)}",
        _gap(sheet.axis, guess.value, result),
    ]
    shapes = [Diamond(x, y)]
    if np.isfinite(result):
        gap = Trace((x, x), (y, plot.y(result)), palette.INK, "dotted", 1.4)
        shapes = [gap, Diamond(x, plot.y(result), sheet.stroke(guess.line).colour, palette.PAPER, 5), *shapes]
    ends = [y, plot.y(result) if np.isfinite(result) else y]
    held = [*taken, (x - 8, min(ends) - 8, x + 8, max(ends) + 8)]
    return (*shapes, *_beside(plot, x, y, said, sheet.traces, held))


def _gap(axis, guess, result):
    """Say how far a guess lies from the result, from the numbers as printed."""
    if not np.isfinite(result):
        return "the result is not defined"
    gap = round(axis.rounded(guess) - axis.rounded(result), axis.places)
    if gap == 0:
        return "the result is the same"
    unit = "degree" if axis.unit == "°C" else axis.unit
    plural = "s" if unit == "degree" and abs(gap) != 1 else ""
    return f"{abs(gap):,.{axis.places}f} {unit}{plural} {'above' if gap > 0 else 'below'} the result"


def _beside(plot, x, y, said, traces, taken):
    """Write two lines beside a point, where nothing else stands."""
    long, high = max(width(said[0], READING), width(said[1], SMALL)), 34
    right, left = x + 14, x - 14 - long
    shifts = (0, -26, 26, -48, 48, -74, 74, -104, 104)
    corners = [(edge, y + shift - high / 2) for shift in shifts for edge in (right, left)]
    corners += [(x - long / 2, y + shift - high / 2) for shift in (-36, 36, -60, 60)]
    floor = plot.floor - plot.strip - high
    corners = [
        (min(max(cx, plot.left + 4), plot.right + 118 - long), min(max(cy, plot.top - 10), floor)) for cx, cy in corners
    ]
    places = [(cx, cy, cx + long, cy + high) for cx, cy in corners]
    cx, cy = corners[free_place(places, traces, taken)]
    words = Words(cx, cy + 9, said[0], READING), Words(cx, cy + 26, said[1], SMALL, palette.QUIET)
    return (*_leader(x, y, cx, cy, long, high), *words)


def _leader(x, y, left, top, long, high):
    """Join a point to words that had to stand away from it."""
    to_x, to_y = min(max(x, left), left + long), min(max(y, top), top + high)
    if np.hypot(to_x - x, to_y - y) < 20:
        return ()
    return (Trace((x, to_x), (y, to_y), palette.QUIET, width=0.9),)


def now_shapes(plot, now):
    """Return a thin rule at one clock time [s after a midnight], with that time above it."""
    if now is None:
        return ()
    x, said = plot.x(now), f"now, {clock(now)}"
    half = width(said, SMALL) / 2
    middle = min(max(x, plot.left + half), plot.right - half)
    rule = Trace((x, x), (plot.top - 8, plot.floor), palette.INK, width=1.0)
    return rule, Words(middle, plot.top - 17, said, SMALL, anchor="center")
