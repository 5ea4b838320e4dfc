"""Charts: lines that carry their own names and values, no legend, no box."""

from dataclasses import dataclass, replace
from html import escape
from itertools import pairwise

import numpy as np

from tlib.figures import chart_layout, chart_marks
from tlib.figures.canvas import Trace, Words, png
from tlib.figures.chart_layout import SIZE, Plot
from tlib.figures.chart_parts import Axis, Band, Event, Guess, Line
from tlib.figures.lettering import READING, clean, clock
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import OutOfRange, require

__all__ = ["Axis", "Band", "Event", "Guess", "Line", "curve_chart", "day_chart"]

_AXIS = Axis()
_ROWS = 26  # of a table twin, at most


def day_chart(
    time_s, lines, *, begins_at, events=(), band=None, guess=None, now=None, axis=_AXIS, title, words, notice=""
):
    """Draw how something runs through a day, with clock times.

    Parameters
    ----------
    time_s : sequence of float
        Times since the start [s], rising; shape (n,).
    lines : sequence of Line
        One to seven lines of n values each.
    begins_at : float
        Clock time of the start: seconds after midnight [s].
    events : sequence of Event, optional
        Bars on the axis.
    band : Band, optional
        A pale strip.
    guess : Guess, optional
        An open diamond, and its gap to the result.
    now : float, optional
        Time since the start [s] at which a thin rule stands.
    axis : Axis, optional
        The upright axis.
    title, words : str
        The one bold line, and the sentence that says what the chart means.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An ``<img alt>`` of 640 by 360 px, its words, and a row for each round clock time.

    Raises
    ------
    OutOfRange
        If times do not rise, a line has another number of values, a guess names no line or lies outside the
        day, or more happens at once than there is room for.

    Examples
    --------
    >>> picture = day_chart([0, 7200], [Line("top", (60, 80))], begins_at=61200, title="Evening", words="It warms.")
    >>> picture.rows[0], picture.rows[-1]
    (('time', 'top'), ('19:00', '80 °C'))
    """
    begins_at = float(require(begins_at, "begins_at", "s"))
    x, lines = _checked(time_s, lines, "time_s")
    events = [replace(event, begins=event.begins + begins_at, ends=event.ends + begins_at) for event in events]
    guess, now = _shifted(x, guess, now, begins_at)
    x = x + begins_at
    plot = Plot(x[0], x[-1], *_reach(lines, axis, band, guess))
    bars, strip = chart_marks.event_rows(plot, events)
    sheet = Sheet(x, lines, replace(plot, strip=strip), axis)
    ticks = chart_layout.clock_ticks(x[0], x[-1])
    rows = LateRows(lambda: _day_rows(sheet, events))
    return _drawn(
        sheet, ticks, (title, words, notice), rows, band, guess, bars, chart_marks.now_shapes(sheet.plot, now)
    )


def curve_chart(x, lines, *, along, band=None, guess=None, axis=_AXIS, title, words, notice=""):
    """Draw how something depends on one quantity.

    Parameters
    ----------
    x : sequence of float
        The quantity, rising; shape (n,).
    lines : sequence of Line
        One to seven lines of n values each.
    along : tuple of str
        Name and unit of the quantity: ``("insulation", "mm")``.
    band : Band, optional
        A pale strip.
    guess : Guess, optional
        An open diamond, and its gap to the result; `at` is on the scale of `x`.
    axis : Axis, optional
        The upright axis.
    title, words : str
        The one bold line, and the sentence that says what the chart means.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An ``<img alt>`` of 640 by 360 px, its words, and a row for each round number along it.

    Raises
    ------
    OutOfRange
        If `x` does not rise, a line has another number of values, or a guess names no line or lies outside.

    Examples
    --------
    >>> picture = curve_chart([0, 10], [Line("loss", (80, 40))], along=("insulation", "mm"), axis=Axis(0, 80, "W"),
    ...                       title="Loss", words="Thicker loses less.")
    >>> picture.rows[1]
    ('0 mm', '80 W')
    """
    x, lines = _checked(x, lines, along[0])
    guess, _ = _shifted(x, guess, None, 0.0)
    sheet = Sheet(x, lines, Plot(x[0], x[-1], *_reach(lines, axis, band, guess)), axis)
    numbers = chart_layout.plain_ticks(x[0], x[-1], most=8)
    said = [f"{number:g}".replace("-", "−") for number in numbers]
    ticks = [*zip(numbers, said, strict=True)]
    rows = LateRows(lambda: _curve_rows(sheet, numbers, said, along))
    name = Words(SIZE[0] - 8, sheet.plot.floor + 17, f"{along[0]}, {along[1]}".rstrip(", "), READING, anchor="right")
    return _drawn(sheet, ticks, (title, words, notice), rows, band, guess, (name,), ())


@dataclass(frozen=True)
class Sheet:
    """The lines of one chart on their field; numbers along it in the field's own scale."""

    x: np.ndarray
    lines: tuple
    plot: Plot
    axis: Axis

    def value(self, name, at):
        """Return what a line reads at one place."""
        line = next((line for line in self.lines if line.name == name), None)
        if line is None:
            raise OutOfRange(f"guess must name a line of the chart; got {name!r}.")
        return float(np.interp(at, self.x, line.values))

    def stroke(self, name):
        """Return how a line is drawn."""
        return next(line.stroke(place) for place, line in enumerate(self.lines) if line.name == name)

    @property
    def traces(self):
        """The lines as shapes."""
        places = self.plot.x(self.x)
        return tuple(
            Trace(places, self.plot.y(line.values), stroke.colour, stroke.line)
            for line, stroke in ((line, line.stroke(place)) for place, line in enumerate(self.lines))
        )

    @property
    def ends(self):
        """What stands at the end of each line: words, height [px], colour."""
        found = []
        for place, line in enumerate(self.lines):
            defined = line.values[np.isfinite(line.values)]
            y = self.plot.y(defined[-1]) if len(defined) else self.plot.floor
            found.append((f"{line.name} {self.axis.says(line.values[-1])}", y, line.stroke(place).colour))
        return found


def _checked(x, lines, name):
    """Return times and lines as arrays, or say what is wrong with them."""
    x = np.atleast_1d(require(x, name, ""))
    if len(x) < 2 or not np.all(np.diff(x) > 0):
        raise OutOfRange(f"{name} must rise, from at least two values; got {len(x)} value(s).")
    require(len(lines), "number of lines", "", at_least=1, at_most=7)
    lines = tuple(replace(line, name=clean(line.name), values=np.asarray(line.values, dtype=float)) for line in lines)
    for line in lines:
        if line.values.shape != x.shape:
            raise OutOfRange(f"line {line.name!r} must have {len(x)} values; got {line.values.size}.")
        require(line.values[~np.isnan(line.values)], f"line {line.name!r}", "")
    return x, lines


def _shifted(x, guess, now, shift):
    """Return guess and now on the scale of the chart, having checked that they lie on it."""
    limits = {"at_least": float(x[0]), "at_most": float(x[-1])}
    if now is not None:
        now = float(require(now, "now", "s", **limits)) + shift
    if guess is not None:
        require(guess.value, "guess", "")
        guess = replace(guess, at=float(require(guess.at, "place of the guess", "", **limits)) + shift)
    return guess, now


def _reach(lines, axis, band, guess):
    """Return the lowest and highest number that the upright axis must show, with a little air above."""
    held = [axis.low, axis.high, *((band.low, band.high) if band else ()), *((guess.value,) if guess else ())]
    numbers = np.concatenate([held, *(line.values[np.isfinite(line.values)] for line in lines)])
    low, high = float(numbers.min()), float(numbers.max())
    air = 0.03 * (high - low)
    return low - (air if low < axis.low else 0.0), high + (air if high > axis.high else 0.0)


def _drawn(sheet, ticks, said, rows, band, guess, still, moving):
    """Paint a chart; return it as a picture."""
    title, words, notice = said
    plot, traces = sheet.plot, sheet.traces
    upright = chart_layout.plain_ticks(plot.low, plot.high)
    ground = (
        *chart_layout.heading(title, notice), *chart_marks.strip(plot, band),
        *chart_layout.rules(plot, upright, sheet.axis.unit), *chart_layout.foot(plot, ticks), *still,
    )  # fmt: skip
    labels = tuple(chart_layout.end_labels(plot, sheet.ends))
    taken = chart_layout.boxes((*ground, *labels, *moving))
    mark = chart_marks.guess_shapes(plot, guess, sheet, taken)
    word = chart_marks.band_word(plot, band, (*traces, *moving[:1]), taken + chart_layout.boxes(mark))
    words = sentence(words, notice)
    encoded = png(SIZE, ground, (*word, *traces, *labels, *moving, *mark))
    style = "max-width:100%;height:auto"
    size = f'width="{SIZE[0]}" height="{SIZE[1]}"'
    markup = f'<img alt="{escape(words)}" {size} style="{style}" src="data:image/png;base64,{encoded}">'
    return Picture(markup, words, rows)


def _day_rows(sheet, events):
    """Return the table twin: round clock times, the lines, and what happens."""
    x, names = sheet.x, [line.name for line in sheet.lines]
    times = [time for time, _ in chart_layout.clock_ticks(x[0], x[-1], most=_ROWS - 2)]
    times = sorted({float(x[0]), *times, float(x[-1])})
    yield ("time", *names, *(["what happens"] if events else []))
    for begin, end in pairwise([*times, times[-1] + 1.0]):
        words = dict.fromkeys(clean(event.word) for event in events if event.begins < end and event.ends >= begin)
        yield (clock(begin), *_values(sheet, begin), *([", ".join(words)] if events else []))


def _curve_rows(sheet, numbers, said, along):
    yield (along[0], *(line.name for line in sheet.lines))
    for number, words in zip(numbers, said, strict=True):
        yield (f"{words} {along[1]}".strip(), *_values(sheet, number))


def _values(sheet, at):
    return [sheet.axis.says(np.interp(at, sheet.x, line.values)) for line in sheet.lines]
