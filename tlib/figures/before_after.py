"""Before and after: for each quantity two bars, one open and one filled, each with its number."""

import math
from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.heat_scale import BEGIN, NAMES, WIDE
from tlib.figures.lettering import READING
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import require

__all__ = ["Pair", "before_after"]

_END, _ROW = WIDE - 120, 72


@dataclass(frozen=True)
class Pair:
    """A quantity before and after.

    Parameters
    ----------
    name : str
        What it is: "how stirred".
    note : str
        What its ends mean: "0 in layers, 1 all mixed".
    before, after : float
        Its two values; NaN where it is not defined.
    most : float
        What a whole bar stands for; above 0.
    unit : str, optional
        As people write it.
    decimals : int, optional
        How many are printed.

    Examples
    --------
    >>> Pair("top", "the warmest band", 75.0, 65.0, 90.0, "°C", 0).says(65.0)
    '65 °C'
    """

    name: str
    note: str
    before: float
    after: float
    most: float
    unit: str = ""
    decimals: int = 1

    def __post_init__(self):
        require(self.most, f"the whole bar of {self.name}", "", above=0)

    def says(self, value):
        """Return a value as it is printed."""
        return f"{value + 0.0:.{self.decimals}f} {self.unit}".strip() if math.isfinite(value) else "not defined"

    def drawn(self, top, words):
        """Draw both bars, the upper edge of the first at a height of the page [px]."""
        return (
            svg.text(NAMES, top + 18, self.name, text_anchor="end")
            + svg.text(NAMES, top + 36, self.note, size=READING, fill=palette.QUIET, text_anchor="end")
            + self._bar(top, self.before, words[0], fill=palette.STRIP)
            + self._bar(top + 22, self.after, words[1], fill=palette.INK)
        )

    def _bar(self, y, value, word, fill):
        wide = (_END - BEGIN) * min(max(value, 0.0), self.most) / self.most if math.isfinite(value) else 0.0
        said = f"{word} {self.says(value)}"
        return svg.tag("rect", x=BEGIN, y=y, width=max(wide, 1.5), height=18, fill=fill, stroke=palette.INK) + svg.text(
            BEGIN + max(wide, 1.5) + 8, y + 14, said, size=READING
        )


def before_after(pairs, *, title, words, said=("before", "now"), notice=""):
    """Draw quantities before and after something was done.

    Parameters
    ----------
    pairs : sequence of Pair
        One to four.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    said : tuple of str, optional
        The two words for before and after.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An inline SVG, 640 px wide, its words, and a row for each quantity.

    Raises
    ------
    OutOfRange
        If there are no pairs or more than four.

    Examples
    --------
    >>> picture = before_after([Pair("top", "", 75.0, 65.0, 90.0, "°C", 0)], title="Mixed", words="It is cooler.")
    >>> picture.rows[1]
    ('top', '75 °C', '65 °C')
    """
    require(len(pairs), "number of pairs", "", at_least=1, at_most=4)
    meaning = sentence(words, notice)
    drawn = [pair.drawn(72 + number * _ROW, said) for number, pair in enumerate(pairs)]
    markup = svg.frame((WIDE, 72 + len(pairs) * _ROW), title, meaning, *drawn, notice=notice)
    return Picture(markup, meaning, LateRows(lambda: _rows(pairs, said)))


def _rows(pairs, said):
    yield ("what", *(lettering.clean(word) for word in said))
    for pair in pairs:
        yield (pair.name, pair.says(pair.before), pair.says(pair.after))
