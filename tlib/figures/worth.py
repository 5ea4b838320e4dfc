"""What an amount of heat is worth: a bar in kWh, and below it things to count, such as baths, showers and hours."""

import math
from dataclasses import dataclass

from tlib.figures import palette, svg
from tlib.figures.heat_scale import BEGIN, NAMES, WIDE, Scale, marked
from tlib.figures.lettering import NAME, READING, kwh
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import OutOfRange, require

__all__ = ["SYMBOLS", "Count", "counts", "heat_gauge"]

_HIGH, _ROW, _LAST = 28, 52, WIDE - 24
SYMBOLS = {
    "bath": "M0 3H26V8Q26 15 19 15H7Q0 15 0 8Z",
    "drop": "M8 0Q15 8 15 12A7 7 0 0 1 1 12Q1 8 8 0Z",
    "hour": "M0 1H22V17H0Z",
}
"""Outlines of the things that are counted, 18 px high at most; each is 4 px less wide than its place."""
_PLACE = {"bath": 30, "drop": 20, "hour": 26}


@dataclass(frozen=True)
class Count:
    """A row of things to count.

    Parameters
    ----------
    name : str
        What is counted: "baths".
    number : float
        How many [-]; 0 or more. The last one is filled in part.
    each : str
        What one of them is: "120 l at 42 °C".
    symbol : str
        One of `SYMBOLS`.
    kind : str, optional
        The flow whose colour fills them (`tlib.figures.palette.FLOWS`).

    Examples
    --------
    >>> Count("baths", 3.12, "120 l at 42 °C", "bath").says
    '3.1 baths'
    """

    name: str
    number: float
    each: str
    symbol: str
    kind: str = "hot water"

    def __post_init__(self):
        require(self.number, f"number of {self.name}", "", at_least=0)
        if self.symbol not in SYMBOLS:
            raise OutOfRange(f"symbol must be one of {', '.join(SYMBOLS)}; got {self.symbol!r}.")

    @property
    def says(self):
        """The number, as it is printed."""
        return f"{self.number:.1f} {self.name}"

    def drawn(self, top):
        """Draw the row, its upper edge at a height of the page [px]."""
        place = _PLACE[self.symbol]
        scale = min(1.0, (_LAST - BEGIN) / (place * max(math.ceil(self.number), 1)))
        things = "".join(
            self._thing(BEGIN + number * place * scale, top + 9 - 9 * scale, scale, min(self.number - number, 1.0))
            for number in range(math.ceil(self.number - 1e-9))
        )
        return (
            svg.text(NAMES, top + 6, self.says, text_anchor="end")
            + svg.text(NAMES, top + 23, self.each, size=READING, fill=palette.QUIET, text_anchor="end")
            + things
        )

    def _thing(self, x, y, scale, share):
        """Draw one of them, filled from the left by its share: the filled part hides all but its outline."""
        colour, outline = palette.flow(self.kind).colour, SYMBOLS[self.symbol]
        wide = (_PLACE[self.symbol] - 4) * (1.0 - share)
        hidden = svg.tag("rect", x=_PLACE[self.symbol] - 4 - wide, y=-1, width=wide + 2, height=20, fill=palette.PAPER)
        return svg.tag(
            "g",
            svg.tag("path", d=outline, fill=colour), hidden if share < 1 else "",
            svg.tag("path", d=outline, fill="none", stroke=colour, stroke_width=1.4),
            transform=f"translate({x:.1f} {y:.1f}) scale({scale:.3f})",
        )  # fmt: skip


def heat_gauge(heat, most, rows, marks=(), *, temperature, title, words, notice=""):
    """Draw an amount of heat as a bar, and what it is worth as things to count.

    Parameters
    ----------
    heat : float
        How much there is [J]; 0 or more.
    most : float
        What the whole bar stands for [J]; no less than `heat`.
    rows : sequence of Count
        One to four.
    marks : sequence of Mark, optional
        Up to two other amounts to hold it against.
    temperature : float
        Of the water that holds it, whose colour the bar has [°C].
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An inline SVG, 640 px wide, its words, and a row for the heat, each count and each mark.

    Raises
    ------
    OutOfRange
        If there are no rows or more than four, more than two marks, or `heat` is below 0 or more than `most`.

    Examples
    --------
    >>> picture = heat_gauge(50.2e6, 136e6, [Count("baths", 3.12, "120 l at 42 °C", "bath")], temperature=80.0,
    ...                      title="Full", words="It is enough for three.")
    >>> picture.rows[1:]
    (('useful heat', '13.9 kWh'), ('baths', '3.1'))
    """
    _few(rows, marks)
    most = float(require(most, "heat of the whole bar", "J", above=0))
    heat = float(require(heat, "heat", "J", at_least=0, at_most=most))
    said, scale = sentence(words, notice), Scale(0.0, most)
    first = 200 if marks else 146
    drawn = [row.drawn(first + number * _ROW) for number, row in enumerate(rows)]
    size = (WIDE, first + len(rows) * _ROW + 8)
    bar = _bar(scale, heat, most, palette.heat_colour(temperature)) + marked(scale, marks, 84)
    markup = svg.frame(size, title, said, bar, *drawn, notice=notice)
    return Picture(markup, said, LateRows(lambda: _gauge_rows(heat, rows, marks)))


def counts(rows, *, title, words):
    """Draw rows of things to count, without a bar.

    Parameters
    ----------
    rows : sequence of Count
        One to four.
    title, words : str
        The one bold line, and the sentence that says what the picture means.

    Returns
    -------
    Picture
        An inline SVG, 640 px wide, its words, and a row for each count.

    Raises
    ------
    OutOfRange
        If there are no rows or more than four.

    Examples
    --------
    >>> counts([Count("hours", 1.4, "at 10 kW", "hour")], title="Time", words="It takes over an hour.").rows[1]
    ('hours, at 10 kW', '1.4')
    """
    _few(rows, ())
    drawn = [row.drawn(70 + number * _ROW) for number, row in enumerate(rows)]
    markup = svg.frame((WIDE, 74 + len(rows) * _ROW), title, sentence(words), *drawn)
    named = [(f"{row.name}, {row.each}", f"{row.number:.1f}") for row in rows]
    return Picture(markup, sentence(words), LateRows(lambda: [("what", "how many"), *named]))


def _few(rows, marks):
    require(len(rows), "number of rows", "", at_least=1, at_most=4)
    require(len(marks), "number of marks", "", at_most=2)


def _bar(scale, heat, most, colour):
    """Draw the bar: open up to the most there can be, filled as far as there is heat."""
    left, end = scale.x(0), scale.x(heat)
    frame = {"x": left, "y": 90, "height": _HIGH}
    return "".join([
        svg.text(NAMES, 108, "useful heat", text_anchor="end"),
        svg.tag("rect", **frame, width=scale.x(most) - left, fill=palette.STRIP, stroke=palette.QUIET),
        svg.tag("rect", **frame, width=end - left, fill=colour),
        svg.text(end, 78, kwh(heat), size=NAME, text_anchor="middle"),
        svg.line(end, 83, end, 90, stroke=palette.QUIET, width=0.9),
        svg.text(scale.x(most) + 8, 108, f"of {kwh(most)}", size=READING, fill=palette.QUIET),
    ])  # fmt: skip


def _gauge_rows(heat, rows, marks):
    yield ("what", "how much")
    yield ("useful heat", kwh(heat))
    for row in rows:
        yield (row.name, f"{row.number:.1f}")
    for mark in marks:
        yield (mark.name, kwh(mark.heat))
