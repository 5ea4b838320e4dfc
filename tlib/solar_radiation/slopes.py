"""What falls on a slope: straight from the sun, from the sky, and back from the ground."""

from typing import NamedTuple

import numpy as np

from tlib.validation import require

__all__ = ["SlopeIrradiance", "incidence_angle", "isotropic_irradiance", "reindl_irradiance"]

_LOWEST_SUN = np.sin(np.radians(1.0))
"""A sun below one degree counts as at one degree where it divides: on the horizon the ratio says nothing."""


class SlopeIrradiance(NamedTuple):
    """Power of the light that falls on each square metre of a slope [W/m2].

    Attributes
    ----------
    total : float or ndarray
        All of it: the sum of the parts.
    beam : float or ndarray
        Straight from the sun.
    sky : float or ndarray
        Scattered by the sky.
    ground : float or ndarray
        Thrown back by the ground.
    """

    total: np.ndarray
    beam: np.ndarray
    sky: np.ndarray
    ground: np.ndarray


def incidence_angle(elevation, azimuth, slope, facing):
    """Return the angle between the sun's rays and a line that stands square on a slope.

    Parameters
    ----------
    elevation, azimuth : array_like
        Where the sun stands [degree]: elevation -90 to 90, azimuth clockwise from north.
    slope : array_like
        Tilt of the surface from level [degree]; 0 to 180.
    facing : array_like
        Where the surface faces, clockwise from north [degree]; 180 is south.

    Returns
    -------
    float or ndarray
        Angle of incidence in the common (broadcast) shape [degree], 0 to 180; above 90 the sun is behind.

    Raises
    ------
    OutOfRange
        If an angle is outside the range above, or is not finite.

    References
    ----------
    [Duffie 2013] equation 1.6.3.

    Examples
    --------
    >>> print(f"{incidence_angle(elevation=61.9, azimuth=180, slope=35, facing=180):.1f}")
    6.9
    """
    height = np.radians(require(elevation, "elevation", "degree", at_least=-90, at_most=90))
    tilt = np.radians(require(slope, "slope", "degree", at_least=0, at_most=180))
    apart = np.radians(require(azimuth, "azimuth", "degree") - require(facing, "facing", "degree"))
    square = np.sin(height) * np.cos(tilt) + np.cos(height) * np.sin(tilt) * np.cos(apart)
    across = np.sin(height) * np.sin(tilt) - np.cos(height) * np.cos(tilt) * np.cos(apart)
    return np.degrees(np.arctan2(np.hypot(across, np.cos(height) * np.sin(apart)), square))


def isotropic_irradiance(direct, diffuse, horizontal, incidence, slope, albedo=0.2):
    """Return what falls on a slope if the sky is equally bright all over.

    Parameters
    ----------
    direct : array_like
        Direct irradiance on a surface that faces the sun [W/m2]; 0 or more.
    diffuse : array_like
        Sky light on a level surface [W/m2]; 0 or more.
    horizontal : array_like
        All light on a level surface [W/m2]; 0 or more.
    incidence : array_like
        Angle of incidence [degree]; 0 to 180.
    slope : array_like
        Tilt of the surface from level [degree]; 0 to 180.
    albedo : array_like, optional
        Share of the light that the ground throws back [-]; 0 to 1.

    Returns
    -------
    SlopeIrradiance
        Total and parts in the common (broadcast) shape [W/m2]; no beam if the sun is behind.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Liu 1963]; [Duffie 2013] equation 2.15.1.

    Notes
    -----
    A little low for slopes that face the sun, where the sky is brightest: see `reindl_irradiance`.

    Examples
    --------
    >>> light = isotropic_irradiance(direct=700, diffuse=120, horizontal=500, incidence=5, slope=35)
    >>> print(f"{light.total:.0f} W/m2")
    816 W/m2
    """
    direct, diffuse, horizontal = _light(direct, diffuse, horizontal)
    seen, reflecting = _view(slope, albedo)
    beam = direct * _facing_share(incidence)
    return _summed(beam, diffuse * seen, horizontal * reflecting)


def reindl_irradiance(direct, diffuse, horizontal, incidence, slope, elevation, extraterrestrial, albedo=0.2):
    """Return what falls on a slope under a sky that is brighter round the sun and near the horizon.

    Parameters
    ----------
    direct : array_like
        Direct irradiance on a surface that faces the sun [W/m2]; 0 or more.
    diffuse : array_like
        Sky light on a level surface [W/m2]; 0 or more.
    horizontal : array_like
        All light on a level surface [W/m2]; 0 or more.
    incidence : array_like
        Angle of incidence [degree]; 0 to 180.
    slope : array_like
        Tilt of the surface from level [degree]; 0 to 180.
    elevation : array_like
        Where the sun stands [degree]; -90 to 90.
    extraterrestrial : array_like
        Sunshine outside the air on a surface that faces the sun [W/m2]; above 0, and no less than `direct`.
    albedo : array_like, optional
        Share of the light that the ground throws back [-]; 0 to 1.

    Returns
    -------
    SlopeIrradiance
        Total and parts in the common (broadcast) shape [W/m2].

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Reindl 1990]; [Duffie 2013] equation 2.16.7, there named HDKR.

    Notes
    -----
    Half of the clear sky's light comes from close round the sun, so a slope that faces it gets more than its share.

    Examples
    --------
    >>> light = reindl_irradiance(700, 120, 500, incidence=5, slope=35, elevation=50, extraterrestrial=1361)
    >>> print(f"{light.total:.0f} W/m2")
    841 W/m2
    """
    direct, diffuse, horizontal = _light(direct, diffuse, horizontal)
    seen, reflecting = _view(slope, albedo)
    up = np.sin(np.radians(require(elevation, "elevation", "degree", at_least=-90, at_most=90)))
    extraterrestrial = require(extraterrestrial, "extraterrestrial irradiance", "W/m2", above=0)
    clear = require(direct / extraterrestrial, "direct over extraterrestrial irradiance", "", at_most=1)
    facing = _facing_share(incidence)
    level = direct * np.maximum(up, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        bright = np.where(horizontal > 0.0, np.sqrt(level / horizontal), 0.0)
    horizon = bright * np.sin(np.radians(slope) / 2.0) ** 3
    sky = diffuse * (clear * facing / np.maximum(up, _LOWEST_SUN) + (1.0 - clear) * seen * (1.0 + horizon))
    return _summed(direct * facing, sky, horizontal * reflecting)


def _light(direct, diffuse, horizontal):
    return (
        require(direct, "direct irradiance", "W/m2", at_least=0),
        require(diffuse, "diffuse irradiance", "W/m2", at_least=0),
        require(horizontal, "horizontal irradiance", "W/m2", at_least=0),
    )


def _view(slope, albedo):
    """Return the share of the sky that a slope sees, and the share of the level light that the ground throws on it."""
    tilt = np.radians(require(slope, "slope", "degree", at_least=0, at_most=180))
    albedo = require(albedo, "albedo", "", at_least=0, at_most=1)
    return (1.0 + np.cos(tilt)) / 2.0, albedo * (1.0 - np.cos(tilt)) / 2.0


def _facing_share(incidence):
    """Return the cosine of incidence, none if the sun is behind."""
    incidence = require(incidence, "incidence", "degree", at_least=0, at_most=180)
    return np.maximum(np.cos(np.radians(incidence)), 0.0)


def _summed(beam, sky, ground):
    beam, sky, ground = (part[()] for part in np.broadcast_arrays(beam, sky, ground))
    return SlopeIrradiance(beam + sky + ground, beam, sky, ground)
