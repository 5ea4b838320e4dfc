"""Radiators on the heating circuit."""

import math
from typing import NamedTuple

from tlib.compiled import kernel
from tlib.heat_transfer import log_mean_excess
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.heat_transfer.radiators import RATED_EXCESS, output, return_temperature

__all__ = ["Radiators", "radiator_loop", "radiators_of"]

EXPONENT = 1.3
"""Radiator exponent [-], EN 442."""
PASSES = 6


class Radiators(NamedTuple):
    """Radiators as the kernels need them."""

    rated: float
    """Output at 50 K logarithmic mean excess [W]."""
    exponent: float
    most_flow: float
    """With every valve open [kg/s]."""


def radiators_of(radiators):
    """Return a heating circuit's radiators for the kernels.

    Parameters
    ----------
    radiators : tlib.installation.Radiators
        Rated output at their own flow, return and room temperatures.

    Returns
    -------
    Radiators
        With the flow that the rating implies as the most.
    """
    excess = float(log_mean_excess(radiators.flow, radiators.back, radiators.room))
    return Radiators(
        rated=radiators.output * (RATED_EXCESS / excess) ** EXPONENT,
        exponent=EXPONENT,
        most_flow=radiators.output / (SPECIFIC_HEAT * (radiators.flow - radiators.back)),
    )


@kernel
def radiator_loop(supply, demand, room, radiators):
    """Return the flow [kg/s] and the return temperature [°C] at which radiators give what is asked, or all they can.

    Thermostatic valves throttle the flow until the radiators give the demand; a cooler store needs more flow.

    Parameters
    ----------
    supply : float
        Temperature of the water sent out [°C].
    demand, room : float
        Heat wanted [W], and the temperature of the rooms [°C].
    radiators : Radiators
        Their numbers.

    Returns
    -------
    (float, float)
        Mass flow and return temperature; no flow if the water is no warmer than the room.
    """
    excess = supply - room
    if excess <= 0.0 or demand <= 0.0:
        return 0.0, supply
    if output(radiators.rated, excess, radiators.exponent) > demand:
        mean = RATED_EXCESS * (demand / radiators.rated) ** (1.0 / radiators.exponent)
        ratio = _ratio_for_mean(mean / excess)
        flow = demand / (SPECIFIC_HEAT * max(excess * (1.0 - ratio), 1e-9))
        if flow <= radiators.most_flow:
            return flow, room + excess * ratio
    rate = radiators.most_flow * SPECIFIC_HEAT
    back = return_temperature(radiators.rated, supply, room, rate, radiators.exponent)
    return radiators.most_flow, back


@kernel
def _ratio_for_mean(mean):
    """Return the ratio whose logarithmic mean with 1 is as given, from 0 to 1.

    With ``u = -ln(ratio)`` the mean is ``(1 - exp(-u)) / u``. The start lies beyond the root, where Newton's passes
    come down on it from one side.
    """
    if mean <= 0.0:
        return 0.0
    u = min(1.0, 2.0 * max(1.0 - mean, 0.0)) / mean
    for _ in range(PASSES):
        left = math.exp(-u)
        slope = left - mean
        if slope >= 0.0:
            break
        u = max(u - (1.0 - left - mean * u) / slope, 0.0)
    return math.exp(-u)
