"""What the taps ask."""

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from tlib.validation import require

__all__ = ["Taps", "taps_of"]


class Taps(NamedTuple):
    """What all taps ask together, in pieces of time during which it does not change."""

    begins: np.ndarray
    """[s], (piece,)."""
    ends: np.ndarray
    """[s], (piece,)."""
    flow: np.ndarray
    """Of blended water [kg/s], (piece,)."""
    wanted: np.ndarray
    """Its temperature [°C], (piece,)."""


def taps_of(draws, cold, blending):
    """Return draws as pieces of time during which the taps ask the same.

    Parameters
    ----------
    draws : sequence of (time [s], volume [m3], temperature [°C], flow [kg/s])
        Each a draw-off; they may overlap.
    cold, blending : float
        Of the mains, and the highest that the blending valve lets through [°C].

    Returns
    -------
    Taps
        Flows of overlapping draws add up; their temperatures mix.
    """
    for _, volume, wanted, flow in draws:
        require(volume, "the volume of a draw", "m3", at_least=0, at_most=5)
        require(flow, "the flow of a draw", "kg/s", above=0, at_most=2)
        require(wanted, "the temperature of a draw", "°C", above=cold, at_most=blending)
    spans = [(time, time + 1000.0 * volume / flow, flow, wanted) for time, volume, wanted, flow in draws if volume > 0]
    marks = sorted({mark for begin, end, _, _ in spans for mark in (begin, end)})
    pieces = []
    for begin, end in pairwise(marks):
        on = [(flow, wanted) for starts, stops, flow, wanted in spans if starts <= begin and stops >= end]
        flow = sum(flow for flow, _ in on)
        if flow > 0:
            pieces.append((begin, end, flow, sum(flow * wanted for flow, wanted in on) / flow))
    return Taps(*np.array(pieces, dtype=float).reshape(-1, 4).T.copy())
