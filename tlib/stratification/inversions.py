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
def merge_inversions(temperatures, pool_sums, pool_sizes):
    """Mix, in place, every part of a column in which warmer water lies under cooler.

    The answer is the isotonic regression of the profile: temperature never falls on the way up, each mixed part is
    uniform at its mean, the heat is that of before, and a second call changes nothing. Only the layers that an
    inversion reaches are visited.

    Parameters
    ----------
    temperatures : ndarray
        Layers of equal mass from the bottom up, shape (layers,) [°C]; changed in place. All above 4 °C, where
        cooler water is heavier; `merged` has no such limit.
    pool_sums, pool_sizes : ndarray
        Work space of the same length, of floats and of integers; what they hold does not matter.

    Returns
    -------
    int
        The number of layers that were mixed; 0 if the column stood in order.

    References
    ----------
    [Busing 2022] the pool-adjacent-violators algorithm.

    Examples
    --------
    >>> import numpy as np
    >>> column = np.array([20.0, 60.0, 40.0, 80.0])
    >>> int(merge_inversions(column, np.empty(4), np.empty(4, dtype=np.int64)))
    2
    >>> column.tolist()
    [20.0, 50.0, 50.0, 80.0]
    """
    lowest, highest = _inverted_span(temperatures)
    if lowest > highest:
        return 0
    base, pools, layer = lowest, 0, lowest
    while layer < len(temperatures) and (
        layer <= highest + 1 or pool_sums[pools - 1] / pool_sizes[pools - 1] > temperatures[layer]
    ):
        pool_sums[pools], pool_sizes[pools] = temperatures[layer], 1
        base, pools = _settle(temperatures, pool_sums, pool_sizes, base, pools)
        layer += 1
    return _write_means(temperatures, pool_sums, pool_sizes, base, pools)


@kernel
def _inverted_span(temperatures):
    """Return the lowest and the highest layer that lies under a cooler one; lowest above highest if none does."""
    lowest, highest = 0, len(temperatures) - 2
    while lowest <= highest and temperatures[lowest] <= temperatures[lowest + 1] + _INVERTED:
        lowest += 1
    while highest > lowest and temperatures[highest] <= temperatures[highest + 1]:
        highest -= 1
    return lowest, highest


@kernel
def _settle(temperatures, sums, sizes, base, newest):
    """Merge the newest pool downward for as long as what lies below is warmer; return base and number of pools.

    Layers under `base` stand in order and are pools of one, taken up only when they are reached.
    """
    while True:
        mean = sums[newest] / sizes[newest]
        if newest > 0 and sums[newest - 1] / sizes[newest - 1] > mean:
            newest -= 1
            sums[newest] += sums[newest + 1]
            sizes[newest] += sizes[newest + 1]
        elif newest == 0 and base > 0 and temperatures[base - 1] > mean:
            base -= 1
            sums[0] += temperatures[base]
            sizes[0] += 1
        else:
            return base, newest + 1


@kernel
def _write_means(temperatures, sums, sizes, base, pools):
    """Give each layer the mean of its pool; return how many layers share one."""
    layer, mixed = base, 0
    for pool in range(pools):
        if sizes[pool] > 1:
            mean = sums[pool] / sizes[pool]
            mixed += sizes[pool]
            for place in range(layer, layer + sizes[pool]):
                temperatures[place] = mean
        layer += sizes[pool]
    return mixed


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
