"""How much water grows when it warms up."""

from tlib import water_properties
from tlib.units import ATMOSPHERE
from tlib.validation import require

__all__ = ["expanded_fraction", "expansion_volume"]


def expanded_fraction(cold, hot, pressure=ATMOSPHERE, glycol=0.0):
    """Return by what share of its cold volume water grows.

    Parameters
    ----------
    cold, hot : array_like
        Temperature when filled and at its hottest [°C]; within what `water_properties.density` takes.
    pressure : array_like, optional
        Absolute pressure [Pa].
    glycol : array_like, optional
        Share of propylene glycol by volume [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Growth over cold volume [-] in the common shape of the inputs; below 0 where it shrinks, as from 0 to 4 °C.

    Raises
    ------
    OutOfRange
        If an input is not finite, or the liquid would freeze or boil.

    Notes
    -----
    The same mass before and after. Rules differ: the European table counts from 4 °C and lies 0.2 points above this
    at 40 °C and level at 80; the 4 % rule fits a store that may boil. Take the hottest the safety chain lets it get.

    References
    ----------
    [IAPWS R6-95] densities.

    Examples
    --------
    >>> print(f"{100 * expanded_fraction(cold=10.0, hot=85.0):.2f} %")
    3.21 %
    """
    before = water_properties.density(cold, pressure, glycol)
    return before / water_properties.density(hot, pressure, glycol) - 1.0


def expansion_volume(volume, cold, hot, pressure=ATMOSPHERE, glycol=0.0):
    """Return the room that the water of a system needs beside its own when it warms up.

    Parameters
    ----------
    volume : array_like
        All water joined to the vessel or cistern, cold: store, burner, pipes and radiators [m3]; 0 or more.
    cold, hot : array_like
        Temperature when filled and at its hottest [°C].
    pressure : array_like, optional
        Absolute pressure [Pa].
    glycol : array_like, optional
        Share of propylene glycol by volume [-]; 0 to 0.5.

    Returns
    -------
    float or ndarray
        Growth [m3] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the liquid would freeze or boil.

    Notes
    -----
    The pipes and the store grow too, by about a twentieth of this; it is left out, on the safe side.

    References
    ----------
    [IAPWS R6-95] densities.

    Examples
    --------
    >>> print(f"{1000 * expansion_volume(volume=0.410, cold=10.0, hot=85.0):.1f} litres")
    13.2 litres
    """
    return require(volume, "volume", "m3", at_least=0) * expanded_fraction(cold, hot, pressure, glycol)
