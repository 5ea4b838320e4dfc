"""The boiler: it fires for the store thermostat, holds its own flow temperature, and runs its pump on a while."""

import math
from typing import NamedTuple

from tlib.combustion import bare_boiler_efficiency
from tlib.compiled import kernel, records
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT

__all__ = ["Boiler", "boiler_of", "decide_firing", "settle_boiler", "step_boiler"]

STEEL_HEAT = 470.0
"""Specific heat of its body [J/(kg K)]; handbook value, from memory."""
CONDENSES = {"natural gas": (0.004, 55.0, 0.97), "bottled gas": (0.004, 53.0, 0.96), "heating oil": (0.003, 47.0, 0.95)}
"""What each kelvin of cooler return adds below the dew point [1/K], the dew point [°C], and where it ends, on the
gross calorific value. Teaching lines: common practice, no source."""
OWN_GAP = 5.0
"""Gap of the boiler's own thermostat above and below its flow temperature [K]. Common practice, no source."""
DROP = 15.0
"""Drop over the boiler at full output for which a pump is taken where none is written [K]. Common practice."""


class Boiler(NamedTuple):
    """A boiler, and how it stands."""

    capacity: float
    """Of its water and body [J/K]."""
    most: float
    """Greatest output to water [W]."""
    least: float
    """Least steady output [W]; below it the boiler goes on and off."""
    pump_flow: float
    """[kg/s]."""
    aim: float
    """Flow temperature that it holds [°C]."""
    standing: float
    """From its case to the room [W/K]."""
    dry: float
    """Efficiency without condensing [-]."""
    gain: float
    """[1/K]."""
    dew_point: float
    """[°C]."""
    greatest: float
    """[-]."""
    least_run: float
    """[s]."""
    least_rest: float
    """[s]."""
    overrun: float
    """Of its pump [s]."""
    temperature: float
    """Of its water [°C]."""
    firing: int = 0
    pumping: int = 0
    since: float = 1e9
    """Since it last lit or went out [s]."""
    fuel: float = 0.0
    """Burnt in the last step, on the gross calorific value [J]."""
    given: float = 0.0
    """To its water in the last step [J]."""
    shed: float = 0.0
    """To the room in the last step [J]."""
    planned: float = 0.0
    """Meant for the store in the last step [J]."""


def boiler_of(boiler, temperature):
    """Return a boiler for the kernels, at rest, its water at a temperature [°C].

    Parameters
    ----------
    boiler : tlib.installation.Boiler
        As read from a file.
    temperature : float
        [°C].

    Returns
    -------
    recarray of Boiler
        One row.
    """
    gain, dew_point, greatest = CONDENSES[boiler.fuel]
    return records(Boiler, [Boiler(
        capacity=boiler.water * 1000.0 * SPECIFIC_HEAT + boiler.body * STEEL_HEAT, most=boiler.output,
        least=boiler.least, pump_flow=boiler.pump or boiler.output / (SPECIFIC_HEAT * DROP), aim=boiler.flow,
        standing=boiler.standing, dry=boiler.efficiency, gain=gain, dew_point=dew_point, greatest=greatest,
        least_run=boiler.least_run, least_rest=boiler.least_rest, overrun=boiler.overrun, temperature=temperature,
    )])  # fmt: skip


@kernel
def decide_firing(boiler, demanded, limit_ok, step):
    """Decide whether the boiler fires and its pump runs in this step.

    It keeps its least run and its least rest, unless its own limit stands open; its pump runs while it is wanted and,
    by the overrun, until the heat left in it is carried away.

    Parameters
    ----------
    boiler : record of Boiler
        Its state is set.
    demanded, limit_ok : int
        Whether the controls want it, and whether its own limit is whole.
    step : float
        [s].
    """
    boiler.since += step
    if boiler.firing:
        done = not demanded or boiler.temperature >= boiler.aim + OWN_GAP
        if not limit_ok or (done and boiler.since >= boiler.least_run):
            boiler.firing, boiler.since = 0, 0.0
    elif demanded and limit_ok and boiler.since >= boiler.least_rest and boiler.temperature <= boiler.aim - OWN_GAP:
        boiler.firing, boiler.since = 1, 0.0
    boiler.pumping = 1 if demanded or boiler.firing or boiler.since < boiler.overrun else 0


@kernel
def step_boiler(boiler, loop, cold, room, step):
    """Plan a step of the boiler: set its loop's flow and inlet, its fuel and what it sheds.

    Parameters
    ----------
    boiler : record of Boiler
        Brought to the end of the step; it fires and pumps as `decide_firing` said.
    loop : record of Loop
        Its flow and inlet temperature are set.
    cold, room, step : float
        Store water on offer, the room [°C], and the step [s].
    """
    rate = boiler.pump_flow * SPECIFIC_HEAT if boiler.pumping else 0.0
    power = 0.0
    if boiler.firing:
        wanted = rate * (boiler.aim - cold) + boiler.standing * (boiler.aim - room)
        power = min(max(wanted, boiler.least), boiler.most)
    lost = rate + boiler.standing
    mean = boiler.temperature
    x = lost * step / boiler.capacity
    if x > 0.0:
        settled = (rate * cold + boiler.standing * room + power) / lost
        gone = -math.expm1(-x)
        mean = settled + (boiler.temperature - settled) * gone / x
        boiler.temperature += (settled - boiler.temperature) * gone
    else:
        boiler.temperature += power * step / boiler.capacity
    boiler.given, boiler.shed = power * step, boiler.standing * (mean - room) * step
    efficiency = bare_boiler_efficiency(cold, boiler.dry, boiler.gain, boiler.dew_point, boiler.greatest)
    boiler.fuel = boiler.given / efficiency
    boiler.planned = rate * (mean - cold) * step
    loop.flow, loop.inlet = rate / SPECIFIC_HEAT, mean


@kernel
def settle_boiler(boiler, loop):
    """Set right the boiler's water by what the store in fact took against what was planned."""
    boiler.temperature -= (loop.heat - boiler.planned) / boiler.capacity
