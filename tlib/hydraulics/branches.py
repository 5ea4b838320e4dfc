"""One pipe tees into several: how a flow divides, and joins again."""

import numpy as np

from tlib.compiled import kernel
from tlib.hydraulics.friction import bare_flow_at_drop, checked_pipe
from tlib.validation import OutOfRange, require
from tlib.water_properties import density, viscosity

__all__ = ["branch_flows"]

_SEARCH_STEPS = 200
_DROP_EXPONENT = 1.8  # only sets how fast the search closes in


@kernel
def bare_branch_flows(mass_flow, bores, lengths, fittings, density, viscosity, roughness, flows):
    """Fill `flows` with the flow of each branch, so that all use up the same pressure; return that pressure [Pa]."""
    drop = 100.0
    for _ in range(_SEARCH_STEPS):
        total = 0.0
        for i in range(flows.size):
            flows[i] = bare_flow_at_drop(drop, bores[i], lengths[i], fittings[i], density, viscosity, roughness)
            total += flows[i]
        ratio = mass_flow / total
        if abs(ratio - 1.0) < 1e-13:
            break
        drop *= ratio**_DROP_EXPONENT
    return drop


def branch_flows(mass_flow, bores, lengths, fittings=0.0, temperature=60.0, roughness=1.5e-6):
    """How the flow of a main divides among branches that start at one tee and end at another.

    Parameters
    ----------
    mass_flow : float
        Flow of the main [kg/s]; above 0, no more than 1000.
    bores, lengths, fittings : array_like
        Of each branch, as in `tlib.hydraulics.pressure_drop`; a list for those that differ, (branch,). The branch's
        side of both tees belongs to its fittings.
    temperature : float, optional
        Of the water [°C].
    roughness : float, optional
        Of the walls [m].

    Returns
    -------
    ndarray
        Flow of each branch [kg/s], (branch,); together the flow of the main.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the lists do not go together.

    Notes
    -----
    All branches use up the same pressure. A pump or a difference of height inside a branch is not part of this sum.

    References
    ----------
    [White 2011] section 6.10, pipes in parallel, example 6.18.

    Examples
    --------
    A 28 mm main tees into two 22 mm branches, one twice as long as the other.

    >>> first, second = branch_flows(0.30, bores=0.0202, lengths=[10.0, 20.0])
    >>> print(f"{first:.3f} + {second:.3f} = {first + second:.3f} kg/s")
    0.179 + 0.121 = 0.300 kg/s
    """
    mass_flow = require(mass_flow, "mass flow", "kg/s", above=0, at_most=1000)
    try:
        bores, lengths, fittings = np.broadcast_arrays(bores, lengths, fittings)
    except ValueError:
        raise OutOfRange("bores, lengths and fittings must have one entry for each branch.") from None
    if bores.ndim != 1 or np.ndim(mass_flow) or np.ndim(temperature) or np.ndim(roughness):
        raise OutOfRange("branches must be one list; mass flow, temperature and roughness one number for all of them.")
    bores, lengths, fittings, roughness = checked_pipe(bores, lengths, fittings, roughness)
    require(lengths / bores + fittings, "length over bore plus fittings", "(a plain number)", above=0)
    flows = np.empty(bores.size)
    water = float(density(temperature)), float(viscosity(temperature))
    bare_branch_flows(float(mass_flow), bores, lengths, fittings, *water, float(roughness), flows)
    return flows
