"""The properties of what is in the pipes: water, or propylene glycol in water, each with its range."""

import numpy as np

from tlib.validation import OutOfRange, require
from tlib.water_properties import glycol as mixture
from tlib.water_properties import water
from tlib.water_properties.saturation import bare_saturation_temperature

__all__ = ["conductivity", "density", "enthalpy", "expansion_coefficient", "specific_heat", "viscosity"]

_SUPERHEAT = 0.1  # K above boiling for which the saturated liquid stands
_HOTTEST, _HOTTEST_MIXTURE = 150.0, 100.0
_LEAST_PRESSURE, _MOST_PRESSURE, _MOST_GLYCOL = 1e4, 3e6, 0.5


def density(temperature, pressure=101325.0, glycol=0.0):
    """Density of water, or of propylene glycol in water.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Density [kg/m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    Up to 0.1 K above boiling the saturated liquid stands. A higher pressure adds about 0.05 kg/m3 a bar; a mixture's
    pressure makes no difference here. Below a share of 0.1, where no table is published, values go straight from
    water to that share. A mixture is refused where plain water would boil: a few kelvin on the safe side.

    References
    ----------
    [IAPWS R6-95]; with glycol [ASHRAE Fundamentals], "density of aqueous solutions of propylene glycol".

    Examples
    --------
    >>> print(f"{density(60.0):.1f} kg/m3")
    983.2 kg/m3
    >>> density(110.0)
    Traceback (most recent call last):
    tlib.validation.OutOfRange: water at 110 °C would boil at this pressure (1.013 bar absolute: 99.97 °C).
    """
    return _property(water.bare_density, mixture.bare_density, temperature, pressure, glycol)


def specific_heat(temperature, pressure=101325.0, glycol=0.0):
    """Specific heat of water at constant pressure, or of propylene glycol in water.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Specific heat [J/(kg K)], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    As for `density`; a higher pressure takes off about 0.4 J/(kg K) a bar. Taught sums use 4186.8 at every temperature.

    References
    ----------
    [IAPWS R6-95]; with glycol [ASHRAE Fundamentals], "specific heat of aqueous solutions of propylene glycol".

    Examples
    --------
    >>> print(f"{specific_heat(60.0):.0f} and {specific_heat(60.0, glycol=0.4):.0f} J/(kg K)")
    4185 and 3834 J/(kg K)
    """
    return _property(water.bare_specific_heat, mixture.bare_specific_heat, temperature, pressure, glycol)


def conductivity(temperature, pressure=101325.0, glycol=0.0):
    """Thermal conductivity of water, or of propylene glycol in water.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Conductivity [W/(m K)], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    As for `density`; a higher pressure adds less than 0.0001 W/(m K) a bar.

    References
    ----------
    [IAPWS R15-11]; with glycol [ASHRAE Fundamentals], "thermal conductivity of aqueous solutions of propylene glycol".

    Examples
    --------
    >>> print(f"{conductivity(60.0):.3f} W/(m K)")
    0.651 W/(m K)
    """
    return _property(water.bare_conductivity, mixture.bare_conductivity, temperature, pressure, glycol)


def viscosity(temperature, pressure=101325.0, glycol=0.0):
    """Dynamic viscosity of water, or of propylene glycol in water.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Viscosity [Pa s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    As for `density`, but a thin mixture goes straight in the logarithm. Pressure changes it by less than 0.02 % a bar.

    References
    ----------
    [IAPWS R12-08]; with glycol [ASHRAE Fundamentals], "viscosity of aqueous solutions of propylene glycol".

    Examples
    --------
    >>> print(f"{1000 * viscosity(20.0):.3f} and {1000 * viscosity(20.0, glycol=0.4):.1f} mPa s")
    1.002 and 4.6 mPa s
    """
    logarithm = _property(water.bare_log_viscosity, mixture.bare_log_viscosity, temperature, pressure, glycol)
    return np.exp(logarithm)


def expansion_coefficient(temperature, pressure=101325.0, glycol=0.0):
    """Growth in volume for each kelvin at constant pressure, as a share of the volume.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Expansion coefficient [1/K], in the common shape of the inputs; negative for water below 4 °C.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    As for `density`. It changes tenfold from 10 to 85 °C, so growth over a wide range comes from two densities.

    References
    ----------
    [IAPWS R6-95]; with glycol the slope of `density`.

    Examples
    --------
    >>> print(f"{1e6 * expansion_coefficient(60.0):.0f} millionths a kelvin")
    523 millionths a kelvin
    """
    return _property(
        water.bare_expansion_coefficient, mixture.bare_expansion_coefficient, temperature, pressure, glycol
    )


def enthalpy(temperature, pressure=101325.0, glycol=0.0):
    """Enthalpy of water, or of propylene glycol in water; differences of it are heat.

    Parameters
    ----------
    temperature : array_like
        Of the liquid [°C]; for water 0 to 150, with glycol from its freezing point to 100.
    pressure : array_like, optional
        Absolute pressure [Pa]; 10,000 to 3,000,000, and enough to keep the water from boiling.
    glycol : array_like, optional
        Share of propylene glycol in the unmixed volumes [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Enthalpy [J/kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range or not finite, or if the water would boil or freeze.

    Notes
    -----
    Water's zero is that of the steam tables: liquid at the triple point, 0.01 °C, has no internal energy. A mixture's
    zero is at 0 °C, so only differences at one share mean anything.

    References
    ----------
    [IAPWS R6-95]; with glycol the sum of `specific_heat` over temperature.

    Examples
    --------
    >>> print(f"{(enthalpy(85.0) - enthalpy(10.0)) / 75.0:.0f} J/(kg K) on average")
    4186 J/(kg K) on average
    """
    return _property(water.bare_enthalpy, mixture.bare_enthalpy, temperature, pressure, glycol)


def _property(of_water, of_mixture, temperature, pressure, glycol):
    """Check the state of the liquid, and return the property of water, of a mixture, or between the two."""
    temperature = require(temperature, "temperature", "°C", at_most=_HOTTEST)
    pressure = require(pressure, "pressure", "Pa", at_least=_LEAST_PRESSURE, at_most=_MOST_PRESSURE)
    glycol = require(glycol, "share of glycol", "[-]", at_least=0, at_most=_MOST_GLYCOL)
    is_water = not np.count_nonzero(glycol)
    _refuse_boiling("water" if is_water else "the water in a mixture", temperature, pressure)
    if is_water:
        temperature = require(temperature, "water temperature", "°C", at_least=0)
        return of_water(temperature, pressure) + 0.0 * glycol
    _refuse_freezing(require(temperature, "temperature with glycol", "°C", at_most=_HOTTEST_MIXTURE), glycol)
    share = np.minimum(glycol / mixture.THINNEST, 1.0)
    plain = of_water(np.maximum(temperature, 0.0), pressure)
    return (1.0 - share) * plain + share * of_mixture(temperature, np.maximum(glycol, mixture.THINNEST))


def _refuse_boiling(what, temperature, pressure):
    boiling = bare_saturation_temperature(pressure)
    boils = temperature > boiling + _SUPERHEAT
    if np.count_nonzero(boils):
        hot, under, at = _first(boils, temperature, pressure, boiling)
        words = f"{what} at {hot:.10g} °C would boil at this pressure ({under / 1e5:.3f} bar absolute: {at:.2f} °C)."
        raise OutOfRange(words)


def _refuse_freezing(temperature, glycol):
    coldest = np.where(glycol < mixture.THINNEST, 0.0, mixture.bare_freezing(glycol))
    freezes = temperature < coldest
    if np.count_nonzero(freezes):
        cold, share, at = _first(freezes, temperature, glycol, mixture.bare_freezing(glycol))
        words = f"a mixture with {100 * share:g} % glycol begins to freeze at {at:.1f} °C; got {cold:.10g} °C."
        raise OutOfRange(words)


def _first(broken, *values):
    """Return the values at the first place where a rule is broken."""
    return [np.broadcast_to(value, np.shape(broken))[broken].flat[0] for value in values]
