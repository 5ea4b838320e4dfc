"""What a store, its pipes and its bare fittings lose for each kelvin, from their sizes."""

import numpy as np

from tlib.validation import require

__all__ = [
    "cylinder_loss_coefficient",
    "end_loss_coefficient",
    "exposed_pipe_loss_coefficient",
    "store_loss_coefficient",
]


def cylinder_loss_coefficient(diameter, length, insulation, conductivity, outside_film):
    """Return the loss coefficient of the side of a store, or of a pipe, wrapped in insulation.

    Parameters
    ----------
    diameter, length : array_like
        Outside diameter without insulation, and height or length [m]; above 0.
    insulation : array_like
        Thickness of the insulation [m]; 0 or more, 0 where it is bare.
    conductivity : array_like
        Of the insulation [W/(m K)]; above 0.
    outside_film : array_like
        Heat transfer coefficient to the room [W/(m2 K)]; above 0.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The metal wall and the film inside are left out: they hold back less than 1 % of what the room side does. On a
    thin pipe the first millimetres can raise the loss, because they add surface: see the critical radius.

    References
    ----------
    [Incropera] equations 3.33 and 3.36.

    Examples
    --------
    Five metres of 22 mm pipe, bare and with 25 mm of foam.

    >>> bare, wrapped = cylinder_loss_coefficient(0.022, 5.0, [0.0, 0.025], 0.035, 10.0)
    >>> print(f"{bare:.2f} W/K, {wrapped:.2f} W/K")
    3.46 W/K, 0.86 W/K
    """
    diameter = require(diameter, "diameter", "m", above=0)
    length = require(length, "height or length", "m", above=0)
    insulation, conductivity, outside_film = _wrapping(insulation, conductivity, outside_film)
    outer = diameter + 2.0 * insulation
    through = np.log(outer / diameter) / (2.0 * np.pi * conductivity * length)
    return 1.0 / (through + 1.0 / (outside_film * np.pi * outer * length))


def end_loss_coefficient(diameter, insulation, conductivity, outside_film):
    """Return the loss coefficient of one flat end of a store.

    Parameters
    ----------
    diameter : array_like
        Diameter of the end without insulation [m]; above 0.
    insulation : array_like
        Thickness of the insulation [m]; 0 or more.
    conductivity : array_like
        Of the insulation [W/(m K)]; above 0.
    outside_film : array_like
        Heat transfer coefficient to the room [W/(m2 K)]; above 0.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Plane conduction through the disc itself; the ring of insulation at its edge is left out.

    References
    ----------
    [Incropera] equation 3.12.

    Examples
    --------
    >>> print(f"{end_loss_coefficient(0.55, 0.050, 0.025, 8.0):.3f} W/K")
    0.112 W/K
    """
    diameter = require(diameter, "diameter", "m", above=0)
    insulation, conductivity, outside_film = _wrapping(insulation, conductivity, outside_film)
    return np.pi * diameter**2 / 4.0 / (insulation / conductivity + 1.0 / outside_film)


def store_loss_coefficient(diameter, height, insulation, conductivity, outside_film):
    """Return the loss coefficient of an insulated store: its side and two flat ends.

    Parameters
    ----------
    diameter, height : array_like
        Of the vessel without insulation [m]; above 0.
    insulation : array_like
        Thickness of the insulation [m]; 0 or more, the same all round.
    conductivity : array_like
        Of the insulation [W/(m K)]; above 0.
    outside_film : array_like
        Heat transfer coefficient to the room [W/(m2 K)]; above 0. Still air and radiation come to about 8.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Whole insulation without a gap. Real stores lose more, through fittings, pipes and joints: add
    `exposed_pipe_loss_coefficient` for each bare stub, or take the loss from a label or a test.

    References
    ----------
    [Incropera] equations 3.12, 3.33 and 3.36.

    Examples
    --------
    Twice the thickness does not halve the loss: the outside grows with it.

    >>> thin, thick = store_loss_coefficient(0.55, 1.26, [0.050, 0.100], 0.025, 8.0)
    >>> print(f"{thin:.2f} W/K, {thick:.2f} W/K")
    1.34 W/K, 0.74 W/K
    """
    side = cylinder_loss_coefficient(diameter, height, insulation, conductivity, outside_film)
    return side + 2.0 * end_loss_coefficient(diameter, insulation, conductivity, outside_film)


def exposed_pipe_loss_coefficient(length, outside, bore, conductivity, outside_film):
    """Return the loss coefficient of a bare stub of pipe, or a bare fitting, that leads out of the insulation.

    Parameters
    ----------
    length : array_like
        How far the bare metal stands out [m]; above 0.
    outside : array_like
        Outside diameter [m]; above 0.
    bore : array_like
        Inside diameter [m]; 0 for a solid rod, and less than the outside.
    conductivity : array_like
        Of the metal [W/(m K)]; above 0.
    outside_film : array_like
        Heat transfer coefficient to the room [W/(m2 K)]; above 0.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K], counted on the store's temperature, in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A fin: heat runs along the metal and leaves through its skin; none leaves through the far end, where the
    insulated pipe begins. Water standing in the stub is left out. Where it circulates (one-pipe circulation), the
    loss is that of a hot pipe, `cylinder_loss_coefficient`, and far greater.

    References
    ----------
    [Incropera] table 3.4 case B.

    Examples
    --------
    >>> print(f"{exposed_pipe_loss_coefficient(0.30, 0.022, 0.0202, 384.0, 10.0):.3f} W/K")
    0.117 W/K
    """
    length = require(length, "length", "m", above=0)
    outside = require(outside, "outside diameter", "m", above=0)
    bore = require(bore, "bore", "m", at_least=0)
    require(outside - bore, "outside diameter less bore", "m", above=0)
    conductivity = require(conductivity, "conductivity of the metal", "W/(m K)", above=0)
    outside_film = require(outside_film, "outside film", "W/(m2 K)", above=0)
    around = outside_film * np.pi * outside
    along = conductivity * np.pi / 4.0 * (outside**2 - bore**2)
    return np.sqrt(around * along) * np.tanh(length * np.sqrt(around / along))


def _wrapping(insulation, conductivity, outside_film):
    return (
        require(insulation, "thickness of the insulation", "m", at_least=0),
        require(conductivity, "conductivity of the insulation", "W/(m K)", above=0),
        require(outside_film, "outside film", "W/(m2 K)", above=0),
    )
