"""Wood, gas and oil: what the fuel holds, how a charge of logs burns, and when the flue gas wets the metal.

Moisture is on the wet basis (water over the whole weight as fired) unless a name says otherwise. The kernels
whose names begin with ``bare_`` are the formulas without checks, for the engine.
"""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = ["buffer_volume", "burnt_share", "net_calorific_value", "time_scale"]

_BURN_TIME_LEAVES = 0.05  # the share of a charge still unburnt when the burn time is over
_WETTEST = 0.7  # wet basis; green wood seldom passes 0.6


@kernel
def bare_net_calorific_value(moisture, dry, latent):
    """Return dry matter's heat less the heat that boils the water away [J/kg]."""
    return dry * (1.0 - moisture) - latent * moisture


def net_calorific_value(moisture, dry=19.0e6, latent=2.44e6):
    """Net calorific value of wood as fired.

    Parameters
    ----------
    moisture : array_like
        Water over the whole weight, wet basis [-]; 0 to 0.7.
    dry : array_like, optional
        Net calorific value of the dry matter [J/kg]; above 0. Most wood lies between 18 and 19.5 MJ/kg.
    latent : array_like, optional
        Heat that turns the water to vapour [J/kg]; 0 or more.

    Returns
    -------
    float or ndarray
        Net calorific value [J/kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``dry (1 - moisture) - latent moisture``: the heat per kilogram as weighed, with the water leaving as vapour.

    References
    ----------
    [EN ISO 18125] conversion from the dry basis to the basis as received.
    [TFZ wood] table of net calorific value against water content.

    Examples
    --------
    Logs of 20 % moisture hold about 4.1 kWh a kilogram.

    >>> print(f"{net_calorific_value(0.20) / 3.6e6:.2f} kWh/kg")
    4.09 kWh/kg
    """
    moisture = require(moisture, "moisture", "of the wet weight", at_least=0, at_most=_WETTEST)
    dry = require(dry, "dry net calorific value", "J/kg", above=0)
    latent = require(latent, "latent heat", "J/kg", at_least=0)
    return bare_net_calorific_value(moisture, dry, latent)


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
    return burn_time / (-np.log(_BURN_TIME_LEAVES)) ** (1.0 / shape)


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
