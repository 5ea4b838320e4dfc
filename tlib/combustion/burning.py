"""A charge of logs: how it burns, what reaches the water, and the store it needs."""

import numpy as np

from tlib.combustion.wood import net_calorific_value
from tlib.compiled import kernel
from tlib.validation import require

__all__ = ["buffer_by_rating", "buffer_volume", "burnt_share", "heat_to_water", "logs_for_heat", "time_scale"]

BURN_TIME_LEAVES = 0.05  # the share of a charge still unburnt when the burn time is over


@kernel
def bare_burnt_share(age, time_scale, shape):
    """Return the share of a charge burnt by an age [-]."""
    return -np.expm1(-((age / time_scale) ** shape))


def burnt_share(age, time_scale, shape=1.8):
    """Share of a charge of logs that has burnt by a given age.

    Parameters
    ----------
    age : array_like
        Time since the charge was lit, counted at the rated air setting [s]; 0 or more.
    time_scale : array_like
        Time scale of the burn, as from `time_scale` [s]; above 0.
    shape : array_like, optional
        Shape of the burn [-]; 1 to 4. At 1 the fire is fiercest at once; above 1 it builds first.

    Returns
    -------
    float or ndarray
        Burnt share [-], 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``1 - exp(-(age / time_scale)**shape)``, the Weibull form. It is a sum over the burn, so the heat of a step is the
    charge's heat times the difference of two shares, and the parts add up to the whole at any step. A real fire
    also answers to its air; the engine lets the age run slower or faster with it.

    References
    ----------
    [Weibull 1951] the distribution; its use for a charge of logs is our model, not a published burn curve.

    Examples
    --------
    >>> print(f"{burnt_share(age=2700.0, time_scale=2700.0):.3f}")
    0.632
    """
    age = require(age, "age of the fire", "s", at_least=0)
    time_scale = require(time_scale, "time scale", "s", above=0)
    shape = require(shape, "shape of the burn", "(a plain number)", at_least=1, at_most=4)
    return bare_burnt_share(age, time_scale, shape)


@kernel
def bare_time_scale(burn_time, shape):
    """Return the time scale with which 95 % of the charge is burnt at the burn time [s]."""
    return burn_time / (-np.log(BURN_TIME_LEAVES)) ** (1.0 / shape)


def time_scale(burn_time, shape=1.8):
    """Time scale of a burn of which the burn time is known.

    Parameters
    ----------
    burn_time : array_like
        Time in which 95 % of the charge burns [s]; above 0. This is our definition of burn time.
    shape : array_like, optional
        Shape of the burn, as in `burnt_share` [-]; 1 to 4.

    Returns
    -------
    float or ndarray
        Time scale [s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``burn_time / (-ln 0.05)**(1 / shape)``: at the burn time, one twentieth of the charge is left as embers.

    References
    ----------
    [Weibull 1951] the distribution; the 95 % is our definition.

    Examples
    --------
    >>> scale = time_scale(burn_time=3 * 3600.0)
    >>> print(f"{burnt_share(3 * 3600.0, scale):.2f}")
    0.95
    """
    burn_time = require(burn_time, "burn time", "s", above=0)
    shape = require(shape, "shape of the burn", "(a plain number)", at_least=1, at_most=4)
    return bare_time_scale(burn_time, shape)


def buffer_volume(burn_time, rated, house, turn_down):
    """Least buffer volume for a hand-fired boiler, by the formula of EN 303-5.

    Parameters
    ----------
    burn_time : array_like
        Burn time of one full charge at the rated output [s]; above 0.
    rated : array_like
        Rated output to water [W]; above 0.
    house : array_like
        Heat load of the house [W]; 0 or more, and no more than `turn_down` / 0.3.
    turn_down : array_like
        Least steady output to water [W]; above 0, no more than `rated`. Equal to it if the fire cannot turn down.

    Returns
    -------
    float or ndarray
        Volume [m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``15 T_B Q_N (1 - 0.3 Q_H / Q_min)`` in litres, with hours and kilowatts inside. Usually not under 300 litres
    (common practice). Above ``house = turn_down / 0.3`` the formula would give less than nothing, so it is refused.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers, as reproduced with a worked number.

    Examples
    --------
    >>> volume = buffer_volume(burn_time=2 * 3600.0, rated=32e3, house=25e3, turn_down=32e3)
    >>> print(f"{1000 * volume:.0f} l")
    735 l
    """
    burn_time = require(burn_time, "burn time", "s", above=0)
    rated = require(rated, "rated output", "W", above=0)
    house = require(house, "heat load of the house", "W", at_least=0)
    turn_down = require(turn_down, "least output", "W", above=0)
    require(turn_down / rated, "least output as a share of the rated output", "(a plain number)", at_most=1)
    spared = 0.3 * house / turn_down
    require(spared, "0.3 times the heat load of the house over the least output", "(a plain number)", at_most=1)
    litres = 15.0 * (burn_time / 3600.0) * (rated / 1000.0) * (1.0 - spared)
    return litres / 1000.0


def buffer_by_rating(rated, litres_each=55.0):
    """Buffer volume by a plain rule: so many litres for each kilowatt.

    Parameters
    ----------
    rated : array_like
        Rated output to water [W]; above 0.
    litres_each : array_like, optional
        Litres for each kilowatt; above 0. The German rule for hand-fired boilers asks 55, and the trade
        often says 50.

    Returns
    -------
    float or ndarray
        Volume [m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A rule of law in one country; elsewhere a second opinion beside `buffer_volume`.

    References
    ----------
    [1. BImSchV] section 5, stores for hand-fired boilers.

    Examples
    --------
    >>> print(f"{1000 * buffer_by_rating(10e3):.0f} l")
    550 l
    """
    rated = require(rated, "rated output", "W", above=0)
    return rated / 1000.0 * require(litres_each, "litres for each kilowatt", "l/kW", above=0) / 1000.0


def _checked_shares(efficiency, share):
    efficiency = require(efficiency, "efficiency", "(a plain number)", above=0, at_most=1)
    return efficiency, require(share, "share to water", "(a plain number)", above=0, at_most=1)


def heat_to_water(mass, moisture, efficiency, share):
    """Heat that a charge of logs gives to the water.

    Parameters
    ----------
    mass : array_like
        Logs as weighed [kg]; 0 or more.
    moisture : array_like
        Water over the whole weight, wet basis [-]; 0 to 0.7.
    efficiency : array_like
        Useful heat over the heat in the logs [-]; above 0, no more than 1.
    share : array_like
        Heat to the water over useful heat [-]; above 0, no more than 1. The rest warms the room.

    Returns
    -------
    float or ndarray
        Heat [J], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 16510] heat to water and heat to room of a stove; the product needs no source.

    Examples
    --------
    >>> heat = heat_to_water(mass=8.0, moisture=0.20, efficiency=0.75, share=0.65)
    >>> print(f"{heat / 3.6e6:.1f} kWh")
    15.9 kWh
    """
    mass = require(mass, "mass of logs", "kg", at_least=0)
    efficiency, share = _checked_shares(efficiency, share)
    return mass * net_calorific_value(moisture) * efficiency * share


def logs_for_heat(heat, moisture, efficiency, share):
    """Return the logs that give a wanted heat to the water: `heat_to_water` read backwards.

    Parameters
    ----------
    heat : array_like
        Heat wanted in the water [J]; 0 or more.
    moisture, efficiency, share : array_like
        As in `heat_to_water`.

    Returns
    -------
    float or ndarray
        Logs as weighed [kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A fire that is lit cannot be switched off: put on no more than the room left in the store below its limit takes.

    References
    ----------
    [EN 16510] heat to water and heat to room of a stove; the quotient needs no source.

    Examples
    --------
    >>> logs = logs_for_heat(heat=12 * 3.6e6, moisture=0.20, efficiency=0.75, share=0.65)
    >>> print(f"{logs:.2f} kg")
    6.02 kg
    """
    heat = require(heat, "heat wanted in the water", "J", at_least=0)
    efficiency, share = _checked_shares(efficiency, share)
    return heat / (net_calorific_value(moisture) * efficiency * share)
