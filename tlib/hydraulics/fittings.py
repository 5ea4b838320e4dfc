"""What bends, tees and valves add to a pipe: resistance coefficients and the flow coefficient Kv."""

import numpy as np

from tlib.compiled import kernel
from tlib.hydraulics.tubes import bore_area
from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["fittings_resistance", "valve_coefficient", "valve_drop", "valve_flow", "valve_resistance"]

_BAR = 1e5
_HOUR = 3600.0
_KV_DENSITY = 1000.0  # of the water for which Kv is stated [kg/m3]


def fittings_resistance(fittings):
    """Sum of the resistance coefficients of some fittings.

    Parameters
    ----------
    fittings : mapping of str to int
        How many of each, by the names of the table ``copper_tubes``, such as ``{"elbow": 4, "gate valve": 1}``.

    Returns
    -------
    float
        Sum of the coefficients [-], counted on the velocity pressure in the pipe they sit in.

    Raises
    ------
    OutOfRange
        If a fitting is not in the table, or a count is below 0 or not finite.

    Notes
    -----
    The coefficients are those of screwed fittings; soldered ones resist less, so the sum errs to the safe side.

    References
    ----------
    [Munson 2009] table 8.2.

    Examples
    --------
    >>> print(f"{fittings_resistance({'elbow': 6, 'tee, straight on': 2, 'gate valve': 2}):.1f}")
    11.1
    """
    known = {name: value for name, value in table("copper_tubes")["fittings"].items() if isinstance(value, float)}
    total = 0.0
    for name, count in fittings.items():
        if name not in known:
            raise OutOfRange(f"fitting must be one of {', '.join(known)}; got {name!r}.")
        total += known[name] * float(require(count, f"number of fittings ({name})", "pieces", at_least=0))
    return total


@kernel
def bare_valve_drop(volume_flow, kv, density):
    """Return the pressure a flow uses up in a valve, of the sign of the flow [Pa]."""
    hourly = volume_flow * _HOUR / kv
    return _BAR * hourly * np.abs(hourly) * density / _KV_DENSITY


def valve_drop(volume_flow, kv, density=1000.0):
    """Pressure drop over a valve of known flow coefficient.

    Parameters
    ----------
    volume_flow : array_like
        Flow [m3/s]; -10 to 10. Its sign is its direction.
    kv : array_like
        Flow coefficient [m3/h at 1 bar]; above 0.
    density : array_like, optional
        Of the water [kg/m3]; above 0.

    Returns
    -------
    float or ndarray
        Pressure drop [Pa], of the sign of the flow, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    For turbulent flow without boiling in the valve. Kv counts cubic metres an hour at one bar; the American Cv counts
    other units and is larger by about 16 %.

    References
    ----------
    [IEC 60534] part 2-1, incompressible flow.

    Examples
    --------
    >>> print(f"{valve_drop(volume_flow=20 / 3600, kv=10.0) / 1e5:.1f} bar")
    4.0 bar
    """
    volume_flow = require(volume_flow, "volume flow", "m3/s", at_least=-10, at_most=10)
    return bare_valve_drop(volume_flow, _checked_kv(kv), _checked_density(density))


def _checked_kv(kv):
    return require(kv, "flow coefficient Kv", "m3/h at 1 bar", above=0)


def _checked_density(density):
    return require(density, "density", "kg/m3", above=0)


def valve_flow(drop, kv, density=1000.0):
    """Flow through a valve of known flow coefficient.

    Parameters
    ----------
    drop : array_like
        Pressure difference over the valve [Pa]; -1e8 to 1e8. Its sign is the direction of the flow.
    kv : array_like
        Flow coefficient [m3/h at 1 bar]; above 0.
    density : array_like, optional
        Of the water [kg/m3]; above 0.

    Returns
    -------
    float or ndarray
        Volume flow [m3/s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [IEC 60534] part 2-1, incompressible flow.

    Examples
    --------
    >>> print(f"{3600 * valve_flow(drop=1e5, kv=2.5):.2f} m3/h")
    2.50 m3/h
    """
    drop = require(drop, "pressure difference", "Pa", at_least=-1e8, at_most=1e8)
    relative = _checked_density(density) / _KV_DENSITY
    return np.sign(drop) * _checked_kv(kv) / _HOUR * np.sqrt(np.abs(drop) / (_BAR * relative))


def valve_coefficient(volume_flow, drop, density=1000.0):
    """Flow coefficient Kv that a valve needs.

    Parameters
    ----------
    volume_flow : array_like
        Flow [m3/s]; above 0, no more than 10.
    drop : array_like
        Pressure drop wanted over the valve [Pa]; above 0, no more than 1e8.
    density : array_like, optional
        Of the water [kg/m3]; above 0.

    Returns
    -------
    float or ndarray
        Kv [m3/h at 1 bar], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [IEC 60534] part 2-1, incompressible flow.

    Examples
    --------
    >>> print(f"{valve_coefficient(volume_flow=1e-3, drop=1e4):.1f}")
    11.4
    """
    volume_flow = require(volume_flow, "volume flow", "m3/s", above=0, at_most=10)
    drop = require(drop, "pressure drop", "Pa", above=0, at_most=1e8)
    return volume_flow * _HOUR * np.sqrt(_BAR * _checked_density(density) / (_KV_DENSITY * drop))


def valve_resistance(kv, bore):
    """Resistance coefficient of a valve of known Kv, so that it can be added to the fittings of its pipe.

    Parameters
    ----------
    kv : array_like
        Flow coefficient [m3/h at 1 bar]; above 0.
    bore : array_like
        Inside diameter of the pipe whose speed the coefficient is counted on [m]; above 0, no more than 1.

    Returns
    -------
    float or ndarray
        Resistance coefficient [-], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [IEC 60534] part 2-1; equal drops by Kv and by velocity pressure.

    Examples
    --------
    >>> print(f"{valve_resistance(kv=4.0, bore=0.0202):.1f}")
    16.6
    """
    area = bore_area(bore)
    return 2.0 * _BAR / _KV_DENSITY * (area * _HOUR / _checked_kv(kv)) ** 2
