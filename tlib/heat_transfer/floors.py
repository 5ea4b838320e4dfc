"""Heated floors: output from the surface, what the water must be, and how warm a floor may get."""

from tlib.compiled import elementwise, kernel
from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["floor_output", "floor_output_from_water", "floor_surface_excess", "floor_surface_limits"]

_EXPONENT = 1.1
_PASSES = 3  # each squares the error: a fifth becomes far less than a ten-billionth
WARMEST = 40.0
"""Floor surface above the room to which the characteristic is used here [K]."""


@kernel
def surface_output(excess):
    """Heat from each square metre of floor [W/m2] at a surface excess [K]; numbers are not checked."""
    return 8.92 * excess**_EXPONENT


@kernel
def output_behind(water_excess, resistance):
    """Heat from each square metre [W/m2] with the water behind a resistance, by Newton; numbers are not checked.

    Water no warmer than the room gives nothing: a floor cooler than its room takes no heat from it in our model.
    The start lies below the surface sought, by less than a fifth of it where the resistance is 0.5 or less.
    """
    if water_excess <= 0.0:
        return 0.0
    surface = water_excess / (1.0 + resistance * surface_output(water_excess) / water_excess)
    given = slope = step = 0.0
    for _ in range(_PASSES):
        given = surface_output(surface)
        slope = _EXPONENT * given / surface
        step = (water_excess - surface - resistance * given) / (1.0 + resistance * slope)
        surface += step
    return given + slope * step


def floor_output(excess):
    """Return the heat that a heated floor gives, from how far its surface is above the room.

    Parameters
    ----------
    excess : array_like
        Mean floor surface above the room [K]; 0 to 40.

    Returns
    -------
    float or ndarray
        Output [W/m2], radiation and convection together, in the shape of the input.

    Raises
    ------
    OutOfRange
        If the excess is outside the range above, or is not finite.

    References
    ----------
    [EN 1264] part 2, basic characteristic curve; the same in [ISO 11855-2] equation 1.

    Examples
    --------
    >>> print(f"{floor_output(excess=9.0):.0f} W/m2")
    100 W/m2
    """
    return surface_output(require(excess, "floor surface above the room", "K", at_least=0, at_most=WARMEST))


def floor_surface_excess(flux):
    """Return how far a floor's surface must be above the room for a wanted output.

    Parameters
    ----------
    flux : array_like
        Output [W/m2]; 0 to 500.

    Returns
    -------
    float or ndarray
        Mean floor surface above the room [K] in the shape of the input.

    Raises
    ------
    OutOfRange
        If the output is outside the range above, or is not finite.

    References
    ----------
    [EN 1264] part 2, basic characteristic curve, turned round.

    Examples
    --------
    >>> print(f"{floor_surface_excess(flux=60.0):.1f} K")
    5.7 K
    """
    return (require(flux, "floor output", "W/m2", at_least=0, at_most=500) / 8.92) ** (1.0 / _EXPONENT)


def floor_output_from_water(water, room, resistance):
    """Return the heat that a heated floor gives, from the temperature of the water in it.

    Parameters
    ----------
    water, room : array_like
        Mean water temperature, and the room [°C]; 0 to 60, the water not below the room.
    resistance : array_like
        From the water to the surface, screed and covering [m2 K/W]; above 0. Tiles on screed about 0.05 to 0.1,
        carpet 0.1 more.

    Returns
    -------
    float or ndarray
        Output [W/m2] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    One resistance stands for pipe spacing, screed and covering; a standard floor has its own from a test. Heat lost
    downwards comes on top.

    References
    ----------
    [EN 1264] part 2, basic characteristic curve.

    Examples
    --------
    >>> print(f"{floor_output_from_water(36.5, room=20.0, resistance=0.10):.0f} W/m2")
    86 W/m2
    """
    water = require(water, "water temperature", "°C", at_least=0, at_most=60)
    room = require(room, "room temperature", "°C", at_least=0, at_most=60)
    excess = require(water - room, "water less room", "K", at_least=0)
    resistance = require(resistance, "resistance", "m2 K/W", above=0)
    return elementwise(output_behind)(excess, resistance)


def floor_surface_limits(room=20.0, bathroom=24.0):
    """Return how warm the surface of a heated floor may get.

    Parameters
    ----------
    room, bathroom : float, optional
        Design temperature of the room and of the bathroom [°C]; 5 to 35.

    Returns
    -------
    dict of str to float
        Warmest surface [°C] of the "occupied" part, the "edge" along outside walls, and the "bathroom".

    Raises
    ------
    OutOfRange
        If a temperature is outside the range above, is not finite, or is not a single number.

    Notes
    -----
    9 K, 15 K and 9 K above the room. One source allows 15 K in wet rooms too; this package keeps to 9 K. The maker
    of the covering, wood above all, may ask for less.

    References
    ----------
    [EN 1264] part 3.

    Examples
    --------
    >>> print({place: f"{limit:.0f} °C" for place, limit in floor_surface_limits().items()})
    {'occupied': '29 °C', 'edge': '35 °C', 'bathroom': '33 °C'}
    """
    room = require(room, "room temperature", "°C", at_least=5, at_most=35)
    bathroom = require(bathroom, "bathroom temperature", "°C", at_least=5, at_most=35)
    if room.ndim or bathroom.ndim:
        raise OutOfRange(f"room and bathroom must be single numbers; got shapes {room.shape} and {bathroom.shape}.")
    above = table("published_limits")["floor"]
    return {
        "occupied": float(room + above["occupied"]),
        "edge": float(room + above["edge"]),
        "bathroom": float(bathroom + above["bathroom"]),
    }
