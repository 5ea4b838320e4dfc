"""The store that a hand-fired burner needs: the standard's formula, and never under a usual size."""

import numpy as np

from tlib.combustion import buffer_volume
from tlib.sizing.lines import Line
from tlib.validation import require

__all__ = ["SMALLEST_BUFFER", "buffer_is_enough", "buffer_working", "least_buffer"]

SMALLEST_BUFFER = 0.300
"""What a hand-fired boiler gets at least, whatever the formula says [m3]; common practice."""


def least_buffer(burn_time, rated, house, turn_down, smallest=SMALLEST_BUFFER):
    """Return the least store for a hand-fired burner: the standard's formula, and never under a usual size.

    Parameters
    ----------
    burn_time, rated, house, turn_down : array_like
        As in `tlib.combustion.buffer_volume` [s, W, W, W].
    smallest : array_like, optional
        The size that is kept to where the formula gives less [m3]; 0 or more.

    Returns
    -------
    float or ndarray
        Volume [m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers; the usual smallest size is common practice.

    Examples
    --------
    >>> print(f"{1000 * least_buffer(3 * 3600.0, 10e3, 6e3, 5e3):.0f} l, the formula alone gives 288 l")
    300 l, the formula alone gives 288 l
    """
    smallest = require(smallest, "smallest store", "m3", at_least=0)
    return np.maximum(buffer_volume(burn_time, rated, house, turn_down), smallest)


def buffer_is_enough(volume, burn_time, rated, house, turn_down):
    """Return whether a store is as big as a hand-fired burner needs.

    Parameters
    ----------
    volume : array_like
        Of the store [m3]; 0 or more.
    burn_time, rated, house, turn_down : array_like
        As in `tlib.combustion.buffer_volume` [s, W, W, W].

    Returns
    -------
    bool or ndarray of bool
        In the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    Notes
    -----
    Held against `least_buffer`. Local code and the burner's instructions may ask for more.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers.

    Examples
    --------
    >>> print(buffer_is_enough(0.300, 3 * 3600.0, 10e3, 6e3, 5e3), buffer_is_enough(0.300, 3 * 3600.0, 10e3, 6e3, 10e3))
    True False
    """
    return require(volume, "volume", "m3", at_least=0) >= least_buffer(burn_time, rated, house, turn_down)


def buffer_working(*, volume, burn_time, rated, house, turn_down):
    """Return the check of a store's size against the standard's formula, each line with its working.

    Parameters
    ----------
    volume, burn_time, rated, house, turn_down : float
        As in `buffer_is_enough` [m3, s, W, W, W].

    Returns
    -------
    tuple of Line
        What the house spares, the formula's volume, the least store, and the store beyond it.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers.

    Examples
    --------
    >>> lines = buffer_working(volume=0.300, burn_time=3 * 3600.0, rated=10e3, house=6e3, turn_down=5e3)
    >>> print(f"{lines[1].working} = {lines[1].says}")
    15 × 3 × 10 × (1 − 0.36) = 288 litre
    """
    volume = float(require(volume, "volume", "m3", at_least=0))
    formula = float(buffer_volume(burn_time, rated, house, turn_down))
    least = float(least_buffer(burn_time, rated, house, turn_down))
    spared, kilowatts = 0.3 * house / turn_down, rated / 1000
    return (
        Line("what the house spares", "0.3 × heat load of the house ÷ least output",
             f"0.3 × {house / 1000:g} ÷ {turn_down / 1000:g}", spared, "1", "", 2),
        Line("volume by the formula", "15 × hours × rated output × (1 − what the house spares)",
             f"15 × {burn_time / 3600:g} × {kilowatts:g} × (1 − {spared:.2f})", formula, "m3", "litre"),
        Line("least store", "the greater of the formula and 300 litres",
             f"the greater of {1000 * formula:.0f} and {1000 * SMALLEST_BUFFER:.0f}", least, "m3", "litre"),
        Line("the store beyond it", "volume of the store − least store",
             f"{1000 * volume:.0f} − {1000 * least:.0f}", volume - least, "m3", "litre"),
    )  # fmt: skip
