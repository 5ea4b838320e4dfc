"""What a chart is made of: lines, events, a band, a guess, and the upright axis."""

from dataclasses import dataclass

import numpy as np

from tlib.figures import palette
from tlib.validation import OutOfRange

__all__ = ["Axis", "Band", "Event", "Guess", "Line"]


@dataclass(frozen=True)
class Line:
    """One line of a chart.

    Parameters
    ----------
    name : str
        What stands at its end.
    values : sequence of float
        Its numbers, in the unit of the chart; not a number where it is not defined.
    kind : str, optional
        A level or a flow of the palette; a line without one takes its name if that is one of them, else the
        next level in order.
    """

    name: str
    values: tuple
    kind: str = ""

    def stroke(self, place):
        """Return how it is drawn when it is number `place` on its chart."""
        if self.kind:
            return palette.stroke(self.kind)
        known = palette.LEVELS | palette.FLOWS
        return known.get(self.name) or list(palette.LEVELS.values())[place % len(palette.LEVELS)]


@dataclass(frozen=True)
class Event:
    """Something that lasts for a while, drawn as a short bar on the axis with its word.

    Parameters
    ----------
    word : str
        What happens: "fire lit". Events of one word share a row, and the word is written once.
    begins, ends : float
        Time since the start [s].
    kind : str, optional
        One of the six flows, for its colour.
    """

    word: str
    begins: float
    ends: float
    kind: str = "log burner"

    def __post_init__(self):
        palette.flow(self.kind)
        if not self.begins <= self.ends:
            raise OutOfRange(f"event must begin before it ends; got {self.begins:g} s and {self.ends:g} s.")


@dataclass(frozen=True)
class Band:
    """A pale strip between two values, such as the working band.

    Parameters
    ----------
    low, high : float
        Its edges, in the unit of the chart.
    word : str, optional
        What it is called.
    """

    low: float
    high: float
    word: str = "working band"

    def __post_init__(self):
        if not self.low < self.high:
            raise OutOfRange(f"band must have its low edge below its high one; got {self.low:g} and {self.high:g}.")


@dataclass(frozen=True)
class Guess:
    """What a learner predicted, held against one line.

    Parameters
    ----------
    line : str
        Name of the line it was about.
    at : float
        Time since the start [s], or the place along the chart.
    value : float
        The guess, in the unit of the chart.
    word : str, optional
        What it is called.
    """

    line: str
    at: float
    value: float
    word: str = "your guess"


@dataclass(frozen=True)
class Axis:
    """The upright axis: what it must reach, so that a page does not jump, and how its numbers are written.

    Parameters
    ----------
    low, high : float, optional
        Ends that the axis reaches in any case; it reaches further where the numbers do.
    unit : str, optional
        How the unit is written.
    places : int, optional
        Decimals of a printed value.
    """

    low: float = 20.0
    high: float = 90.0
    unit: str = "°C"
    places: int = 0

    def __post_init__(self):
        if not self.low < self.high:
            raise OutOfRange(f"axis must have its low end below its high one; got {self.low:g} and {self.high:g}.")

    def says(self, value):
        """Return a value as the chart prints it."""
        if not np.isfinite(value):
            return "not defined"
        return f"{self.rounded(value):,.{self.places}f} {self.unit}".replace("-", "−").strip()

    def rounded(self, value):
        """Return a value as printed, as a number."""
        return round(float(value), self.places) + 0.0
