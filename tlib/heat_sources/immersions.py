"""Immersion heaters on surplus PV: who gets how much of it."""

from typing import NamedTuple

import numpy as np

from tlib.compiled import kernel, records
from tlib.stratification.column import spanned_shares

__all__ = ["Element", "Sharing", "elements_of", "share_surplus", "sharing_of"]

LETS_GO = 0.8
"""Share of the starting surplus at which an element on on/off control lets go. Common practice, no source."""


class Element(NamedTuple):
    """An immersion heater, and how it stands."""

    power: float
    """[W]."""
    is_high: int
    """Whether it is the upper one."""
    calls: int = 0
    """Whether its thermostat calls and its cut-out is whole."""
    taking: int = 0
    """Whether it took power in the last step."""
    given: float = 0.0
    """Power in this step [W]."""


class Sharing(NamedTuple):
    """How surplus is shared out."""

    matched: int
    """Whether an element takes just what is left over; else all or nothing."""
    starts: float
    """Surplus at which an element may start [W]; 0 for its own power."""
    margin: float
    """Left to the grid [W]."""
    together: int
    """Whether both may run at once."""


def elements_of(immersions, layers):
    """Return immersion heaters for the kernels, the lower first.

    Parameters
    ----------
    immersions : tlib.installation.Immersions or None
        As read from a file.
    layers : int
        How many the store has.

    Returns
    -------
    (recarray of Element, ndarray (element, layer))
        And the part of each in each layer [-].
    """
    both = (immersions.low, immersions.high) if immersions else ()
    found = [one for one in both if one]
    shares = [spanned_shares(one.bottom, one.top, layers) for one in found]
    return records(Element, [Element(one.power, place) for place, one in enumerate(both) if one]), np.array(
        shares
    ).reshape(len(found), layers)


def sharing_of(immersions):
    """Return how surplus is shared, as a table of one row.

    Parameters
    ----------
    immersions : tlib.installation.Immersions or None
        As read from a file.
    """
    if immersions is None:
        return records(Sharing, [Sharing(0, 0.0, 0.0, 0)])
    matched = int(immersions.control == "matched")
    return records(Sharing, [Sharing(matched, immersions.starts or 0.0, immersions.margin, int(immersions.together))])


@kernel
def share_surplus(elements, powers, sharing, surplus, high_first):
    """Share surplus PV among the immersion heaters that call; return the power they take [W].

    Parameters
    ----------
    elements : recarray of Element
        The lower first; what each is given is set.
    powers : ndarray, (element,)
        Filled with the same [W].
    sharing : record of Sharing
        The rule.
    surplus : float
        What the house leaves over [W]; below 0 it buys.
    high_first : int
        Whether the upper one goes first.
    """
    left, total = surplus - sharing.margin, 0.0
    for turn in range(elements.size):
        place = elements.size - 1 - turn if high_first else turn
        element = elements[place]
        given = 0.0
        if element.calls and (sharing.together or total == 0.0):
            start = sharing.starts if sharing.starts > 0.0 else element.power
            if sharing.matched:
                given = min(max(left, 0.0), element.power) if left >= sharing.starts else 0.0
            elif left >= start or (element.taking and left >= LETS_GO * start):
                given = element.power
        element.given, element.taking, powers[place] = given, 1 if given > 0.0 else 0, given
        left -= given
        total += given
    return total
