"""Expansion vessels: how big, and which size on sale."""

import numpy as np

from tlib.tables import table
from tlib.validation import require

__all__ = ["acceptance_factor", "next_stock_size", "sealed_vessel", "solar_vessel", "water_reserve"]


def water_reserve(system_volume):
    """Return the water that a vessel should hold when the system is cold, against small losses.

    Parameters
    ----------
    system_volume : array_like
        All water of the system [m3]; 0 or more.

    Returns
    -------
    float or ndarray
        Reserve [m3] in the shape of the input: 0.5 % of the system, and at least 3 litres.

    Raises
    ------
    OutOfRange
        If the volume is outside the range above, or is not finite.

    Notes
    -----
    For small vessels the standard asks for 20 % instead; sources differ on whether "small" means a vessel or a
    growth of up to 15 litres. This package takes the rule above for every size.

    References
    ----------
    [EN 12828] annex D, second-hand.

    Examples
    --------
    >>> print(f"{1000 * water_reserve(system_volume=0.410):.1f} litres")
    3.0 litres
    """
    rule = table("expansion_vessels")["reserve"]
    return np.maximum(require(system_volume, "system volume", "m3", at_least=0) * rule["share"], rule["least"])[()]


def acceptance_factor(low_pressure, top_pressure):
    """Return the share of a vessel that water can fill between two pressures.

    Parameters
    ----------
    low_pressure, top_pressure : array_like
        Absolute pressure cold and at most [Pa]; above 0, the top not below the low.

    Returns
    -------
    float or ndarray
        Share [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Gauge pressures give a wrong answer that looks right: add the air pressure first.

    References
    ----------
    [BS 7074] part 1.

    Examples
    --------
    >>> print(f"{acceptance_factor(low_pressure=3.46e5, top_pressure=7.3e5):.3f}")
    0.526
    """
    low_pressure, top_pressure = _pressures(low_pressure, top_pressure)
    return 1.0 - low_pressure / top_pressure


def sealed_vessel(growth, reserve, charge_pressure, top_pressure):
    """Return the size of the expansion vessel that a sealed system needs.

    Parameters
    ----------
    growth, reserve : array_like
        Growth of the water, and the water held when cold [m3]; 0 or more.
    charge_pressure : array_like
        Absolute pressure of the vessel's gas before filling [Pa]; above 0.
    top_pressure : array_like
        Absolute pressure not to be passed, usually half a bar under the relief valve's setting [Pa]; above the charge.

    Returns
    -------
    float or ndarray
        Least vessel [m3] in the common shape of the inputs; take the next size up, `next_stock_size`.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A fire on a sealed circuit is only for appliances whose instructions and local code allow it, with the whole
    heat-dump set fitted. Let the pressure down before opening anything.

    References
    ----------
    [EN 12828] annex D, second-hand; the same as [BS 7074] part 1 where the reserve is 0.

    Examples
    --------
    >>> least = sealed_vessel(growth=0.0132, reserve=0.003, charge_pressure=181_325.0, top_pressure=351_325.0)
    >>> print(f"{1000 * least:.1f} litres")
    33.5 litres
    """
    growth = require(growth, "growth", "m3", at_least=0)
    reserve = require(reserve, "reserve", "m3", at_least=0)
    share = acceptance_factor(charge_pressure, top_pressure)
    return (growth + reserve) / require(share, "share of the vessel that water can fill", "[-]", above=0)


def solar_vessel(growth, reserve, collector, charge_pressure, top_pressure):
    """Return the size of the vessel of a solar loop whose collector may boil dry.

    Parameters
    ----------
    growth, reserve : array_like
        Growth of the loop's fluid, and the fluid held when cold [m3]; 0 or more.
    collector : array_like
        Content of the collectors and of the pipes that may fill with steam [m3]; 0 or more.
    charge_pressure, top_pressure : array_like
        Absolute pressure of the gas before filling, and not to be passed [Pa]; the top above the charge.

    Returns
    -------
    float or ndarray
        Least vessel [m3] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Steam pushes the whole content of the collectors into the vessel, on top of the growth. Many designers add half
    as much again for steam in the pipes. Fluid from a hot collector scalds: cover it, and let it cool first.

    References
    ----------
    [EN 12828] annex D with the collector's content added, as [Solar planning guide] works it.

    Examples
    --------
    >>> least = solar_vessel(0.00286, 0.003, collector=0.0042, charge_pressure=2.4e5, top_pressure=6.4e5)
    >>> print(f"{1000 * least:.1f} litres")
    16.1 litres
    """
    collector = require(collector, "content of the collector", "m3", at_least=0)
    growth = require(growth, "growth", "m3", at_least=0)
    return sealed_vessel(growth + collector, reserve, charge_pressure, top_pressure)


def next_stock_size(vessel):
    """Return the smallest vessel on sale that is at least as big as needed.

    Parameters
    ----------
    vessel : array_like
        Least vessel [m3]; above 0, up to the biggest on the list, 80 litres.

    Returns
    -------
    float or ndarray
        Vessel to buy [m3] in the shape of the input.

    Raises
    ------
    OutOfRange
        If the size is outside the range above, or is not finite. Bigger ones: two vessels side by side.

    References
    ----------
    Common practice, no source: 8, 12, 18, 25, 35, 50 and 80 litres.

    Examples
    --------
    >>> print(f"{1000 * next_stock_size(0.0333):.0f} litres")
    35 litres
    """
    sizes = np.array(table("expansion_vessels")["sizes"])
    vessel = require(vessel, "vessel", "m3", above=0, at_most=sizes[-1])
    return sizes[np.searchsorted(sizes, vessel)][()]


def _pressures(low_pressure, top_pressure):
    low_pressure = require(low_pressure, "low or charge pressure", "Pa", above=0)
    top_pressure = require(top_pressure, "top or system pressure", "Pa", above=0)
    require(top_pressure - low_pressure, "top less low pressure", "Pa", at_least=0)
    return low_pressure, top_pressure
