"""Coils and exchangers: how near the water leaving comes to the water it meets."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = ["coil_effectiveness", "coil_outlet", "effectiveness_isothermal"]

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


def coil_effectiveness(ua, capacity_rate):
    """Effectiveness of a coil immersed in water of one temperature.

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
    ua = require(ua, "conductance of the coil", "W/K", at_least=0)
    capacity_rate = require(capacity_rate, "capacity rate of the flow", "W/K", above=0)
    return effectiveness_isothermal(ua, capacity_rate)


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
    return inlet + (store - inlet) * coil_effectiveness(ua, capacity_rate)
