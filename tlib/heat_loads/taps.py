"""What the taps ask."""

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
        Each a draw-off; they may overlap. Fields that follow are not read.
    cold, blending : float
        Of the mains, and the highest that the blending valve lets through [°C].

    Returns
    -------
    Taps
        Flows of overlapping draws add up; their temperatures mix.

    Raises
    ------
    OutOfRange
        If a draw has no volume from 0 to 5 m3, no flow up to 2 kg/s, or no temperature between cold and blending.
    """
    time, volume, wanted, flow = zip(*(draw[:4] for draw in draws), strict=True) if len(draws) else ((),) * 4
    time = require(time, "the time of a draw", "s")
    volume = require(volume, "the volume of a draw", "m3", at_least=0, at_most=5)
    flow = require(flow, "the flow of a draw", "kg/s", above=0, at_most=2)
    wanted = require(wanted, "the temperature of a draw", "°C", above=cold, at_most=blending)
    begins, ends, flow, wanted = np.array([time, time + 1000.0 * volume / flow, flow, wanted])[:, volume > 0]
    marks = np.unique([begins, ends])
    draw, piece = _running(np.searchsorted(marks, begins), np.searchsorted(marks, ends))
    together = np.bincount(piece, flow[draw], max(len(marks) - 1, 0))
    warmth = np.bincount(piece, (flow * wanted)[draw], len(together))
    on = together > 0
    return Taps(marks[:-1][on], marks[1:][on], together[on], warmth[on] / together[on])


def _running(first, behind):
    """Return every pair of a draw and a piece of time in which it runs, from the first piece and the one behind.

    Flows are then added up piece by piece: a sum that runs along, adding and taking away, would leave dust of rounding.
    """
    count = behind - first
    draw = np.repeat(np.arange(len(count)), count)
    return draw, np.arange(len(draw)) + (first - (np.cumsum(count) - count))[draw]
