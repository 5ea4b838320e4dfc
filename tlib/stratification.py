"""Hot water stays on top: how layers order themselves, and how well a store keeps them apart.

Layers are counted from the bottom (place 0) to the top, and all hold the same mass unless masses are given. They
stand on the last axis of an array, so a whole day of profiles, (time, layer), is measured in one call.
"""

from tlib.compiled import kernel

__all__ = ["merge_inversions"]

_INVERTED = 1e-12
"""How much warmer [K] the lower of two layers must be before anything is merged: rounding is no inversion."""


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
