"""Heat along a line: the scale that bars stand on, and dashed marks to hold a bar against."""

from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.lettering import JOULES_A_KWH, READING, kwh
from tlib.validation import require

__all__ = ["BEGIN", "END", "NAMES", "WIDE", "Mark", "Scale", "marked"]

WIDE = 640
NAMES, BEGIN, END = 196, 212, 524  # right edge of the names, and the ends of the scale [px]


@dataclass(frozen=True)
class Mark:
    """Another amount of heat to hold the bar against: a learner's guess, the same with dry wood.

    Parameters
    ----------
    name : str
        What it is: "your guess".
    heat : float
        How much [J]; 0 or more.
    guess : bool, optional
        Whether it is a learner's guess, which stands under an open diamond, as on a chart.
    """

    name: str
    heat: float
    guess: bool = False

    def __post_init__(self):
        require(self.heat, self.name, "J", at_least=0)


@dataclass(frozen=True)
class Scale:
    """Where an amount of heat stands along the picture."""

    low: float
    high: float

    @classmethod
    def over(cls, *heats):
        """Return a scale that reaches all of these, and one printed step at least."""
        return cls(min(heats), max(max(heats), min(heats) + JOULES_A_KWH / 10))

    def x(self, heat):
        """Return the place of an amount of heat [px]."""
        return BEGIN + (END - BEGIN) * (heat - self.low) / (self.high - self.low)


def marked(scale, marks, top):
    """Draw a dashed mark for each of these amounts across a bar that begins at `top` [px], its name and value below."""
    ranked = sorted(marks, key=lambda mark: mark.heat)
    says = [f"{mark.name}, {kwh(mark.heat)}" for mark in ranked]
    places = [scale.x(mark.heat) for mark in ranked]
    middles = lettering.spread(places, [lettering.width(each, READING) for each in says], 24, WIDE - 16, gap=16)
    return "".join(
        svg.line(x, top, x, top + 50, stroke=palette.PAPER, width=4.0)
        + svg.line(x, top, x, top + 50, width=1.6, line="dashed")
        + (
            svg.tag(
                "path",
                d=f"M{x:.1f} {top - 7:.1f}l6 6l-6 6l-6 -6z",
                fill=palette.PAPER,
                stroke=palette.INK,
                stroke_width=1.8,
            )
            if mark.guess
            else ""
        )
        + svg.line(x, top + 50, middle, top + 56, stroke=palette.QUIET, width=0.9)
        + svg.text(middle, top + 70, each, size=READING, text_anchor="middle")
        for mark, x, middle, each in zip(ranked, places, middles, says, strict=True)
    )
