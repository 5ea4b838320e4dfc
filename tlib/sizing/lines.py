"""A step of a sum, with its rule in words and in numbers: what panels and papers print, so nothing is worked twice."""

from dataclasses import dataclass

from tlib import units

__all__ = ["Line", "heat_line"]


@dataclass(frozen=True)
class Line:
    """One step of a sum, with its working.

    Parameters
    ----------
    name : str
        What the step works out: "heat in the logs".
    rule : str
        The sum in words: "kilos × heat in one kilo".
    working : str
        The sum in numbers, in the units that are written: "8 × 4.09".
    value : float
        What it gives [`unit`].
    unit : str
        The SI unit of the value; a key of `tlib.units.SI_UNITS`.
    wanted : str
        The unit in which people write it, such as "kWh".
    figures : int, optional
        How many significant figures people write.

    Examples
    --------
    >>> print(Line("heat in the logs", "kilos × heat in one kilo", "8 × 4.09", 117.8e6, "J", "kWh").says)
    32.7 kWh
    """

    name: str
    rule: str
    working: str
    value: float
    unit: str
    wanted: str
    figures: int = 3

    @property
    def says(self):
        """The value as people write it."""
        return units.write(self.value, self.unit, self.wanted, figures=self.figures)


def heat_line(name, rule, working, value, figures=3):
    """Return a line that gives a heat in kWh; its parameters are those of `Line`, the value in [J]."""
    return Line(name, rule, working, float(value), "J", "kWh", figures)
