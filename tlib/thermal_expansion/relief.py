"""Relief: what a safety valve must pass, and the pipe that carries a hot discharge away."""

from dataclasses import dataclass

from tlib import water_properties
from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["DischargePipe", "discharge_pipe", "relief_capacity"]


@dataclass(frozen=True)
class DischargePipe:
    """The discharge pipe of a temperature relief valve.

    Attributes
    ----------
    before_tundish : float
        Least size of the pipe from valve to tundish [m].
    after_tundish : float
        Size of the pipe from the tundish on [m].
    resistance : float
        Its length with its elbows, as straight pipe [m].
    allowed : float
        Longest resistance allowed in that size [m].
    """

    before_tundish: float
    after_tundish: float
    resistance: float
    allowed: float


def relief_capacity(power, pressure):
    """Return the steam that a safety valve must pass to carry away all the heat a source can give.

    Parameters
    ----------
    power : array_like
        Greatest heat of the source to the water [W]; 0 or more.
    pressure : array_like
        Absolute pressure when the valve blows [Pa]; 100 000 to 1 200 000.

    Returns
    -------
    float or ndarray
        Steam [kg/s] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The valve's own rating for steam, from its maker, must be at least this. It keeps the pressure down and does not
    put the fire out. A discharge is steam and near-boiling water.

    References
    ----------
    [EN 12828] safety valves pass the steam of the rated output, second-hand; latent heat within 0.2 % of
    [IAPWS R7-97].

    Examples
    --------
    >>> print(f"{3600 * relief_capacity(power=50e3, pressure=401_325.0):.0f} kg/h")
    84 kg/h
    """
    power = require(power, "power", "W", at_least=0)
    pressure = require(pressure, "pressure", "Pa", at_least=1e5, at_most=1.2e6)
    return power / _latent_heat(pressure)


def discharge_pipe(outlet, length, elbows):
    """Return the copper discharge pipe that the English guidance gives for a temperature relief valve.

    Parameters
    ----------
    outlet : str
        Thread of the valve's outlet: "G1/2", "G3/4" or "G1".
    length : float
        Pipe from the tundish to where it ends [m]; 0 or more.
    elbows : int
        Elbows and bends in it; 0 or more.

    Returns
    -------
    DischargePipe
        The smallest that passes.

    Raises
    ------
    OutOfRange
        If the outlet is not in the table, an input is outside the range above or is not finite, or the run is too
        long for every size in the table.

    Notes
    -----
    Metal pipe from valve to tundish; the tundish upright and in sight, at most 600 mm of pipe from the valve (500 mm
    in older editions); below it 300 mm straight down, then a steady fall of 1 in 200 or more, to a place where
    near-boiling water hurts nobody. For vessels of stored hot water: for a thermal discharge valve the appliance
    instructions come first. Have it checked by a qualified person.

    References
    ----------
    [Approved Document G] G3, table of copper discharge pipe sizes and worked example.

    Examples
    --------
    >>> pipe = discharge_pipe("G1/2", length=7.0, elbows=4)
    >>> print(f"{1000 * pipe.after_tundish:.0f} mm: {pipe.resistance:.1f} m of {pipe.allowed:.0f} m")
    28 mm: 11.0 m of 18 m
    """
    valves = table("discharge_pipe")["valves"]
    if outlet not in valves:
        raise OutOfRange(f"outlet of the valve must be one of {', '.join(valves)}; got {outlet!r}.")
    length = require(length, "length of the discharge pipe", "m", at_least=0)
    elbows = require(elbows, "number of elbows", "[-]", at_least=0)
    if length.ndim or elbows.ndim:
        raise OutOfRange(f"length and elbows must be single numbers; got shapes {length.shape} and {elbows.shape}.")
    for size, allowed, each_elbow in valves[outlet]["after"]:
        resistance = length + elbows * each_elbow
        if resistance <= allowed:
            return DischargePipe(valves[outlet]["before"], size, float(resistance), allowed)
    raise OutOfRange(f"discharge pipe must have a resistance of {allowed:g} m or less; got {resistance:g} m.")


def _latent_heat(pressure):
    """Return the latent heat of steam [J/kg]: a power of the distance to the critical point, fitted to steam tables."""
    kelvin = water_properties.saturation_temperature(pressure) + 273.15
    return 2.2565e6 * ((647.096 - kelvin) / (647.096 - 373.124)) ** 0.33
