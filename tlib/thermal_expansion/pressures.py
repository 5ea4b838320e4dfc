"""Pressure in a sealed system: what the gauge says cold, hot, and with a vessel that is flat or too small."""

import numpy as np

from tlib.compiled import kernel
from tlib.thermal_expansion.vessels import acceptance_factor
from tlib.units import ATMOSPHERE
from tlib.validation import OutOfRange, require

__all__ = [
    "fill_pressure",
    "flat_vessel_pressure",
    "hot_pressure",
    "relief_spill",
    "static_pressure",
    "vessel_content",
    "vessel_pressure",
]

GRAVITY = 9.80665


@kernel
def vessel_pressure(vessel, water, charge_pressure):
    """Absolute pressure of the gas in a vessel that holds so much water; numbers are not checked.

    Parameters
    ----------
    vessel, water : float or ndarray
        Size of the vessel, and the water in it [m3].
    charge_pressure : float or ndarray
        Absolute pressure of its gas when it holds no water [Pa].

    Returns
    -------
    float or ndarray
        Absolute pressure [Pa].
    """
    return charge_pressure * (vessel / (vessel - water))


def static_pressure(height, density=1000.0):
    """Return the pressure that a column of water adds at its foot.

    Parameters
    ----------
    height : array_like
        Height of the water above [m]; 0 or more.
    density : array_like, optional
        Density of the water [kg/m3]; above 0. Taught sums take 1000.

    Returns
    -------
    float or ndarray
        Pressure above that at the top of the column [Pa], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [SI Brochure] standard acceleration of gravity; weight of a column.

    Examples
    --------
    >>> print(f"{static_pressure(height=5.0) / 1e5:.2f} bar")
    0.49 bar
    """
    height = require(height, "height", "m", at_least=0)
    return require(density, "density", "kg/m3", above=0) * GRAVITY * height


def fill_pressure(vessel, reserve, charge_pressure):
    """Return the pressure to fill a cold system to, so that the vessel holds its reserve.

    Parameters
    ----------
    vessel, reserve : array_like
        Size of the vessel, and the water to be in it when cold [m3]; the reserve 0 or more and below the vessel.
    charge_pressure : array_like
        Absolute pressure of the vessel's gas before filling [Pa]; above 0.

    Returns
    -------
    float or ndarray
        Absolute pressure [Pa] in the common shape of the inputs; the gauge shows the air pressure less.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The least by the sum. Common practice is to fill about 0.3 bar above the charge where the vessel allows it.

    References
    ----------
    [EN 12828] annex D, second-hand.

    Examples
    --------
    >>> cold = fill_pressure(vessel=0.050, reserve=0.003, charge_pressure=201_325.0)
    >>> print(f"{(cold - 101_325.0) / 1e5:.2f} bar on the gauge")
    1.13 bar on the gauge
    """
    return hot_pressure(vessel, reserve, 0.0, charge_pressure)


def hot_pressure(vessel, reserve, growth, charge_pressure):
    """Return the pressure of a hot sealed system.

    Parameters
    ----------
    vessel, reserve, growth : array_like
        Size of the vessel, water in it when cold, and growth [m3]; 0 or more, the last two together below the first.
    charge_pressure : array_like
        Absolute pressure of the vessel's gas before filling [Pa]; above 0.

    Returns
    -------
    float or ndarray
        Absolute pressure [Pa] in the common shape of the inputs; the gauge shows the air pressure less.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the vessel cannot hold the water.

    Notes
    -----
    The gas is taken to keep its temperature. What comes out may lie above the relief valve's setting: the valve
    then opens and the water is lost, see `relief_spill`.

    References
    ----------
    [EN 12828] annex D, second-hand; gas at one temperature, pressure times volume constant.

    Examples
    --------
    >>> hot = hot_pressure(vessel=0.050, reserve=0.003, growth=0.0161, charge_pressure=181_325.0)
    >>> print(f"{(hot - 101_325.0) / 1e5:.2f} bar on the gauge")
    1.92 bar on the gauge
    """
    vessel = require(vessel, "vessel", "m3", above=0)
    reserve = require(reserve, "reserve", "m3", at_least=0)
    growth = require(growth, "growth", "m3", at_least=0)
    charge_pressure = require(charge_pressure, "charge pressure", "Pa", above=0)
    water = reserve + growth
    require(vessel - water, "room left for the vessel's gas", "m3", above=0)
    return vessel_pressure(vessel, water, charge_pressure)


def vessel_content(vessel, charge_pressure, pressure):
    """Return the water that a vessel holds at a pressure.

    Parameters
    ----------
    vessel : array_like
        Size of the vessel [m3]; above 0.
    charge_pressure, pressure : array_like
        Absolute pressure of its gas before filling, and of the system now [Pa]; the second not below the first.

    Returns
    -------
    float or ndarray
        Water in the vessel [m3] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EN 12828] annex D, second-hand, turned round.

    Examples
    --------
    >>> print(f"{1000 * vessel_content(0.050, charge_pressure=181_325.0, pressure=211_325.0):.1f} litres")
    7.1 litres
    """
    return require(vessel, "vessel", "m3", above=0) * acceptance_factor(charge_pressure, pressure)


def relief_spill(vessel, growth, charge_pressure, cold_pressure, relief_pressure):
    """Return the water that the relief valve lets out at a warm-up, because the vessel cannot take it.

    Parameters
    ----------
    vessel, growth : array_like
        Size of the vessel [m3]; above 0, and growth [m3]; 0 or more.
    charge_pressure, cold_pressure, relief_pressure : array_like
        Absolute pressure of the gas before filling, of the cold system, and at which the valve opens [Pa], none
        below the one before.

    Returns
    -------
    float or ndarray
        Water lost [m3] in the common shape of the inputs; 0 where the valve stays shut.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    What is lost hot is missing cold: the gauge falls, someone fills up, and scale builds up on the valve until it
    weeps, or seizes. A dripping valve is a question, not yet a faulty valve.

    References
    ----------
    [EN 12828] annex D, second-hand; balance of the water.

    Examples
    --------
    >>> spill = relief_spill(0.035, 0.0161, 181_325.0, 211_325.0, 401_325.0)
    >>> print(f"{1000 * spill:.1f} litres")
    1.9 litres
    """
    growth = require(growth, "growth", "m3", at_least=0)
    hot = vessel_content(vessel, charge_pressure, relief_pressure)
    taken = require(
        hot - vessel_content(vessel, charge_pressure, cold_pressure), "room between fill and relief", "m3", at_least=0
    )
    return np.maximum(growth - taken, 0.0)[()]


def flat_vessel_pressure(vessel, growth, cold_pressure, left_pressure=ATMOSPHERE):
    """Return the pressure of a hot system whose vessel has lost its charge.

    Parameters
    ----------
    vessel, growth : array_like
        Size of the vessel [m3]; above 0, and growth [m3]; 0 or more.
    cold_pressure : array_like
        Absolute pressure of the cold system [Pa].
    left_pressure : array_like, optional
        Absolute pressure of the gas that is left, the vessel empty of water [Pa]; at least the air's, not above the
        fill pressure.

    Returns
    -------
    float or ndarray
        Absolute pressure [Pa] in the common shape of the inputs, if no valve opened before.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the growth finds no room at all: then only the
        relief valve stands between the water and the weakest joint.

    Notes
    -----
    A flat vessel is mostly full of water when cold, so the gauge swings from normal when cold to the relief valve's
    setting when hot. The charge can only be checked with the water let out of it.

    References
    ----------
    [EN 12828] annex D, second-hand, with the charge that is left.

    Examples
    --------
    >>> hot = flat_vessel_pressure(vessel=0.050, growth=0.0132, cold_pressure=211_325.0)
    >>> print(f"{(hot - 101_325.0) / 1e5:.1f} bar on the gauge")
    3.7 bar on the gauge
    """
    left_pressure = require(left_pressure, "pressure left in the vessel", "Pa", at_least=ATMOSPHERE)
    held = vessel_content(vessel, left_pressure, cold_pressure)
    growth = require(growth, "growth", "m3", at_least=0)
    gas = require(vessel, "vessel", "m3", above=0) - held
    if not np.all(growth < gas):
        raise OutOfRange("growth must be below the gas left in the flat vessel: the water has nowhere to go.")
    return vessel_pressure(vessel, held + growth, left_pressure)
