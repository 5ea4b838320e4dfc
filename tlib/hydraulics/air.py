"""Air in the pipes: how fast water must go down to take a bubble with it."""

import numpy as np

from tlib.validation import require
from tlib.water_properties import density

__all__ = ["self_venting_speed", "surface_tension"]

GRAVITY = 9.81
"""As taught and as the hand sums use it [m/s2]."""

_CRITICAL = 647.096  # K


def surface_tension(temperature):
    """Surface tension of water against its own vapour or air.

    Parameters
    ----------
    temperature : array_like
        Of the water [°C]; 0.01 to 370.

    Returns
    -------
    float or ndarray
        Surface tension [N/m], in the shape of the input.

    Raises
    ------
    OutOfRange
        If the temperature is outside the range above, or is not finite.

    References
    ----------
    [IAPWS R1-76] equation 1.

    Examples
    --------
    >>> print(f"{1000 * surface_tension(20.0):.2f} mN/m")
    72.74 mN/m
    """
    temperature = require(temperature, "temperature", "°C", at_least=0.01, at_most=370)
    below = 1.0 - (temperature + 273.15) / _CRITICAL
    return 0.2358 * below**1.256 * (1.0 - 0.625 * below)


def self_venting_speed(bore, temperature=60.0):
    """Speed of water down a pipe above which it carries a long bubble of air along.

    Parameters
    ----------
    bore : array_like
        Inside diameter [m]; 0.006 to 0.3.
    temperature : array_like, optional
        Of the water [°C]; as `tlib.water_properties.density` allows at the pressure of the air.

    Returns
    -------
    float or ndarray
        Speed [m/s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    It is the speed at which a bubble as wide as the pipe rises in still water; slower water going down leaves the air
    where it is. The usual guide for heating pipes, 0.3 m/s (common practice, no source), lies above it for all tubes
    of a house and so leaves a margin for slopes and bends. Small bubbles are carried sooner.

    References
    ----------
    [Viana 2003] equation for buoyancy Reynolds numbers above 200, which water passes in any pipe of this range.

    Examples
    --------
    >>> print(f"{self_venting_speed(bore=0.0262):.2f} m/s")
    0.17 m/s
    """
    bore = require(bore, "bore", "m", at_least=0.006, at_most=0.3)
    eotvos = GRAVITY * density(temperature) * bore**2 / surface_tension(temperature)
    froude = 0.34 / (1.0 + 3805.0 / eotvos**3.06) ** 0.58
    return froude * np.sqrt(GRAVITY * bore)
