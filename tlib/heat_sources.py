"""What puts heat into the store: for now the log burner with its loading valve."""

import math
from typing import NamedTuple

import numpy as np

from tlib.combustion import bare_burnt_share, net_calorific_value, time_scale
from tlib.compiled import kernel
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.validation import require

__all__ = ["Burner", "Fire", "burner_of", "fire_of", "heat_jacket", "released", "store_flow"]

BURN_SHAPE = 1.8
"""Shape of the burn curve [-]: slow to catch, then strong, then embers. Common practice, no source."""

STEEL_HEAT = 470.0
"""Specific heat of the burner's body [J/(kg K)]; handbook value for steel and iron, from memory."""


class Burner(NamedTuple):
    """A burner's water side as the kernels need it."""

    capacity: float
    """Of its water and body [J/K]."""
    pump_flow: float
    """Through the burner while the charge pump runs [kg/s]."""
    valve_opens: float
    """The loading valve holds the return at this temperature while it can [°C]."""
    efficiency: float
    share_to_water: float
    standing: float
    """From its case and flue to the room, fire or no fire [W/K]."""


class Fire(NamedTuple):
    """Batches of logs, each with its own clock."""

    lit: np.ndarray
    """Times [s], (batch,)."""
    heat: np.ndarray
    """Net calorific value of each batch [J], (batch,)."""
    time_scale: np.ndarray
    """Of each burn [s], (batch,)."""
    shape: float


def burner_of(burner):
    """Return a burner's numbers for the kernels.

    Parameters
    ----------
    burner : tlib.installation.Burner
        As read from a file.

    Returns
    -------
    Burner
        With the body counted at the temperature of the water.
    """
    water = burner.water * 1000.0 * SPECIFIC_HEAT
    return Burner(
        capacity=water + burner.body * STEEL_HEAT,
        pump_flow=burner.pump.flow,
        valve_opens=burner.loading_valve.opens,
        efficiency=burner.efficiency,
        share_to_water=burner.share_to_water,
        standing=burner.standing,
    )


def fire_of(firing, burn_time):
    """Return batches of logs for the kernels.

    Parameters
    ----------
    firing : sequence of (time [s], kilos, moisture)
        Moisture on the wet basis [-].
    burn_time : float
        In which 95 % of a batch is burnt [s].

    Returns
    -------
    Fire
        One entry a batch.
    """
    kilos = require([batch[1] for batch in firing], "logs", "kg", at_least=0, at_most=200)
    moisture = [batch[2] for batch in firing]
    scale = float(time_scale(burn_time, BURN_SHAPE))
    return Fire(
        lit=np.array([float(batch[0]) for batch in firing]),
        heat=np.asarray(kilos * net_calorific_value(moisture) if len(firing) else [], dtype=float),
        time_scale=np.full(len(firing), scale),
        shape=BURN_SHAPE,
    )


@kernel
def released(fire, time):
    """Return the heat that all batches have given by a time [J]; it never exceeds what they hold."""
    total = 0.0
    for i in range(fire.lit.size):
        age = time - fire.lit[i]
        if age > 0.0:
            total += fire.heat[i] * bare_burnt_share(age, fire.time_scale[i], fire.shape)
    return total


@kernel
def heat_jacket(temperature, power, pumping, cold, room, burner, step):
    """Return how the burner meets the store and the room in one step.

    With the pump running and the ideal loading valve, the water entering the burner is held at the valve's
    opening temperature while store water is cooler than that; below it the valve keeps the store shut off.

    Parameters
    ----------
    temperature : float
        Of the burner's water and body at the start [°C].
    power : float
        From the fire to the water [W].
    pumping : int
        Whether the charge pump runs.
    cold, room : float
        Temperature of the store water on offer, and of the room [°C].
    burner : Burner
        Its numbers.
    step : float
        [s].

    Returns
    -------
    (float, float, float)
        Mean burner flow temperature while open to the store [°C], how long it was open [s], and the heat that
        went from the burner to the room [J].
    """
    capacity, standing = burner.capacity, burner.standing
    shut = _time_shut(temperature, power, pumping, room, burner, step)
    end, mean = _relax(temperature, standing, room + power / standing, capacity, shut)
    to_room = standing * (mean - room) * shut
    span = step - shut
    if span <= 0.0:
        return end, 0.0, to_room
    rate = burner.pump_flow * SPECIFIC_HEAT
    coolest = max(burner.valve_opens, cold)
    settled = (rate * coolest + standing * room + power) / (rate + standing)
    _, mean = _relax(end, rate + standing, settled, capacity, span)
    return mean, span, to_room + standing * (mean - room) * span


@kernel
def _time_shut(temperature, power, pumping, room, burner, step):
    """Return how long the burner stays shut off from the store: the pump rests, or the loading valve is closed."""
    if not pumping:
        return step
    if temperature >= burner.valve_opens:
        return 0.0
    settled = room + power / burner.standing
    if settled <= burner.valve_opens:
        return step
    wait = burner.capacity / burner.standing * math.log((settled - temperature) / (settled - burner.valve_opens))
    return min(wait, step)


@kernel
def _relax(temperature, rate, settled, capacity, span):
    """Return the end and the mean of a temperature that tends to `settled` at `rate` [W/K], exactly."""
    x = rate * span / capacity
    if x <= 0.0:
        return temperature, temperature
    gone = -math.expm1(-x)
    return temperature + (settled - temperature) * gone, settled + (temperature - settled) * gone / x


@kernel
def store_flow(mean, span, cold, burner, step):
    """Return the flow between burner and store, averaged over the whole step [kg/s].

    The rest of the pump's flow goes round again through the loading valve.
    """
    if span <= 0.0:
        return 0.0
    if cold >= burner.valve_opens:
        return burner.pump_flow * span / step
    if mean <= burner.valve_opens:
        return 0.0
    return burner.pump_flow * (mean - burner.valve_opens) / (mean - cold) * span / step
