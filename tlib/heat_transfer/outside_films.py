"""Films outside: water rising off a coil, still air on a jacket, and the heat that shines off a surface."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = [
    "nusselt_outside_cylinder",
    "nusselt_vertical_wall",
    "radiative_coefficient",
    "still_air_film",
    "still_air_pipe_film",
]

GRAVITY = 9.80665
STEFAN_BOLTZMANN = 5.670374419e-8
ZERO_CELSIUS = 273.15
SMOOTHEST, LARGEST = 1e-5, 1e12
"""Rayleigh numbers between which the two free-convection rules hold."""


@kernel
def cylinder(rayleigh, prandtl):
    """Nusselt number outside a horizontal cylinder by Churchill and Chu; numbers are not checked."""
    spread = (1.0 + (0.559 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    return (0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / spread) ** 2


@kernel
def wall(rayleigh, prandtl):
    """Nusselt number on a vertical wall by Churchill and Chu; numbers are not checked."""
    spread = (1.0 + (0.492 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    return (0.825 + 0.387 * rayleigh ** (1.0 / 6.0) / spread) ** 2


def nusselt_outside_cylinder(rayleigh, prandtl):
    """Return the Nusselt number of free convection outside a horizontal cylinder.

    Parameters
    ----------
    rayleigh : array_like
        Rayleigh number on the outside diameter [-]; 1e-5 to 1e12.
    prandtl : array_like
        Prandtl number at the mean of surface and surroundings [-]; above 0.

    Returns
    -------
    float or ndarray
        Nusselt number on the outside diameter [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    For one long cylinder with nothing above it. The upper turns of a coil stand in the plume of the lower ones.

    References
    ----------
    [Churchill 1975b]; [Incropera] equation 9.34.

    Examples
    --------
    >>> print(f"{nusselt_outside_cylinder(rayleigh=5.073e6, prandtl=0.697):.1f}")
    23.1
    """
    rayleigh = require(rayleigh, "Rayleigh number", "[-]", at_least=SMOOTHEST, at_most=LARGEST)
    prandtl = require(prandtl, "Prandtl number", "[-]", above=0)
    return cylinder(rayleigh, prandtl)


def nusselt_vertical_wall(rayleigh, prandtl):
    """Return the Nusselt number of free convection on a vertical wall, or on the side of a wide store.

    Parameters
    ----------
    rayleigh : array_like
        Rayleigh number on the height [-]; 1e-5 to 1e12.
    prandtl : array_like
        Prandtl number at the mean of surface and surroundings [-]; above 0.

    Returns
    -------
    float or ndarray
        Nusselt number on the height [-] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Holds for a cylinder standing up whose diameter is at least 35 heights over the fourth root of the Grashof
    number: every store of this course.

    References
    ----------
    [Churchill 1975a]; [Incropera] equation 9.26.

    Examples
    --------
    >>> print(f"{nusselt_vertical_wall(rayleigh=0.69 * 2.63e9, prandtl=0.69):.0f}")
    147
    """
    rayleigh = require(rayleigh, "Rayleigh number", "[-]", at_least=SMOOTHEST, at_most=LARGEST)
    prandtl = require(prandtl, "Prandtl number", "[-]", above=0)
    return wall(rayleigh, prandtl)


def radiative_coefficient(surface, surroundings, emissivity=0.9):
    """Return the heat transfer coefficient of radiation from a small surface in a large room.

    Parameters
    ----------
    surface, surroundings : array_like
        Surface, and the walls it sees [°C]; -50 to 250.
    emissivity : array_like, optional
        Emissivity of the surface [-]; 0 to 1. Paint and most coverings 0.9, bright metal 0.1 or less.

    Returns
    -------
    float or ndarray
        Coefficient [W/(m2 K)] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equation 1.9.

    Examples
    --------
    >>> print(f"{radiative_coefficient(surface=30.0, surroundings=20.0):.2f} W/(m2 K)")
    5.41 W/(m2 K)
    """
    surface = require(surface, "surface temperature", "°C", at_least=-50, at_most=250) + ZERO_CELSIUS
    surroundings = require(surroundings, "temperature of the surroundings", "°C", at_least=-50, at_most=250)
    emissivity = require(emissivity, "emissivity", "[-]", at_least=0, at_most=1)
    walls = surroundings + ZERO_CELSIUS
    return emissivity * STEFAN_BOLTZMANN * (surface**2 + walls**2) * (surface + walls)


def still_air_film(surface, air, height, emissivity=0.9):
    """Return the coefficient from a vertical surface to a still room: free convection and radiation together.

    Parameters
    ----------
    surface, air : array_like
        Surface, and the air and walls of the room [°C]; -50 to 250.
    height : array_like
        Height of the surface [m]; above 0, up to 10.
    emissivity : array_like, optional
        Emissivity of the surface [-]; 0 to 1.

    Returns
    -------
    float or ndarray
        Coefficient [W/(m2 K)] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the Rayleigh number passes 1e12.

    Notes
    -----
    Air and walls are taken to have one temperature. A jacket a few kelvin above its room has about 8 W/(m2 K),
    more than half of it radiation. A draught raises it.

    References
    ----------
    [Churchill 1975a]; air by [White 2006] table A.2, power laws of Sutherland's form.

    Examples
    --------
    >>> print(f"{still_air_film(surface=25.0, air=15.0, height=1.26):.1f} W/(m2 K)")
    8.3 W/(m2 K)
    """
    return _still_air(surface, air, height, emissivity, wall)


def still_air_pipe_film(surface, air, diameter, emissivity=0.9):
    """Return the coefficient from a horizontal pipe to a still room: free convection and radiation together.

    Parameters
    ----------
    surface, air : array_like
        Surface, and the air and walls of the room [°C]; -50 to 250.
    diameter : array_like
        Outside diameter of the pipe or of its insulation [m]; above 0, up to 10.
    emissivity : array_like, optional
        Emissivity of the surface [-]; 0 to 1. Bright copper about 0.05, old or painted copper 0.6 to 0.9.

    Returns
    -------
    float or ndarray
        Coefficient [W/(m2 K)] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, is not finite, or the Rayleigh number passes 1e12.

    References
    ----------
    [Churchill 1975b]; air as in `still_air_film`.

    Examples
    --------
    >>> print(f"{still_air_pipe_film(surface=165.0, air=23.0, diameter=0.1, emissivity=0.85):.1f} W/(m2 K)")
    17.2 W/(m2 K)
    """
    return _still_air(surface, air, diameter, emissivity, cylinder)


def _still_air(surface, air, size, emissivity, nusselt):
    radiation = radiative_coefficient(surface, air, emissivity)
    size = require(size, "height or diameter", "m", above=0, at_most=10)
    surface, air = np.asarray(surface, dtype=float), np.asarray(air, dtype=float)
    conductivity, diffusivity, prandtl, expansion = _air((surface + air) / 2)
    lift = GRAVITY * expansion * np.abs(surface - air)
    rayleigh = require(lift * size**3 / (diffusivity**2 * prandtl), "Rayleigh number", "[-]", at_most=LARGEST)
    return nusselt(rayleigh, prandtl) * conductivity / size + radiation


def _air(celsius):
    """Return conductivity, thermal diffusivity, Prandtl number and expansion coefficient of dry air at 101 325 Pa."""
    kelvin = celsius + ZERO_CELSIUS
    scale = (kelvin / 273.0) ** 1.5
    viscosity = 1.716e-5 * scale * (273.0 + 111.0) / (kelvin + 111.0)
    conductivity = 0.0241 * scale * (273.0 + 194.0) / (kelvin + 194.0)
    density, specific_heat = 101_325.0 / (287.05 * kelvin), 1007.0
    diffusivity = conductivity / (density * specific_heat)
    return conductivity, diffusivity, viscosity / density / diffusivity, 1.0 / kelvin
