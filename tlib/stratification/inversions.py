"""Warmer water under cooler does not stay there: it rises and mixes until the column is in order."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import OutOfRange, require
from tlib.water_properties import density

__all__ = ["merge_inversions", "merged"]

_INVERTED = 1e-12
"""How much warmer [K] the lower of two layers must be before anything is merged: rounding is no inversion."""
_HEAVIEST = 4.0
_CERTAIN = 10.0
"""From here up [°C] water is lighter than any liquid water below 4 °C, and so needs no density to be compared."""


@kernel
def merge_inversions(temperatures):
    """Mix, in place, every part of a column in which warmer water lies under cooler.

    The answer is the isotonic regression of the profile: temperature never falls on the way up, each mixed part is
    uniform at its mean, the heat is that of before, and a second call changes nothing. Only the layers that an
    inversion reaches are visited.

    Parameters
    ----------
    temperatures : ndarray
        Layers of equal mass from the bottom up, shape (layers,) [°C]; changed in place. All above 4 °C, where
        cooler water is heavier; `merged` has no such limit.

    References
    ----------
    [Busing 2022] the pool-adjacent-violators algorithm.

    Examples
    --------
    >>> import numpy as np
    >>> column = np.array([20.0, 60.0, 40.0, 80.0])
    >>> merge_inversions(column)
    >>> column.tolist()
    [20.0, 50.0, 50.0, 80.0]
    """
    settled = 0
    for layer in range(len(temperatures) - 1):
        if layer < settled or temperatures[layer] <= temperatures[layer + 1] + _INVERTED:
            continue
        lowest, highest, total = _pool(temperatures, layer)
        mean = total / (highest - lowest + 1)
        for place in range(lowest, highest + 1):
            temperatures[place] = mean
        settled = highest


@kernel
def _pool(temperatures, inverted):
    """Return the ends and the sum of the part that must mix round a layer that lies under a cooler one.

    It grows downward while what lies below is warmer than its mean, and upward while what lies above is cooler.
    """
    lowest, highest, last = inverted, inverted + 1, len(temperatures) - 1
    total, count, grows = temperatures[lowest] + temperatures[highest], 2.0, True
    while grows:
        grows = False
        while lowest > 0 and temperatures[lowest - 1] * count > total:
            lowest -= 1
            total += temperatures[lowest]
            count += 1.0
            grows = True
        while highest < last and temperatures[highest + 1] * count < total:
            highest += 1
            total += temperatures[highest]
            count += 1.0
            grows = True
    return lowest, highest, total


def merged(layers, mass=None):
    """Mix every part of a column in which lighter water lies under heavier.

    Parameters
    ----------
    layers : array_like
        Temperatures from the bottom up on the last axis, shape (..., layers) [°C]; 0 or more.
    mass : array_like, optional
        Mass of each layer [kg], above 0, in a shape that broadcasts to that of `layers`; equal if left out.

    Returns
    -------
    ndarray
        The column once it has come to rest, in the common shape [°C].

    Raises
    ------
    OutOfRange
        If a temperature or a mass is outside the range above, or `layers` is a single number.

    References
    ----------
    [Busing 2022] the pool-adjacent-violators algorithm.

    Notes
    -----
    Water is heaviest at 4 °C, so below that the colder layer floats; density decides there, temperature above.
    Mixing is complete: water that rises past others in a thin plume, mixing little, ends higher and warmer.

    Examples
    --------
    >>> merged([60.0, 20.0, 80.0], mass=[50.0, 150.0, 100.0]).tolist()
    [30.0, 30.0, 80.0]
    >>> merged([4.0, 2.0, 0.0]).tolist()
    [4.0, 2.0, 0.0]
    """
    layers = require(layers, "layers", "°C", at_least=0)
    if np.ndim(layers) == 0:
        raise OutOfRange(f"layers must be a list of temperatures; got the single number {layers:g}.")
    mass = require(1.0 if mass is None else mass, "mass", "kg", above=0)
    columns, masses = (np.array(array) for array in np.broadcast_arrays(layers, mass))
    for place in np.ndindex(columns.shape[:-1]):
        columns[place] = _settled(columns[place], masses[place])
    return columns


def _settled(column, masses):
    """Return one column in order: a stack of pools, each its heat, its mass and its number of layers."""
    pools = []
    for temperature, mass in zip(column.tolist(), masses.tolist(), strict=True):
        pool = (temperature * mass, mass, 1)
        while pools and _floats(pools[-1][0] / pools[-1][1], pool[0] / pool[1]):
            pool = tuple(map(sum, zip(pools.pop(), pool, strict=True)))
        pools.append(pool)
    return np.repeat([heat / mass for heat, mass, _ in pools], [count for *_, count in pools])


def _floats(lower, upper):
    """Say whether water at the lower place is lighter than that above it."""
    if min(lower, upper) >= _HEAVIEST or max(lower, upper) >= _CERTAIN:
        return lower > upper
    return density(lower) < density(upper)
