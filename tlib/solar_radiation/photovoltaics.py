"""What a PV array makes, what the house leaves over, and what must be bought."""

import numpy as np

from tlib.validation import require

__all__ = ["bought_power", "cell_temperature", "pv_power", "pv_surplus"]

_FULL_SUN = 1000.0
_RATED_CELL = 25.0
"""Light [W/m2] and cell temperature [°C] at which a module is rated."""


def cell_temperature(irradiance, air, nominal=45.0):
    """Return how warm PV cells run in the sun.

    Parameters
    ----------
    irradiance : array_like
        Light on the array [W/m2]; 0 or more.
    air : array_like
        Air temperature [°C]; above -90, to 60.
    nominal : array_like, optional
        Cell temperature at 800 W/m2 and 20 °C air from the module's data sheet (NOCT) [°C]; 20 to 80.

    Returns
    -------
    float or ndarray
        Cell temperature in the common (broadcast) shape [°C].

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Ross 1981].

    Notes
    -----
    For a free-standing array in a light wind; one laid close on a roof runs warmer.

    Examples
    --------
    >>> print(f"{cell_temperature(irradiance=800, air=20):.1f} °C")
    45.0 °C
    """
    irradiance = require(irradiance, "irradiance", "W/m2", at_least=0)
    air = require(air, "air temperature", "°C", above=-90, at_most=60)
    nominal = require(nominal, "nominal cell temperature", "°C", at_least=20, at_most=80)
    return air + (nominal - 20.0) / 800.0 * irradiance


def pv_power(irradiance, cell, peak, coefficient=-0.004, inverter=0.96):
    """Return the power of a PV array after its inverter.

    Parameters
    ----------
    irradiance : array_like
        Light on the array [W/m2]; 0 or more.
    cell : array_like
        Cell temperature [°C]; above -90, to 120.
    peak : array_like
        Rated power of the array [W]; 0 or more.
    coefficient : array_like, optional
        Change of power for each kelvin above 25 °C [1/K]; -0.01 to 0.
    inverter : array_like, optional
        Efficiency of the inverter [-]; above 0, to 1.

    Returns
    -------
    float or ndarray
        Power in the common (broadcast) shape [W].

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Dobos 2014] the model and the inverter's 0.96.

    Examples
    --------
    >>> print(f"{pv_power(irradiance=800, cell=45, peak=4000):.0f} W")
    2826 W
    """
    irradiance = require(irradiance, "irradiance", "W/m2", at_least=0)
    warmth = require(cell, "cell temperature", "°C", above=-90, at_most=120) - _RATED_CELL
    peak = require(peak, "peak power", "W", at_least=0)
    coefficient = require(coefficient, "temperature coefficient", "1/K", at_least=-0.01, at_most=0)
    inverter = require(inverter, "inverter efficiency", "", above=0, at_most=1)
    return irradiance / _FULL_SUN * peak * (1.0 + coefficient * warmth) * inverter


def pv_surplus(generation, load, margin=0.0):
    """Return what a PV array makes beyond what the house takes: free for an immersion heater.

    Parameters
    ----------
    generation : array_like
        Power of the array [W]; 0 or more.
    load : array_like
        Power that the house takes, without the immersion heater [W]; 0 or more.
    margin : array_like, optional
        Power left to the grid so that none is bought by mistake [W]; 0 or more.

    Returns
    -------
    float or ndarray
        Surplus in the common (broadcast) shape [W]; 0 if the house takes all.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    Common practice, no source.

    Examples
    --------
    >>> print(f"{pv_surplus(generation=2200, load=400):.0f} W")
    1800 W
    """
    generation, load = _balance(generation, load)
    return np.maximum(generation - load - require(margin, "margin", "W", at_least=0), 0.0)


def bought_power(generation, load):
    """Return what must be bought because a load is greater than what the array makes.

    Parameters
    ----------
    generation : array_like
        Power of the array [W]; 0 or more.
    load : array_like
        Power that everything takes, immersion heater included [W]; 0 or more.

    Returns
    -------
    float or ndarray
        Power from the grid in the common (broadcast) shape [W].

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    Common practice, no source.

    Examples
    --------
    A 3 kW immersion heater on 1.8 kW of surplus:

    >>> print(f"{bought_power(generation=2200, load=400 + 3000):.0f} W")
    1200 W
    """
    generation, load = _balance(generation, load)
    return np.maximum(load - generation, 0.0)


def _balance(generation, load):
    return require(generation, "generation", "W", at_least=0), require(load, "load", "W", at_least=0)
