"""Coils and exchangers: how near the water leaving comes to the water it meets."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import OutOfRange, require

__all__ = [
    "coil_effectiveness",
    "coil_outlet",
    "coil_profile",
    "counterflow_effectiveness",
    "effectiveness_isothermal",
    "log_mean_difference",
    "outlet_isothermal",
]

COLDEST, HOTTEST = -40.0, 200.0
"""Ends of what flows in a heating or solar circuit [°C]."""


@kernel
def effectiveness_isothermal(ua, capacity_rate):
    """Effectiveness of an exchanger whose other side has one temperature; numbers are not checked.

    Parameters
    ----------
    ua : float or ndarray
        Overall conductance [W/K].
    capacity_rate : float or ndarray
        Mass flow times specific heat of the stream [W/K].

    Returns
    -------
    float or ndarray
        Heat moved as a share of the most that could be moved [-].
    """
    return -np.expm1(-ua / capacity_rate)


@kernel
def outlet_isothermal(store, inlet, ua, capacity_rate):
    """Temperature of a stream after it has met water of one temperature; numbers are not checked.

    Parameters
    ----------
    store, inlet : float or ndarray
        The water it meets, and the stream as it comes [°C].
    ua : float or ndarray
        Overall conductance [W/K].
    capacity_rate : float or ndarray
        Mass flow times specific heat of the stream [W/K].

    Returns
    -------
    float or ndarray
        The stream as it leaves [°C].
    """
    return inlet + (store - inlet) * effectiveness_isothermal(ua, capacity_rate)


def log_mean_difference(hot_in, hot_out, cold_in, cold_out):
    """Return the logarithmic mean temperature difference of two streams that flow against each other.

    Parameters
    ----------
    hot_in, hot_out : array_like
        The hotter stream as it comes and goes [°C].
    cold_in, cold_out : array_like
        The colder stream as it comes and goes [°C].

    Returns
    -------
    float or ndarray
        Mean difference [K] in the common shape of the inputs; 0 where the difference at one end is 0.

    Raises
    ------
    OutOfRange
        If an input is not finite or outside -40 to 200 °C, or the colder stream is the hotter one at either end.

    Notes
    -----
    With equal differences at both ends the formula reads nought over nought; the mean is then that difference.
    For streams that flow side by side, give the cold stream's outlet as its inlet and its inlet as its outlet.

    References
    ----------
    [Incropera] equations 11.15 and 11.17.

    Examples
    --------
    >>> print(f"{log_mean_difference(hot_in=100.0, hot_out=60.0, cold_in=30.0, cold_out=40.2):.1f} K")
    43.2 K
    """
    hot_in, hot_out, cold_in, cold_out = (
        require(value, name, "°C", at_least=COLDEST, at_most=HOTTEST)
        for value, name in (
            (hot_in, "hot inlet"),
            (hot_out, "hot outlet"),
            (cold_in, "cold inlet"),
            (cold_out, "cold outlet"),
        )
    )
    one = require(hot_in - cold_out, "difference between hot inlet and cold outlet", "K", at_least=0)
    other = require(hot_out - cold_in, "difference between hot outlet and cold inlet", "K", at_least=0)
    return log_mean(one, other)


def log_mean(one, other):
    """Return the logarithmic mean of two values of 0 or more, equal ones included."""
    larger, smaller = np.maximum(one, other), np.minimum(one, other)
    with np.errstate(divide="ignore", invalid="ignore"):
        drop = smaller / larger - 1.0
        mean = larger * drop / np.log1p(drop)
    return np.where(larger == smaller, larger, mean)[()]


def coil_effectiveness(ua, capacity_rate):
    """Return the effectiveness of a coil immersed in water of one temperature.

    Parameters
    ----------
    ua : array_like
        Overall conductance from coil water to store water [W/K]; 0 or more.
    capacity_rate : array_like
        Mass flow times specific heat inside the coil [W/K]; above 0.

    Returns
    -------
    float or ndarray
        Heat moved as a share of the most that could be moved [-], from 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If either input is outside the range above, or is not finite.

    Notes
    -----
    With the store side at one temperature the capacity ratio is zero and the flow arrangement drops out:
    ``1 - exp(-NTU)`` with ``NTU = ua / capacity_rate``. A coil that spans several layers is `coil_profile`.

    References
    ----------
    [Incropera] equation 11.35a, capacity ratio zero.

    Examples
    --------
    A coil with one transfer unit reaches 63 % of the ideal.

    >>> print(f"{coil_effectiveness(ua=450.0, capacity_rate=450.0):.2f}")
    0.63
    """
    return effectiveness_isothermal(*_conductance_and_rate(ua, capacity_rate))


def coil_outlet(store, inlet, ua, capacity_rate):
    """Return the temperature at which water leaves a coil in a store of one temperature.

    Parameters
    ----------
    store, inlet : array_like
        Store water and water entering the coil [°C]; -40 to 200.
    ua : array_like
        Overall conductance from coil water to store water [W/K]; 0 or more.
    capacity_rate : array_like
        Mass flow times specific heat inside the coil [W/K]; above 0.

    Returns
    -------
    float or ndarray
        Outlet temperature [°C] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The store is taken as one temperature that the draw does not change. Cooling works the same way: a store below
    the inlet cools the coil. Water above 60 °C at a tap burns skin in seconds: a blending valve belongs behind it.

    References
    ----------
    [Incropera] equations 11.19 and 11.35a.

    Examples
    --------
    >>> print(f"{coil_outlet(store=75.0, inlet=10.0, ua=900.0, capacity_rate=10 * 60 * 1.163):.1f} °C")
    57.1 °C
    """
    store = require(store, "store temperature", "°C", at_least=COLDEST, at_most=HOTTEST)
    inlet = require(inlet, "inlet temperature", "°C", at_least=COLDEST, at_most=HOTTEST)
    return outlet_isothermal(store, inlet, *_conductance_and_rate(ua, capacity_rate))


def coil_profile(layers, inlet, conductances, capacity_rate):
    """Return the temperature of the water in a coil as it passes the layers of a store one after another.

    Parameters
    ----------
    layers : array_like, shape (n,)
        Layer temperatures in the order in which the coil meets them [°C]; -40 to 200.
    inlet : float
        Water entering the coil [°C]; -40 to 200.
    conductances : array_like, shape (n,)
        Conductance of the piece of coil in each layer [W/K]; 0 or more.
    capacity_rate : float
        Mass flow times specific heat inside the coil [W/K]; above 0.

    Returns
    -------
    ndarray, shape (n + 1,)
        Coil water [°C]: the inlet, then the water leaving each layer; the last is the outlet.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the two rows are not of one length.

    Notes
    -----
    The layers are held: what the coil takes from each of them in a time step is the store's business. The heat
    into the coil in a layer is the capacity rate times the rise there.

    References
    ----------
    [Incropera] equation 11.35a, applied to each layer.

    Examples
    --------
    >>> through = coil_profile([40.0, 60.0, 80.0], 10.0, [300.0, 300.0, 300.0], 700.0)
    >>> print(" ".join(f"{t:.1f}" for t in through))
    10.0 20.5 34.2 50.2
    """
    layers = require(layers, "layer temperature", "°C", at_least=COLDEST, at_most=HOTTEST)
    inlet = require(inlet, "inlet temperature", "°C", at_least=COLDEST, at_most=HOTTEST)
    conductances, capacity_rate = _conductance_and_rate(conductances, capacity_rate)
    if layers.ndim != 1 or conductances.shape != layers.shape or inlet.ndim or capacity_rate.ndim:
        raise OutOfRange(
            "layers and conductances must be two rows of one length, inlet and capacity rate single numbers; "
            f"got shapes {layers.shape}, {conductances.shape}, {inlet.shape} and {capacity_rate.shape}."
        )
    through = [inlet]
    for layer, ua in zip(layers, conductances, strict=True):
        through.append(outlet_isothermal(layer, through[-1], ua, capacity_rate))
    return np.array(through)


def counterflow_effectiveness(ua, hot_rate, cold_rate):
    """Return the effectiveness of an exchanger in which two streams flow against each other, such as a plate one.

    Parameters
    ----------
    ua : array_like
        Overall conductance from stream to stream [W/K]; 0 or more.
    hot_rate, cold_rate : array_like
        Mass flow times specific heat of each stream [W/K]; above 0.

    Returns
    -------
    float or ndarray
        Heat moved as a share of the most that could be moved, which is the smaller capacity rate times the
        difference of the two inlets [-], from 0 to 1, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equations 11.29a and 11.29b.

    Examples
    --------
    >>> print(f"{counterflow_effectiveness(ua=2000.0, hot_rate=1000.0, cold_rate=1000.0):.3f}")
    0.667
    """
    ua, hot_rate = _conductance_and_rate(ua, hot_rate)
    cold_rate = require(cold_rate, "capacity rate of the cold flow", "W/K", above=0)
    least = np.minimum(hot_rate, cold_rate)
    units, slack = ua / least, 1.0 - least / np.maximum(hot_rate, cold_rate)
    reached = effectiveness_isothermal(units * slack, 1.0)
    with np.errstate(invalid="ignore"):
        unequal = reached / (slack + (1.0 - slack) * reached)
    return np.where(slack == 0.0, units / (1.0 + units), np.where(units == 0.0, 0.0, unequal))[()]


def _conductance_and_rate(ua, capacity_rate):
    return (
        require(ua, "conductance", "W/K", at_least=0),
        require(capacity_rate, "capacity rate of the flow", "W/K", above=0),
    )
