"""Conductance of tubes and coils, from the water inside through the wall to the water outside."""

from dataclasses import dataclass

import numpy as np

from tlib import water_properties
from tlib.compiled import kernel
from tlib.heat_transfer.outside_films import GRAVITY, LARGEST, cylinder
from tlib.heat_transfer.tube_films import nusselt_in_helix
from tlib.tables import table
from tlib.validation import require

__all__ = ["Coil", "coil_conductance", "fouled_conductance", "tube_conductance"]

_HALVINGS = 50


@dataclass(frozen=True)
class Coil:
    """A plain tube wound to a helix that stands in the store.

    Attributes
    ----------
    length : float
        Tube in the store [m].
    bore, outside : float
        Inside and outside diameter of the tube [m].
    diameter : float
        Diameter of the helix, from middle to middle of the tube [m].
    conductivity : float
        Of the tube's wall [W/(m K)]; copper unless said.
    fouling : float
        Resistance of scale on the bore [m2 K/W]; 0 when new.

    Raises
    ------
    OutOfRange
        If a size is not above 0, or the tube is not wider outside than inside.

    Examples
    --------
    >>> Coil(length=18.0, bore=0.020, outside=0.022, diameter=0.45).fouling
    0.0
    """

    length: float
    bore: float
    outside: float
    diameter: float
    conductivity: float = table("conductivities")["copper"]["conductivity"]
    fouling: float = 0.0

    def __post_init__(self):
        require(self.length, "length of the coil", "m", above=0)
        require(self.bore, "bore", "m", above=0)
        require(self.outside, "outside diameter", "m", above=self.bore)
        require(self.diameter, "coil diameter", "m", above=self.outside)
        require(self.conductivity, "conductivity of the wall", "W/(m K)", above=0)
        require(self.fouling, "fouling resistance", "m2 K/W", at_least=0)

    @property
    def area(self):
        """Outside surface [m2]."""
        return np.pi * self.outside * self.length


@kernel
def tube_resistance(length, bore, outside, conductivity, inside_film, fouling):
    """Resistance from the water inside to the outer face of a tube [K/W]; numbers are not checked."""
    inner = (1.0 / inside_film + fouling) / (np.pi * bore * length)
    return inner + np.log(outside / bore) / (2.0 * np.pi * conductivity * length)


def tube_conductance(length, bore, outside, conductivity, inside_film, outside_film, fouling=0.0):
    """Return the conductance of a tube from the fluid inside to the fluid outside.

    Parameters
    ----------
    length, bore, outside : array_like
        Length, inside and outside diameter [m]; above 0, the outside wider than the bore.
    conductivity : array_like
        Of the wall [W/(m K)]; above 0.
    inside_film, outside_film : array_like
        Heat transfer coefficients on the bore and on the outer face [W/(m2 K)]; above 0.
    fouling : array_like, optional
        Resistance of scale on the bore [m2 K/W]; 0 or more.

    Returns
    -------
    float or ndarray
        Conductance [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equations 3.33 and 3.36.

    Examples
    --------
    >>> ua = tube_conductance(15.0, 0.040, 0.046, 52.0, 120.0, 20.167)
    >>> print(f"{80 * ua:.0f} W")
    2928 W
    """
    length = require(length, "length", "m", above=0)
    bore = require(bore, "bore", "m", above=0)
    outside = require(outside, "outside diameter", "m", above=0)
    require(outside - bore, "outside diameter less bore", "m", above=0)
    conductivity = require(conductivity, "conductivity of the wall", "W/(m K)", above=0)
    inside_film = require(inside_film, "inside film", "W/(m2 K)", above=0)
    outside_film = require(outside_film, "outside film", "W/(m2 K)", above=0)
    fouling = require(fouling, "fouling resistance", "m2 K/W", at_least=0)
    within = tube_resistance(length, bore, outside, conductivity, inside_film, fouling)
    return 1.0 / (within + 1.0 / (outside_film * np.pi * outside * length))


def fouled_conductance(ua, area, fouling):
    """Return what scale or dirt leaves of a conductance.

    Parameters
    ----------
    ua : array_like
        Conductance when clean [W/K]; above 0.
    area : array_like
        Area on which the layer lies [m2]; above 0.
    fouling : array_like
        Resistance of the layer [m2 K/W]; 0 or more. Its thickness over its conductivity.

    Returns
    -------
    float or ndarray
        Conductance [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equation 11.1.

    Examples
    --------
    >>> print(f"{fouled_conductance(ua=900.0, area=1.13, fouling=2e-4):.0f} W/K")
    776 W/K
    """
    ua = require(ua, "clean conductance", "W/K", above=0)
    area = require(area, "area", "m2", above=0)
    fouling = require(fouling, "fouling resistance", "m2 K/W", at_least=0)
    return 1.0 / (1.0 / ua + fouling / area)


def coil_conductance(coil, flow, water, store):
    """Return the conductance of a coil in still store water, with the temperature of its wall solved for.

    Parameters
    ----------
    coil : Coil
        The coil.
    flow : array_like
        Water through it [kg/s]; above 0, at most what makes a Reynolds number of 150 000.
    water : array_like
        Mean temperature of the water in the coil [°C]; 0 to 100.
    store : array_like
        Store water round the coil [°C]; 0 to 100.

    Returns
    -------
    float or ndarray
        Conductance from the water in the coil to the store water [W/K], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Inside the helix film by Schmidt, outside free convection from one long horizontal cylinder, both sides plain
    water at air pressure. The outer film governs, and it needs the temperature of the wall: that is found by
    halving. Turns that stand close, or lie in each other's plume, give less; a test of the real coil outranks this.

    References
    ----------
    [Schmidt 1967]; [Churchill 1975b].

    Examples
    --------
    >>> coil = Coil(length=18.0, bore=0.020, outside=0.022, diameter=0.45)
    >>> print(f"{coil_conductance(coil, flow=0.20, water=25.0, store=60.0):.0f} W/K")
    1007 W/K
    """
    flow = require(flow, "flow through the coil", "kg/s", above=0)
    water = require(water, "water in the coil", "°C", at_least=0, at_most=100)
    store = require(store, "store temperature", "°C", at_least=0, at_most=100)
    inside = _inside_film(coil, flow, water)
    within = tube_resistance(coil.length, coil.bore, coil.outside, coil.conductivity, inside, coil.fouling)
    share = _wall_share(coil, within, water, store)
    outside = _outside_film(coil, store + share * (water - store), store)
    return 1.0 / (within + 1.0 / (outside * coil.area))


def _inside_film(coil, flow, water):
    viscosity, conductivity = water_properties.viscosity(water), water_properties.conductivity(water)
    reynolds = 4.0 * flow / (np.pi * coil.bore * viscosity)
    prandtl = viscosity * water_properties.specific_heat(water) / conductivity
    return nusselt_in_helix(reynolds, prandtl, coil.bore, coil.diameter) * conductivity / coil.bore


def _outside_film(coil, wall, store):
    """Return the coefficient of free convection from the coil's outer face at a wall temperature."""
    film = (wall + store) / 2.0
    viscosity, conductivity = water_properties.viscosity(film), water_properties.conductivity(film)
    specific_heat, density = water_properties.specific_heat(film), water_properties.density(film)
    lift = GRAVITY * np.abs(water_properties.expansion_coefficient(film) * (wall - store))
    prandtl = viscosity * specific_heat / conductivity
    rayleigh = lift * coil.outside**3 * (density / viscosity) ** 2 * prandtl
    rayleigh = require(rayleigh, "Rayleigh number outside the coil", "[-]", at_most=LARGEST)
    return cylinder(rayleigh, prandtl) * conductivity / coil.outside


def _wall_share(coil, within, water, store):
    """Return where the outer face lies between store (0) and water (1), so that what comes through leaves it."""
    low = np.zeros(np.broadcast_shapes(np.shape(within), np.shape(water), np.shape(store)))
    high = low + 1.0
    for _ in range(_HALVINGS):
        share = (low + high) / 2.0
        outside = _outside_film(coil, store + share * (water - store), store)
        leaves_more = outside * coil.area * within * share > 1.0 - share
        low, high = np.where(leaves_more, low, share), np.where(leaves_more, share, high)
    return ((low + high) / 2.0)[()]
