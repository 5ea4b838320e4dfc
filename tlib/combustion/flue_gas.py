"""What goes up the flue: air, carbon dioxide, water vapour, and the temperature at which it wets the metal.

Burning is complete. Air is 20.95 % oxygen by volume, the rest counted as nitrogen.
"""

from typing import NamedTuple

import numpy as np

from tlib.combustion.fuels import Fuel, burning_fuel
from tlib.combustion.wood import WETTEST, bare_net_calorific_value
from tlib.compiled import kernel
from tlib.validation import OutOfRange, require
from tlib.water_properties import saturation_pressure, saturation_temperature

__all__ = [
    "air_demand",
    "boiler_efficiency",
    "condensed_share",
    "condensing_gain",
    "flue_carbon_dioxide",
    "flue_dew_point",
    "flue_loss",
]

_CARBON, _HYDROGEN, _OXYGEN, _WATER, _AIR = 12.011, 1.008, 15.999, 18.015, 28.96  # kg/kmol
_OXYGEN_IN_AIR = 0.2095
# molar heats between room and flue, about 350 K [J/(kmol K)]: handbook values, from memory, held to CoolProp in a test
_HEAT_CO2, _HEAT_AIR, _HEAT_H2O = 39.4e3, 29.3e3, 33.9e3  # nitrogen and spare oxygen warm like air
_LATENT = 2.44e6
_THINNEST_AIR = 20.0  # beyond this no fire burns


@kernel
def bare_oxygen_need(carbon, hydrogen, oxygen):
    """Return the oxygen that burns a kilogram of dry fuel [kmol/kg]."""
    return carbon / _CARBON + hydrogen / (4.0 * _HYDROGEN) - oxygen / (2.0 * _OXYGEN)


@kernel
def bare_dry_gas(carbon, need, air_ratio):
    """Return the dry flue gas of a kilogram of dry fuel: carbon dioxide, nitrogen, spare oxygen [kmol/kg]."""
    return carbon / _CARBON + air_ratio * need / _OXYGEN_IN_AIR - need


@kernel
def bare_vapour(hydrogen, moisture, need, air_ratio, air_humidity):
    """Return the water vapour of a kilogram of dry fuel: from its hydrogen, its moisture and the air [kmol/kg]."""
    with_fuel = hydrogen / (2.0 * _HYDROGEN) + moisture / (1.0 - moisture) / _WATER
    return with_fuel + air_ratio * need / _OXYGEN_IN_AIR * air_humidity * _AIR / _WATER


class _Gas(NamedTuple):
    """A fire's flue gas, counted for each kilogram of dry fuel [kmol/kg], beside the checked numbers it came from."""

    fuel: Fuel
    moisture: float
    dry: float
    vapour: float


def _gas(fuel, moisture, air_ratio, air_humidity):
    fuel = burning_fuel(fuel, moisture)
    moisture = require(moisture, "moisture", "of the wet weight", at_least=0, at_most=WETTEST)
    air_ratio = require(air_ratio, "air ratio", "(a plain number)", at_least=1, at_most=_THINNEST_AIR)
    air_humidity = require(air_humidity, "humidity of the air", "kg/kg", at_least=0, at_most=0.05)
    need = bare_oxygen_need(fuel.carbon, fuel.hydrogen, fuel.oxygen)
    dry = bare_dry_gas(fuel.carbon, need, air_ratio)
    vapour = bare_vapour(fuel.hydrogen, moisture, need, air_ratio, air_humidity)
    return _Gas(fuel, moisture, dry, vapour)


def air_demand(fuel):
    """Return the dry air that just burns a kilogram of dry fuel.

    Parameters
    ----------
    fuel : str or Fuel
        A fuel that burns: a name of the table ``fuels``, or a record.

    Returns
    -------
    float
        Air for each kilogram of dry fuel [kg/kg].

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn.

    References
    ----------
    [Cengel 2006] chapter on chemical reactions, theoretical air.

    Examples
    --------
    >>> print(f"{air_demand('natural gas'):.1f} {air_demand('wood'):.1f} kg/kg")
    17.2 5.9 kg/kg
    """
    record = burning_fuel(fuel, 0.0)
    return bare_oxygen_need(record.carbon, record.hydrogen, record.oxygen) / _OXYGEN_IN_AIR * _AIR


def flue_carbon_dioxide(fuel, air_ratio):
    """Carbon dioxide in dry flue gas: what a flue gas meter shows.

    Parameters
    ----------
    fuel : str or Fuel
        A fuel that burns.
    air_ratio : array_like
        Air supplied over air needed [-]; 1 to 20.

    Returns
    -------
    float or ndarray
        Share by volume of the dry gas [-], in the shape of the air ratio.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or the air ratio is outside the range above or not finite.

    References
    ----------
    [Cengel 2006] chapter on chemical reactions, dry analysis of the products.

    Examples
    --------
    >>> print(f"{100 * flue_carbon_dioxide('wood', 1.5):.1f} %")
    13.6 %
    """
    gas = _gas(fuel, 0.0, air_ratio, 0.0)
    return gas.fuel.carbon / _CARBON / gas.dry


def flue_dew_point(fuel, moisture, air_ratio, pressure=101325.0, air_humidity=0.0):
    """Water dew point of flue gas: metal colder than this gets wet.

    Parameters
    ----------
    fuel : str or Fuel
        A fuel that burns.
    moisture : array_like
        Water over the whole weight of the fuel, wet basis [-]; 0 to 0.7, and 0 for all but wood.
    air_ratio : array_like
        Air supplied over air needed [-]; 1 to 20.
    pressure : array_like, optional
        Of the flue gas [Pa]; above 0, as `tlib.water_properties.saturation_temperature` allows.
    air_humidity : array_like, optional
        Water in the air for each kilogram of dry air [-]; 0 to 0.05. Air of a mild day holds 0.005 to 0.010.

    Returns
    -------
    float or ndarray
        Dew point [°C], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or an input is outside the range above or not finite.

    Notes
    -----
    The dew point of WATER. Sulphur in oil and tar in wood smoke wet the metal well above it; so does a cold wall that
    the gas does not mix over. A burner of logs should be kept warmer.

    References
    ----------
    [Cengel 2006] chapter on chemical reactions, dew point of the products; [IAPWS R7-97] for the saturation line.

    Examples
    --------
    >>> print(f"{flue_dew_point('wood', moisture=0.20, air_ratio=1.8, air_humidity=0.005):.0f} °C")
    48 °C
    """
    pressure = require(pressure, "pressure of the flue gas", "Pa", above=0)
    gas = _gas(fuel, moisture, air_ratio, air_humidity)
    return saturation_temperature(gas.vapour / (gas.vapour + gas.dry) * pressure)


def condensed_share(fuel, moisture, air_ratio, gas_temperature, pressure=101325.0, air_humidity=0.0):
    """Share of the water vapour in flue gas that has turned to water when the gas leaves.

    Parameters
    ----------
    fuel, moisture, air_ratio, pressure, air_humidity : as in `flue_dew_point`
        The fire.
    gas_temperature : array_like
        Temperature at which the gas leaves, cooled through and through [°C]; 0.01 or more, below boiling at `pressure`.

    Returns
    -------
    float or ndarray
        Condensed share [-]; 0 above the dew point.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or an input is outside the range above or not finite.

    References
    ----------
    [Cengel 2006] chapter on chemical reactions, vapour condensed below the dew point.

    Examples
    --------
    >>> print(f"{condensed_share('natural gas', 0.0, air_ratio=1.2, gas_temperature=40.0):.2f}")
    0.59
    """
    pressure = require(pressure, "pressure of the flue gas", "Pa", above=0)
    gas = _gas(fuel, moisture, air_ratio, air_humidity)
    gas_temperature = require(gas_temperature, "temperature of the leaving gas", "°C", at_least=0.01, at_most=370)
    saturated = saturation_pressure(gas_temperature)
    require(saturated / pressure, "saturation pressure over the pressure of the gas", "(a plain number)", below=1)
    left = gas.dry * saturated / (pressure - saturated)
    return np.maximum(0.0, 1.0 - left / gas.vapour)


def flue_loss(fuel, moisture, air_ratio, gas_temperature, air_temperature=20.0):
    """Heat that warm flue gas carries away, without the heat of its vapour, as a share of the net calorific value.

    Parameters
    ----------
    fuel, moisture, air_ratio : as in `flue_dew_point`
        The fire, with dry air.
    gas_temperature : array_like
        Of the leaving gas [°C]; 0 to 500.
    air_temperature : array_like, optional
        Of the air to the fire [°C]; -40 to 60.

    Returns
    -------
    float or ndarray
        Loss over the net calorific value [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or an input is outside the range above or not finite.

    Notes
    -----
    Molar heats are taken as constant, which is right within 2 % up to 250 °C and 5 % at 500 °C.

    References
    ----------
    [EN 16510] flue losses by the heat of each gas; [PAS flue losses] measured order of size for damp wood.

    Examples
    --------
    >>> print(f"{100 * flue_loss('wood', 0.20, air_ratio=2.0, gas_temperature=220.0):.0f} %")
    15 %
    """
    gas = _gas(fuel, moisture, air_ratio, 0.0)
    gas_temperature = require(gas_temperature, "temperature of the leaving gas", "°C", at_least=0, at_most=500)
    air_temperature = require(air_temperature, "temperature of the air", "°C", at_least=-40, at_most=60)
    burnt = gas.fuel.carbon / _CARBON
    heat = burnt * _HEAT_CO2 + (gas.dry - burnt) * _HEAT_AIR + gas.vapour * _HEAT_H2O
    net_as_fired = bare_net_calorific_value(gas.moisture, gas.fuel.net, _LATENT)
    return heat * (gas_temperature - air_temperature) * (1.0 - gas.moisture) / net_as_fired


def condensing_gain(fuel, return_temperature, air_ratio=1.2, approach=5.0):
    """Heat that condensing gives back, as a share of the gross calorific value, by the temperature of the return.

    Parameters
    ----------
    fuel : str or Fuel
        A fuel that burns, dry, with a gross and a net calorific value.
    return_temperature : array_like
        Of the water coming back to the boiler [°C]; 0.01 to 90.
    air_ratio : array_like, optional
        Air supplied over air needed [-]; 1 to 20.
    approach : array_like, optional
        Leaving gas warmer than the return [K]; 0 to 50. Some 5 K is common for a clean exchanger.

    Returns
    -------
    float or ndarray
        Gain [-], from 0 to the latent share of the fuel, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If the fuel is unknown or does not burn, or an input is outside the range above or not finite.

    Notes
    -----
    For a boiler made to condense, with a drain. In others, and in log burners, the same water eats the metal.

    References
    ----------
    [Cengel 2006] chapter on chemical reactions; [DESNZ 2025] for gross and net values.

    Examples
    --------
    >>> warm, cool = condensing_gain("natural gas", [60.0, 30.0])
    >>> print(f"{100 * warm:.0f} % and {100 * cool:.0f} %")
    0 % and 7 %
    """
    record = burning_fuel(fuel, 0.0)
    if not record.gross >= record.net > 0:
        raise OutOfRange(f"gross calorific value must be the net one or more, and both above 0; got {record!r}.")
    return_temperature = require(return_temperature, "return temperature", "°C", at_least=0.01, at_most=90)
    approach = require(approach, "approach of gas to water", "K", at_least=0, at_most=50)
    leaving = np.minimum(return_temperature + approach, 99.0)  # no flue gas is moist enough to condense this hot
    return condensed_share(record, 0.0, air_ratio, leaving) * (record.gross - record.net) / record.gross


@kernel
def bare_boiler_efficiency(return_temperature, dry, gain, dew_point, greatest):
    """Return a condensing boiler's efficiency by a straight line below the dew point [-]."""
    return np.minimum(greatest, dry + gain * np.maximum(0.0, dew_point - return_temperature))


def boiler_efficiency(return_temperature, dry=0.88, gain=0.004, dew_point=55.0, greatest=0.97):
    """Efficiency of a condensing boiler on the gross calorific value, by a straight line: for the engine.

    Parameters
    ----------
    return_temperature : array_like
        Of the water coming back to the boiler [°C]; 0 to 110.
    dry : array_like, optional
        Efficiency without condensing [-]; above 0, no more than 1.
    gain : array_like, optional
        What each kelvin below the dew point adds [1/K]; 0 to 0.02. At 0, a boiler that must not condense.
    dew_point : array_like, optional
        Return temperature below which it condenses [°C]; 0 to 100.
    greatest : array_like, optional
        Where the line ends [-]; above 0, no more than 1.

    Returns
    -------
    float or ndarray
        Efficiency [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A teaching line through common practice. The sum of `flue_loss` and `condensing_gain` is the physics it stands for;
    a test keeps the two within two and a half points.

    References
    ----------
    [Condensing article] 88 % at a return of 55 °C and above, rising below it.

    Examples
    --------
    >>> print(f"{boiler_efficiency(60.0):.2f} {boiler_efficiency(40.0):.2f}")
    0.88 0.94
    """
    return_temperature = require(return_temperature, "return temperature", "°C", at_least=0, at_most=110)
    dry = require(dry, "efficiency without condensing", "(a plain number)", above=0, at_most=1)
    gain = require(gain, "gain for each kelvin", "1/K", at_least=0, at_most=0.02)
    dew_point = require(dew_point, "dew point", "°C", at_least=0, at_most=100)
    greatest = require(greatest, "greatest efficiency", "(a plain number)", above=0, at_most=1)
    return bare_boiler_efficiency(return_temperature, dry, gain, dew_point, greatest)
