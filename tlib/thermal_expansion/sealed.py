"""The sealed system: expansion vessels, and what the gauge says cold, hot and with a flat vessel."""

import numpy as np

from tlib.compiled import kernel
from tlib.tables import table
from tlib.units import ATMOSPHERE
from tlib.validation import OutOfRange, require

__all__ = [
    "acceptance_factor",
    "fill_pressure",
    "flat_vessel_pressure",
    "hot_pressure",
    "next_stock_size",
    "relief_spill",
    "sealed_vessel",
    "solar_vessel",
    "static_pressure",
    "vessel_content",
    "vessel_pressure",
    "water_reserve",
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
    return vessel * charge_pressure / (vessel - water)


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
    [SI brochure] standard acceleration of gravity; weight of a column.

    Examples
    --------
    >>> print(f"{static_pressure(height=5.0) / 1e5:.2f} bar")
    0.49 bar
    """
    height = require(height, "height", "m", at_least=0)
    return require(density, "density", "kg/m3", above=0) * GRAVITY * height


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
    [VDI 6002] solar vessel with the collector's content, second-hand.

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
    require(vessel - reserve - growth, "room left for the vessel's gas", "m3", above=0)
    return vessel_pressure(vessel, reserve + growth, charge_pressure)


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


def relief_spill(vessel, growth, charge_pressure, fill_pressure, relief_pressure):
    """Return the water that the relief valve lets out at a warm-up, because the vessel cannot take it.

    Parameters
    ----------
    vessel, growth : array_like
        Size of the vessel [m3]; above 0, and growth [m3]; 0 or more.
    charge_pressure, fill_pressure, relief_pressure : array_like
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
        hot - vessel_content(vessel, charge_pressure, fill_pressure), "room between fill and relief", "m3", at_least=0
    )
    return np.maximum(growth - taken, 0.0)[()]


def flat_vessel_pressure(vessel, growth, fill_pressure, left_pressure=ATMOSPHERE):
    """Return the pressure of a hot system whose vessel has lost its charge.

    Parameters
    ----------
    vessel, growth : array_like
        Size of the vessel [m3]; above 0, and growth [m3]; 0 or more.
    fill_pressure : array_like
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
    >>> hot = flat_vessel_pressure(vessel=0.050, growth=0.0132, fill_pressure=211_325.0)
    >>> print(f"{(hot - 101_325.0) / 1e5:.1f} bar on the gauge")
    3.7 bar on the gauge
    """
    left_pressure = require(left_pressure, "pressure left in the vessel", "Pa", at_least=ATMOSPHERE)
    held = vessel_content(vessel, left_pressure, fill_pressure)
    growth = require(growth, "growth", "m3", at_least=0)
    gas = require(vessel, "vessel", "m3", above=0) - held
    if not np.all(growth < gas):
        raise OutOfRange("growth must be below the gas left in the flat vessel: the water has nowhere to go.")
    return vessel_pressure(vessel, held + growth, left_pressure)


def _pressures(low_pressure, top_pressure):
    low_pressure = require(low_pressure, "low or charge pressure", "Pa", above=0)
    top_pressure = require(top_pressure, "top or system pressure", "Pa", above=0)
    require(top_pressure - low_pressure, "top less low pressure", "Pa", at_least=0)
    return low_pressure, top_pressure
