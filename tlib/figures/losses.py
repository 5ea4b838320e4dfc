"""Where heat leaks: a bar for each part, its number, and the parts together; all from the same watts."""

from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.heat_scale import BEGIN, NAMES, WIDE
from tlib.figures.lettering import READING, adding_up
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import require

__all__ = ["Leak", "leaks"]

_END, _ROW, _HIGH = WIDE - 110, 46, 22


@dataclass(frozen=True)
class Leak:
    """A part through which heat leaks.

    Parameters
    ----------
    name : str
        What it is: "side".
    note : str
        What is said of it, in quiet ink: "50 mm of foam".
    power : float
        Heat that leaks through it [W]; 0 or more.
    """

    name: str
    note: str
    power: float

    def __post_init__(self):
        require(self.power, f"heat through {self.name}", "W", at_least=0)


def leaks(parts, most, *, title, words, together="together", beside=None):
    """Draw the heat that leaks through each part, one below the other, each bar beginning where the last one ended.

    Parameters
    ----------
    parts : sequence of Leak
        One to five.
    most : float
        What the whole width stands for [W]; no less than all parts together.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    together : str, optional
        What the bar of all parts is called.
    beside : Leak, optional
        Another loss to hold them against, drawn as an open bar below: what the label says.

    Returns
    -------
    Picture
        An inline SVG, 640 px wide, its words, and a row for each part, for all and for the loss beside. Whole watts
        are printed, so that the parts add up to the whole.

    Raises
    ------
    OutOfRange
        If there are no parts or more than five, or they or the loss beside come to more than `most`.

    Examples
    --------
    >>> picture = leaks([Leak("side", "", 71.0), Leak("ends", "", 16.0)], 200.0, title="Leaks", words="So much.")
    >>> picture.rows[-1]
    ('together', '87 W', '100 %')
    """
    require(len(parts), "number of parts", "", at_least=1, at_most=5)
    whole = sum(part.power for part in parts)
    most = float(
        require(most, "heat that the whole width stands for", "W", at_least=max(whole, beside.power if beside else 1.0))
    )
    begins, drawn, watts = 0.0, [], adding_up([part.power for part in parts], round(whole))
    for number, (part, each) in enumerate(zip(parts, watts, strict=True)):
        span = (begins, part.power, most)
        drawn.append(_row(70 + number * _ROW, part.name, part.note, span, palette.heat_colour(75), each))
        begins += part.power
    drawn.append(_row(76 + len(parts) * _ROW, together, "", (0.0, whole, most), palette.INK, round(whole)))
    if beside:
        span = (0.0, beside.power, most)
        drawn.append(_row(82 + (len(parts) + 1) * _ROW, beside.name, beside.note, span, None, round(beside.power)))
    said = sentence(words)
    markup = svg.frame((WIDE, 90 + (len(parts) + (2 if beside else 1)) * _ROW), title, said, *drawn)
    return Picture(markup, said, LateRows(lambda: _rows(parts, watts, together, beside)))


def _row(top, name, note, span, colour, watts):
    """Draw one bar from where it begins, with its name before it and its number behind it; open if it has no colour."""
    begins, power, most = span
    scale = (_END - BEGIN) / most
    left, wide = BEGIN + begins * scale, max(power * scale, 1.0)
    ink = {"fill": colour} if colour else {"fill": palette.PAPER, "stroke": palette.INK, "stroke_width": 1.6}
    return "".join([
        svg.text(NAMES, top + 12, name, text_anchor="end"),
        svg.text(NAMES, top + 29, note, size=READING, fill=palette.QUIET, text_anchor="end") if note else "",
        svg.line(BEGIN, top - 8, BEGIN, top + _ROW - 12, stroke=palette.QUIET, width=0.9),
        svg.tag("rect", x=left, y=top, width=wide, height=_HIGH, **ink),
        svg.text(left + wide + 8, top + 16, f"{watts} W", size=READING),
    ])  # fmt: skip


def _rows(parts, watts, together, beside):
    whole = max(sum(part.power for part in parts), 1e-9)
    yield ("where", "heat", "share")
    for part, each in zip(parts, watts, strict=True):
        yield (lettering.clean(part.name), f"{each} W", f"{100 * part.power / whole:.0f} %")
    yield (lettering.clean(together), f"{sum(watts)} W", "100 %")
    if beside:
        yield (lettering.clean(beside.name), f"{round(beside.power)} W", f"{100 * beside.power / whole:.0f} %")
