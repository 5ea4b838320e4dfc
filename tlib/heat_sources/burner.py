"""The log burner's water side: its jacket, its lining, and the loading valve that keeps its return hot."""

import math
from typing import NamedTuple

from tlib.compiled import kernel, records
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.hydraulics import bare_valve_opening, copper_tube

__all__ = ["Burner", "burner_of", "rest_element", "settle_burner", "step_burner", "warm_lining"]

STEEL_HEAT = 470.0
"""Specific heat of the burner's body [J/(kg K)]; handbook value for steel and iron, from memory."""
BRICK_HEAT = 840.0
"""Specific heat of fire brick [J/(kg K)]; handbook value, from memory."""
LONGEST = 15.0
"""Longest piece into which a step is cut while the pump runs [s]."""
COOLING = 1200.0
"""Time in which the loading valve's element follows the room while its pump rests [s]. Common practice, no source."""


class Burner(NamedTuple):
    """A burner's water side, and how it stands."""

    capacity: float
    """Of its water and body [J/K]."""
    pump_flow: float
    """Through the burner while the charge pump runs [kg/s]."""
    opens: float
    """Loading valve: the element's temperature at which it begins to let store water in [°C]."""
    band: float
    """From there to fully open [K]."""
    lag: float
    """Time constant of its element [s]."""
    bypass: float
    """Share of the pump's flow that goes round by the fixed bypass, whatever the valve does [-]."""
    share_to_water: float
    standing: float
    """From its case and flue to the room, fire or no fire [W/K]."""
    lining_capacity: float
    """Of its bricks [J/K]; 0 without any."""
    lining_release: float
    """From its bricks to the room [W/K]."""
    temperature: float
    """Of its water and body [°C]."""
    element: float
    """Of the loading valve's element [°C]."""
    lining: float
    """Of its bricks [°C]."""
    back: float
    """Temperature of the water entering it, mean of the last step [°C]."""
    shed: float = 0.0
    """Heat from its case to the room in the last step [J]."""
    planned: float = 0.0
    """Heat that it meant for the store in the last step [J]."""


def burner_of(burner, temperature, room):
    """Return a burner for the kernels.

    Parameters
    ----------
    burner : tlib.installation.Burner
        As read from a file.
    temperature, room : float
        Of its water and body at the start, and of its room [°C].

    Returns
    -------
    recarray of Burner
        One row. The body is counted at the temperature of the water; the fixed bypass takes the share of the flow
        that equal pressure drop gives it, as the bore to the power 2.5.
    """
    water = burner.water * 1000.0 * SPECIFIC_HEAT
    bypass = 0.0
    if burner.bypass:
        narrow, wide = (copper_tube(name).bore ** 2.5 for name in (burner.bypass, burner.primaries.tube))
        bypass = narrow / (narrow + wide)
    bricks, release = (burner.lining.mass * BRICK_HEAT, burner.lining.release) if burner.lining else (0.0, 0.0)
    return records(Burner, [Burner(
        capacity=water + burner.body * STEEL_HEAT, pump_flow=burner.pump.flow,
        opens=burner.loading_valve.opens, band=burner.loading_valve.band, lag=burner.loading_valve.lag, bypass=bypass,
        share_to_water=burner.share_to_water, standing=burner.standing, lining_capacity=bricks,
        lining_release=release, temperature=temperature, element=room, lining=room, back=temperature,
    )])  # fmt: skip


@kernel
def step_burner(burner, loop, power, pumping, cold, room, step):
    """Plan a step of a burner: set its loop's flow and inlet, and what it sheds to the room.

    The charge pump drives a fixed flow through the burner. The loading valve mixes store water into its return as
    its wax element warms, and the element follows the mixture with a lag; the fixed bypass never shuts. Each piece
    of the step is exact in the jacket and in the element, so that neither can ring by itself.

    Parameters
    ----------
    burner : record of Burner
        Brought to the end of the step.
    loop : record of Loop
        Its flow and inlet temperature are set.
    power : float
        From the fire to the water [W].
    pumping : int
        Whether the charge pump runs.
    cold, room, step : float
        Store water on offer, the room [°C], and the step [s].
    """
    pieces = max(math.ceil(step / LONGEST), 1) if pumping else 1
    part = step / pieces
    opened, heat, shed, back = 0.0, 0.0, 0.0, 0.0
    for _ in range(pieces):
        opening = _follow(burner, burner.temperature, cold, part) if pumping else 0.0
        rate = opening * burner.pump_flow * SPECIFIC_HEAT
        lost = rate + burner.standing
        settled = (rate * cold + burner.standing * room + power) / lost
        x = lost * part / burner.capacity
        mean = settled + (burner.temperature - settled) * -math.expm1(-x) / x
        carried, given = rate * (mean - cold) * part, burner.standing * (mean - room) * part
        burner.temperature += (power * part - carried - given) / burner.capacity
        heat += carried
        shed += given
        opened += opening / pieces
        back += (opening * cold + (1.0 - opening) * mean) / pieces
    burner.shed, burner.planned, burner.back = shed, heat, back
    loop.flow = opened * burner.pump_flow
    loop.inlet = cold + heat / (loop.flow * SPECIFIC_HEAT * step) if loop.flow > 0.0 else cold


@kernel
def _follow(burner, hot, cold, part):
    """Let the valve's element follow the mixture it stands in; return the mean share of flow that is store water.

    Within its band the valve answers its own mixture: the element then tends to a balance faster than its lag.
    """
    most = 1.0 - burner.bypass
    lift = most * (hot - cold)
    balance, speed = hot, 1.0
    if hot > burner.opens and lift > 0.0:
        balance = (hot + lift * burner.opens / burner.band) / (1.0 + lift / burner.band)
        speed = 1.0 + lift / burner.band
        if balance >= burner.opens + burner.band:
            balance, speed = hot - lift, 1.0
    left = part
    if burner.element < burner.opens < hot:  # shut as yet: it stands in the burner's own water
        left = max(part - burner.lag * math.log((hot - burner.element) / (hot - burner.opens)), 0.0)
        burner.element = hot + (burner.element - hot) * math.exp((left - part) / burner.lag)
    was = burner.element
    burner.element = balance + (was - balance) * math.exp(-speed * left / burner.lag)
    mean = 0.5 * (was + burner.element)
    return most * bare_valve_opening(mean, burner.opens, burner.band) * left / part


@kernel
def rest_element(burner, room, step):
    """Let the loading valve's element cool towards the room, as its pump rests."""
    burner.element += (room - burner.element) * -math.expm1(-step / COOLING)


@kernel
def settle_burner(burner, loop):
    """Set right the jacket by what the store in fact took, layer by layer, against what was planned."""
    burner.temperature -= (loop.heat - burner.planned) / burner.capacity


@kernel
def warm_lining(burner, heat, room, step):
    """Pass the room's share of a fire through the lining; return what reaches the room in the step [J]."""
    if burner.lining_capacity <= 0.0:
        return heat
    settled = room + heat / (step * burner.lining_release)
    gone = -math.expm1(-burner.lining_release * step / burner.lining_capacity)
    rise = (settled - burner.lining) * gone
    burner.lining += rise
    return heat - rise * burner.lining_capacity
