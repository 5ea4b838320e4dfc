"""The solar loop: a collector with some heat of its own, a pump, and a coil low in the store."""

import math
from functools import lru_cache
from typing import NamedTuple

from tlib.compiled import kernel, records
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT, march_coil, outlet_line
from tlib.hydraulics import bore_area, copper_tube
from tlib.water_properties import density, expansion_coefficient, specific_heat

__all__ = ["Solar", "gravity_rate", "solar_of", "step_solar"]

GRAVITY = 9.80665
WARM = 50.0
"""Temperature at which the solar fluid's properties are taken [°C]."""
FRICTION = 0.04
"""Friction factor of the slow flow that gravity drives [-]. Common practice, no source."""
AT_REST = 0.01
"""A dark collector so near the air's temperature does nothing [K]."""
EACH_FITTING = 1.0
"""Resistance coefficient of a fitting [-]. Common practice, no source."""


class Solar(NamedTuple):
    """A solar loop, and how it stands."""

    area: float
    """[m2]."""
    eta0: float
    """[-]."""
    a1: float
    """[W/(m2 K)]."""
    a2: float
    """[W/(m2 K2)]."""
    capacity: float
    """Of the collector and the fluid in it [J/K]."""
    rate: float
    """Capacity rate of the fluid while the pump runs [W/K]."""
    draught: float
    """Capacity rate that gravity drives, for a difference of one kelvin [W/K]."""
    non_return: int
    """Whether a valve stops the fluid from running backwards."""
    temperature: float
    """Mean of the fluid in the collector [°C]."""
    outlet: float
    """Of the fluid where it leaves the collector, at its sensor [°C]."""
    absorbed: float = 0.0
    """Light taken up in the last step [J]."""
    lost: float = 0.0
    """From the collector to the air in the last step [J]."""
    to_store: float = 0.0
    """Through the coil in the last step [J]; below 0 the store warms the collector."""
    flow: float = 0.0
    """In the last step, as water of the same capacity rate [kg/s]; below 0 it runs backwards."""


def solar_of(solar, air):
    """Return a solar loop for the kernels, its collector as warm as the air [°C].

    Parameters
    ----------
    solar : tlib.installation.Solar
        As read from a file. Its flow is counted in litres of solar fluid.
    air : float
        [°C].

    Returns
    -------
    recarray of Solar
        One row.
    """
    heavy, heat, _ = _fluid(solar.glycol)
    return records(Solar, [Solar(
        area=solar.area, eta0=solar.eta0, a1=solar.a1, a2=solar.a2, capacity=solar.capacity * solar.area,
        rate=solar.flow * heavy / 1000.0 * heat, draught=gravity_rate(solar) * heat,
        non_return=int(solar.non_return), temperature=air, outlet=air,
    )])  # fmt: skip


@lru_cache
def _fluid(glycol):
    """Return density [kg/m3], specific heat [J/(kg K)] and expansion [1/K] of the warm solar fluid."""
    return tuple(float(of(WARM, glycol=glycol)) for of in (density, specific_heat, expansion_coefficient))


def gravity_rate(solar):
    """Return the flow that gravity drives through the solar loop for a difference of one kelvin.

    Parameters
    ----------
    solar : tlib.installation.Solar
        Its rise, pipes and fluid.

    Returns
    -------
    float
        [kg/s]; it grows as the root of the difference. Push ``g density expansion rise difference`` set equal to
        drop ``resistance density speed**2 / 2``.
    """
    bore = copper_tube(solar.pipes.tube).bore
    resistance = EACH_FITTING * solar.pipes.fittings + FRICTION * solar.pipes.length / bore
    heavy, _, expansion = _fluid(solar.glycol)
    push = GRAVITY * expansion * solar.rise
    return heavy * float(bore_area(bore)) * math.sqrt(2.0 * push / resistance)


@kernel
def step_solar(solar, layers, conductance, bottom, top, sun, air, pumping, step, capacity):
    """Step the solar loop: warm the collector, and the store through the coil.

    The fluid enters the coil at its upper end. With the pump at rest, no valve against it and a store warmer than
    the collector, the fluid runs backwards by itself and carries the store's heat to the roof.

    Parameters
    ----------
    solar : record of Solar
        Brought to the end of the step.
    layers : ndarray, (layer,)
        [°C]; changed in place.
    conductance : ndarray, (layer,)
        Of the coil in each layer [W/K].
    bottom, top : int
        Layers of its two ends.
    sun, air : float
        On the collector [W/m2], already taken for its slant, and the outside air [°C].
    pumping : int
        Whether the pump runs.
    step, capacity : float
        [s], and of one layer [J/K].
    """
    solar.absorbed, solar.lost, solar.to_store, solar.flow = 0.0, 0.0, 0.0, 0.0
    rate, first, last = 0.0, top, bottom
    if pumping:
        rate = solar.rate
    elif not solar.non_return and solar.temperature < layers[top]:
        rate, first, last = solar.draught * math.sqrt(layers[top] - solar.temperature), bottom, top
    flow, base, kept, exchange, seen = rate / SPECIFIC_HEAT, 0.0, 1.0, 0.0, 0.0
    if rate > 0.0:
        base, kept = outlet_line(layers, conductance, first, last, flow, step, capacity)
        exchange, seen = 2.0 * rate * (1.0 - kept) / (1.0 + kept), base / (1.0 - kept)  # the store as the coil sees it
    elif sun <= 0.0 and abs(solar.temperature - air) < AT_REST:
        return
    loss = solar.area * (solar.a1 + solar.a2 * abs(solar.temperature - air))
    settled = (solar.area * solar.eta0 * sun + loss * air + exchange * seen) / (loss + exchange)
    x = (loss + exchange) * step / solar.capacity
    gone = -math.expm1(-x)
    mean = settled + (solar.temperature - settled) * gone / x
    leaving = (2.0 * mean - base) / (1.0 + kept)
    _, taken = march_coil(layers, conductance, first, last, flow, leaving, step, capacity)
    solar.absorbed, solar.lost = solar.area * solar.eta0 * sun * step, loss * (mean - air) * step
    solar.to_store, solar.flow = -taken, flow if pumping else -flow
    solar.temperature += (solar.absorbed - solar.lost - solar.to_store) / solar.capacity
    solar.outlet = leaving if pumping else solar.temperature
