"""The log burner's water side: its jacket, its lining, and the loading valve that keeps its return hot."""

import math
from functools import lru_cache
from typing import NamedTuple

from tlib.compiled import kernel, records
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.hydraulics import bare_valve_opening, copper_tube

__all__ = ["Burner", "burner_of", "rest_element", "settle_burner", "step_burner", "warm_lining"]

STEEL_HEAT = 470.0
"""Specific heat of the burner's body [J/(kg K)]; handbook value for steel and iron, from memory."""
BRICK_HEAT = 840.0
"""Specific heat of fire brick [J/(kg K)]; handbook value, from memory."""
LONGEST = 20.0
"""Longest piece into which a step is cut while the pump runs, or the burner is hot [s]."""
HOT = 80.0
"""From here on the thermal valve may move within a step [°C]."""
NEVER = 1e6
"""A setting that no temperature reaches [°C]."""
TAKES_UP = 0.5
"""How near the mains water comes to the burner's temperature in the thermal valve's coil [-]. Common practice."""
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
    mains: float
    """Temperature of the water that cools it through the thermal valve [°C]."""
    quench_flow: float
    """Of that water while the valve is open [kg/s]; 0 without one here."""
    quench_opens: float
    """Thermal valve: opens at or above this temperature of the burner [°C]."""
    quench_closes: float
    """And closes at or below this [°C]."""
    quenching: int = 0
    """Whether the thermal valve feels the burner too hot."""
    quench_least: float = 0.0
    """Share of its flow that passes while it is shut [-]; a sound valve passes none."""
    quench_most: float = 1.0
    """Share of its flow that passes while it is open [-]; none if it has seized or the mains are off."""
    leak: float = 0.0
    """What the heat leak carries off for each kelvin above the room [W/K]."""
    shed: float = 0.0
    """Heat from its case to the room in the last step [J]."""
    leaked: float = 0.0
    """Through the heat leak [J]."""
    quenched: float = 0.0
    """To the mains water through the thermal valve [J]."""
    tundish: float = 0.0
    """Water that ran to the tundish [kg]."""
    planned: float = 0.0
    """Heat that it meant for the store in the last step [J]."""


def burner_of(burner, temperature, room, valve=None, mains=10.0):
    """Return a burner for the kernels.

    Parameters
    ----------
    burner : tlib.installation.Burner
        As read from a file.
    temperature, room : float
        Of its water and body at the start, and of its room [°C].
    valve : tlib.installation.ThermalValve, optional
        One whose coil lies in the burner.
    mains : float, optional
        Temperature of the mains water [°C].

    Returns
    -------
    recarray of Burner
        One row. The body is counted at the temperature of the water; the fixed bypass takes the share of the flow
        that equal pressure drop gives it, as the bore to the power 2.5.
    """
    water = burner.water * 1000.0 * SPECIFIC_HEAT
    bypass = _share(burner.bypass, burner.primaries.tube) if burner.bypass else 0.0
    quench, opens, closes = (valve.flow, valve.opens, valve.closes) if valve else (0.0, NEVER, NEVER - 1.0)
    bricks, release = (burner.lining.mass * BRICK_HEAT, burner.lining.release) if burner.lining else (0.0, 0.0)
    return records(Burner, [Burner(
        capacity=water + burner.body * STEEL_HEAT, pump_flow=burner.pump.flow,
        opens=burner.loading_valve.opens, band=burner.loading_valve.band, lag=burner.loading_valve.lag, bypass=bypass,
        share_to_water=burner.share_to_water, standing=burner.standing, lining_capacity=bricks,
        lining_release=release, temperature=temperature, element=room, lining=room, back=temperature,
        mains=mains, quench_flow=quench, quench_opens=opens, quench_closes=closes,
    )])  # fmt: skip


@lru_cache
def _share(narrow, wide):
    """Return the share of the flow that a narrow tube takes beside a wide one at the same pressure drop [-]."""
    narrow, wide = (copper_tube(name).bore ** 2.5 for name in (narrow, wide))
    return narrow / (narrow + wide)


@kernel
def step_burner(burner, loop, power, pump_share, valve, cold, room, step):
    """Plan a step of a burner: set its loop's flow and inlet, and book what leaves it by other ways.

    The charge pump drives its flow through the burner. The loading valve mixes store water into its return as its wax
    element warms, and the element follows the mixture with a lag; the fixed bypass never shuts. The thermal valve
    feels the burner and needs no power. Each piece of the step is exact in the jacket and in the element, so that
    neither can ring by itself.

    Parameters
    ----------
    burner : record of Burner
        Brought to the end of the step.
    loop : record of Loop
        Its flow and inlet temperature are set.
    power : float
        From the fire to the water [W].
    pump_share : float
        Share of the charge pump's flow that runs [-]; 0 while it rests.
    valve : float
        Where the loading valve is stuck, 0 shut to the store and 1 open; below 0 it is free.
    cold, room, step : float
        Store water on offer, the room [°C], and the step [s].
    """
    pieces = max(math.ceil(step / LONGEST), 1) if pump_share > 0.0 or burner.temperature > HOT else 1
    part = step / pieces
    flow = pump_share * burner.pump_flow
    opened, heat, back = 0.0, 0.0, 0.0
    burner.shed, burner.leaked, burner.quenched, burner.tundish = 0.0, 0.0, 0.0, 0.0
    for _ in range(pieces):
        opening = 0.0
        if flow > 0.0:
            opening = _follow(burner, burner.temperature, cold, part)
            opening = opening if valve < 0.0 else (1.0 - burner.bypass) * valve
        rate = opening * flow * SPECIFIC_HEAT
        drained = _quench(burner)
        quench = TAKES_UP * drained * SPECIFIC_HEAT
        to_room = burner.standing + burner.leak
        lost = to_room + rate + quench
        settled = (to_room * room + rate * cold + quench * burner.mains + power) / lost
        x = lost * part / burner.capacity
        mean = settled + (burner.temperature - settled) * -math.expm1(-x) / x
        carried, given = rate * (mean - cold) * part, to_room * (mean - room) * part
        quenched = quench * (mean - burner.mains) * part
        burner.temperature += (power * part - carried - given - quenched) / burner.capacity
        heat += carried
        burner.shed += given * burner.standing / to_room
        burner.leaked += given * burner.leak / to_room
        burner.quenched += quenched
        burner.tundish += drained * part
        opened += opening / pieces
        back += (opening * cold + (1.0 - opening) * mean) / pieces
    burner.planned, burner.back = heat, back
    loop.flow = opened * flow
    loop.inlet = cold + heat / (loop.flow * SPECIFIC_HEAT * step) if loop.flow > 0.0 else cold


@kernel
def _quench(burner):
    """Let the thermal valve feel the burner; return the mains water that it passes [kg/s]."""
    if burner.temperature >= burner.quench_opens:
        burner.quenching = 1
    elif burner.temperature <= burner.quench_closes:
        burner.quenching = 0
    return burner.quench_flow * (burner.quench_most if burner.quenching else burner.quench_least)


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
