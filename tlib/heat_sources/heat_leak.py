"""The heat leak: a radiator above the burner that its water reaches by gravity alone, with nothing to switch."""

from functools import lru_cache
from typing import NamedTuple

from tlib.compiled import kernel, records
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.heat_transfer.radiators import output
from tlib.hydraulics import copper_tube, gravity_flow_from

__all__ = ["HeatLeak", "heat_leak_of", "leak_conductance"]

EXPONENT = 1.3
"""Radiator exponent [-], EN 442."""
WORKS_AT = 85.0
"""Burner flow for which the circuit's resistance is found [°C]."""
PASSES = 4


class HeatLeak(NamedTuple):
    """A heat-leak radiator, and how it stands."""

    rated: float
    """Output at 50 K excess [W]."""
    drive: float
    """Third power of the flow that a watt drives [(kg/s)^3/W]: the loop's height against its resistance."""
    heat: float = 0.0
    """It gave last [W]."""


def heat_leak_of(leak):
    """Return a heat leak for the kernels.

    Parameters
    ----------
    leak : tlib.installation.HeatLeak or None
        As read from a file.

    Returns
    -------
    recarray of HeatLeak
        One row, or none. The resistance of the circuit is that at its rated output.
    """
    if leak is None:
        return records(HeatLeak, [])
    drive = _drive(leak.output, leak.rise, leak.tube, leak.length, leak.fittings)
    return records(HeatLeak, [HeatLeak(leak.output, drive)])


@lru_cache
def _drive(output, rise, tube, length, fittings):
    return float(gravity_flow_from(output, WORKS_AT, rise, copper_tube(tube).bore, length, fittings)) ** 3 / output


@kernel
def leak_conductance(leak, hot, room):
    """Return what a heat leak carries off for each kelvin between burner and room [W/K].

    The flow that gravity drives grows as the third root of the heat carried, and the radiator gives what EN 442's
    characteristic says at its mean temperature; the two are brought together in a few passes from the last step.

    Parameters
    ----------
    leak : record of HeatLeak
        Its heat is brought up to date.
    hot, room : float
        Of the burner's water and of the room [°C].
    """
    excess = hot - room
    if excess <= 1.0:
        leak.heat = 0.0
        return 0.0
    heat = leak.heat if leak.heat > 0.0 else 0.8 * output(leak.rated, excess, EXPONENT)
    for _ in range(PASSES):
        drop = heat / (SPECIFIC_HEAT * (leak.drive * heat) ** (1.0 / 3.0))
        heat = output(leak.rated, max(excess - 0.5 * drop, 0.05 * excess), EXPONENT)
    leak.heat = heat
    return heat / excess
