"""Copper tubes as EN 1057 names them, and the water they hold."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["Tube", "bore_area", "copper_tube", "tube_content"]


@dataclass(frozen=True)
class Tube:
    """A copper tube.

    Attributes
    ----------
    outside : float
        Outside diameter [m]: the one that names it.
    wall : float
        Thickness of the wall [m].
    """

    outside: float
    wall: float

    @property
    def bore(self):
        """Diameter the water runs in [m]."""
        return self.outside - 2.0 * self.wall

    @property
    def name(self):
        """The tube as EN 1057 designates it, such as ``28 x 0.9 mm``."""
        return f"{1000.0 * self.outside:g} x {1000.0 * self.wall:g} mm"


def copper_tube(name):
    """Return a copper tube by its name.

    Parameters
    ----------
    name : str
        Outside diameter, such as ``"28 mm"``, which takes the wall usual in Britain (half-hard, temper R250); or
        diameter and wall as EN 1057 designates a tube, such as ``"28 x 1.5 mm"``.

    Returns
    -------
    Tube
        With its outside diameter, wall and bore [m].

    Raises
    ------
    OutOfRange
        If the table has no such tube.

    References
    ----------
    [EN 1057] table of nominal sizes.

    Examples
    --------
    Water runs in the bore, not in the outside diameter.

    >>> print(f"{1000 * copper_tube('28 mm').bore:.1f} mm")
    26.2 mm
    >>> print(f"{1000 * copper_tube('28 x 1.5 mm').bore:.1f} mm")
    25.0 mm
    """
    wanted = str(name).replace("×", "x").removesuffix("mm").split("x")
    known = _known()
    spelt = " x ".join(part.strip() for part in wanted) + " mm"
    if spelt not in known:
        raise OutOfRange(f"copper tube must be one of {', '.join(known)}; got {name!r}.")
    return known[spelt]


@cache
def _known():
    """Return every tube of the table by its names."""
    known = {}
    for row in table("copper_tubes")["tube"]:
        tube = Tube(row["outside"], row["wall"])
        known[tube.name] = tube
        if row["usual"]:
            known[f"{1000.0 * tube.outside:g} mm"] = tube
    return known


def bore_area(bore):
    """Return the area the water runs through.

    Parameters
    ----------
    bore : array_like
        Inside diameter [m]; above 0, no more than 1.

    Returns
    -------
    float or ndarray
        Area [m2], in the shape of the input.

    Raises
    ------
    OutOfRange
        If the bore is outside the range above, or is not finite.

    References
    ----------
    [EN 1057] gives the diameters; the area of a circle needs no source.

    Examples
    --------
    >>> print(f"{1e6 * bore_area(0.0262):.0f} mm2")
    539 mm2
    """
    bore = require(bore, "bore", "m", above=0, at_most=1)
    return np.pi * bore**2 / 4.0


def tube_content(bore, length):
    """Return the water a tube holds.

    Parameters
    ----------
    bore : array_like
        Inside diameter [m]; above 0, no more than 1.
    length : array_like
        Length [m]; 0 or more.

    Returns
    -------
    float or ndarray
        Volume [m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 1057] gives the diameters; the volume of a cylinder needs no source.

    Examples
    --------
    >>> print(f"{1000 * tube_content(copper_tube('28 mm').bore, 12.0):.1f} l")
    6.5 l
    """
    return bore_area(bore) * require(length, "length", "m", at_least=0)
