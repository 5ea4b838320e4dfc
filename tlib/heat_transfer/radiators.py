"""Radiators: output at real temperatures, what comes back, and how they cool."""

import numpy as np

from tlib.compiled import elementwise, kernel
from tlib.heat_transfer.exchangers import log_mean
from tlib.validation import require

__all__ = [
    "arithmetic_excess",
    "log_mean_excess",
    "radiator_cool_down",
    "radiator_output",
    "radiator_return",
    "radiator_size",
]

RATED_EXCESS = 50.0
"""Excess at which radiators are rated [K]: 75/65/20."""
_PASSES = 2
"""Enough for far less than a billionth of a kelvin, whatever the radiator."""
_NOTHING = 1e-16
"""Part of its excess that the water must lose, or keep, for that to show in the digits of a temperature [-]."""


@kernel
def output(rated, excess, exponent):
    """Heat output of a radiator [W]; numbers are not checked."""
    return rated * (excess / RATED_EXCESS) ** exponent


@kernel
def return_temperature(rated, flow_temperature, room, capacity_rate, exponent):
    """Temperature of the water that leaves a radiator [°C], by Halley's method; numbers are not checked.

    The excess falls by exp(-units), as in an exchanger. In the logarithm of these units the balance of heat is all
    but a straight line (its slope goes from 1 to the exponent), so two passes do.
    """
    entry, more = flow_temperature - room, exponent - 1.0
    most, carried = output(rated, entry, exponent), capacity_rate * entry
    if most <= carried * _NOTHING:
        return flow_temperature
    if carried <= most * _NOTHING:
        return room
    size = most / carried
    goal = np.log(size)
    place = goal - more / exponent * np.log1p(0.5 * exponent * size)
    for _ in range(_PASSES):
        units = np.exp(place)
        lost = -np.expm1(-units)
        share = units * (1.0 - lost) / lost
        miss = exponent * place - more * np.log(lost) - goal
        slope = exponent - more * share
        bend = more * share * (units / lost - 1.0)
        place -= miss / (slope - 0.5 * miss * bend / slope)
    return room + entry * np.exp(-np.exp(place))


def radiator_output(rated, excess, exponent=1.3):
    """Return the heat that a radiator gives at an excess other than the one it is rated at.

    Parameters
    ----------
    rated : array_like
        Output at 50 K excess [W]; 0 or more.
    excess : array_like
        Mean water temperature above the room [K]; 0 to 100.
    exponent : array_like, optional
        From the radiator's test [-]; 1 to 1.5.

    Returns
    -------
    float or ndarray
        Output [W] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Taught sums use `arithmetic_excess`; the simulation uses `log_mean_excess`, which stays true when the water
    leaves much cooler than it came.

    References
    ----------
    [EN 442] characteristic equation.

    Examples
    --------
    >>> print(f"{radiator_output(2000.0, arithmetic_excess(60.0, 40.0, room=20.0)):.0f} W")
    1030 W
    """
    rated = require(rated, "rated output", "W", at_least=0)
    excess = require(excess, "excess temperature", "K", at_least=0, at_most=100)
    return output(rated, excess, _exponent(exponent))


def radiator_size(needed, excess, exponent=1.3):
    """Return the rated output to look for in a catalogue.

    Parameters
    ----------
    needed : array_like
        Heat that the room needs [W]; 0 or more.
    excess : array_like
        Mean water temperature above the room, as it will run [K]; above 0, up to 100.
    exponent : array_like, optional
        From the radiator's test [-]; 1 to 1.5.

    Returns
    -------
    float or ndarray
        Output at 50 K excess [W] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 442] characteristic equation, turned round.

    Examples
    --------
    >>> print(f"{radiator_size(1400.0, excess=30.0):.0f} W")
    2720 W
    """
    needed = require(needed, "heat needed", "W", at_least=0)
    excess = require(excess, "excess temperature", "K", above=0, at_most=100)
    return needed / output(1.0, excess, _exponent(exponent))


def arithmetic_excess(flow_temperature, return_temperature, room):
    """Return how far the middle of flow and return lies above the room.

    Parameters
    ----------
    flow_temperature, return_temperature : array_like
        Water into and out of the radiator [°C]; -40 to 200, the return not above the flow.
    room : array_like
        Room [°C]; not above the return.

    Returns
    -------
    float or ndarray
        Excess temperature [K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 442] standard regime 75/65/20: 50 K.

    Examples
    --------
    >>> print(f"{arithmetic_excess(75.0, 65.0, room=20.0):.1f} K")
    50.0 K
    """
    entry, leaving = _excesses(flow_temperature, return_temperature, room)
    return (entry + leaving) / 2.0


def log_mean_excess(flow_temperature, return_temperature, room):
    """Return the logarithmic mean of flow and return above the room.

    Parameters
    ----------
    flow_temperature, return_temperature : array_like
        Water into and out of the radiator [°C]; -40 to 200, the return not above the flow.
    room : array_like
        Room [°C]; not above the return.

    Returns
    -------
    float or ndarray
        Excess temperature [K] in the common shape of the inputs; 0 where the water leaves at room temperature.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Never above `arithmetic_excess`, and about 1 % below it where the return has kept 70 % of the flow's excess:
    there many designers change over from one to the other.

    References
    ----------
    [EN 442] logarithmic excess temperature.

    Examples
    --------
    >>> print(f"{log_mean_excess(75.0, 65.0, room=20.0):.2f} K")
    49.83 K
    """
    return log_mean(*_excesses(flow_temperature, return_temperature, room))


def radiator_return(rated, flow_temperature, room, capacity_rate, exponent=1.3):
    """Return the temperature at which the water leaves a radiator.

    Parameters
    ----------
    rated : array_like
        Output at 50 K excess [W]; 0 or more.
    flow_temperature, room : array_like
        Water into the radiator, and the room [°C]; -40 to 120, the flow above the room.
    capacity_rate : array_like
        Mass flow times specific heat [W/K]; above 0.
    exponent : array_like, optional
        From the radiator's test [-]; 1 to 1.5.

    Returns
    -------
    float or ndarray
        Return temperature [°C] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    What the water gives up equals the output at the logarithmic excess.

    References
    ----------
    [EN 442] characteristic equation with the logarithmic excess.

    Examples
    --------
    >>> print(f"{radiator_return(2000.0, 60.0, room=20.0, capacity_rate=50.0):.1f} °C")
    40.3 °C
    """
    rated = require(rated, "rated output", "W", at_least=0)
    flow_temperature = require(flow_temperature, "flow temperature", "°C", at_least=-40, at_most=120)
    room = require(room, "room temperature", "°C", at_least=-40, at_most=120)
    require(flow_temperature - room, "flow less room", "K", above=0)
    capacity_rate = require(capacity_rate, "capacity rate of the flow", "W/K", above=0)
    return elementwise(return_temperature)(rated, flow_temperature, room, capacity_rate, _exponent(exponent))


def radiator_cool_down(rated, excess, heat_capacity, duration, exponent=1.3):
    """Return how far a shut-off radiator still stands above the room.

    Parameters
    ----------
    rated : array_like
        Output at 50 K excess [W]; above 0.
    excess : array_like
        Excess temperature at first [K]; above 0, up to 100.
    heat_capacity : array_like
        Of its water and metal [J/K]; above 0.
    duration : array_like
        How long it cools [s]; 0 or more.
    exponent : array_like, optional
        From the radiator's test [-]; above 1, up to 1.5.

    Returns
    -------
    float or ndarray
        Excess temperature then [K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 442] characteristic equation, integrated over time.

    Examples
    --------
    >>> print(f"{radiator_cool_down(1500.0, 50.0, heat_capacity=40e3, duration=1800.0):.1f} K")
    16.1 K
    """
    rated = require(rated, "rated output", "W", above=0)
    excess = require(excess, "excess temperature", "K", above=0, at_most=100)
    heat_capacity = require(heat_capacity, "heat capacity", "J/K", above=0)
    duration = require(duration, "duration", "s", at_least=0)
    more = require(exponent, "exponent", "[-]", above=1, at_most=1.5) - 1.0
    rate = output(rated, excess, more + 1.0) / (heat_capacity * excess)
    return excess * (1.0 + more * rate * duration) ** (-1.0 / more)


def _exponent(value):
    return require(value, "exponent", "[-]", at_least=1, at_most=1.5)


def _excesses(flow_temperature, return_temperature, room):
    flow_temperature = require(flow_temperature, "flow temperature", "°C", at_least=-40, at_most=200)
    return_temperature = require(return_temperature, "return temperature", "°C", at_least=-40, at_most=200)
    room = require(room, "room temperature", "°C", at_least=-40, at_most=200)
    require(flow_temperature - return_temperature, "flow less return", "K", at_least=0)
    leaving = require(return_temperature - room, "return less room", "K", at_least=0)
    return flow_temperature - room, leaving
