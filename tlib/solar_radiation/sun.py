"""Where the sun stands, and how strong it is before the air dims it.

Angles are in degrees. Azimuth runs clockwise from north: 90 is east, 180 is south. Times are in UTC.
"""

from typing import NamedTuple

import numpy as np

from tlib.validation import OutOfRange, require

__all__ = [
    "SunPosition", "apparent_elevation", "declination", "extraterrestrial_irradiance", "sun_angles", "sun_position",
]  # fmt: skip

SOLAR_CONSTANT = 1361.0
"""Sunshine on a surface that faces the sun at the mean distance of the Earth [W/m2]; [IAU 2015] resolution B3."""

_EPOCH = np.datetime64("2000-01-01T12:00:00", "us")
_FIRST, _LAST = np.datetime64("1900-01-01", "us"), np.datetime64("2100-01-01", "us")
_LOWEST_REFRACTED = -0.8333
"""The sun's centre when its upper edge comes up [degree], with the usual 34' of refraction and 16' of radius."""


class SunPosition(NamedTuple):
    """Where the sun stands.

    Attributes
    ----------
    elevation : float or ndarray
        Height of the sun's centre above the horizon [degree]; below 0 at night.
    azimuth : float or ndarray
        Direction, clockwise from north [degree], from 0 to 360.
    """

    elevation: np.ndarray
    azimuth: np.ndarray


def sun_position(time, latitude, longitude):
    """Return where the sun stands at a time and a place.

    Parameters
    ----------
    time : array_like of datetime64
        Date and time in UTC, from 1900 to 2099; text such as ``"2026-06-21T12:00"`` is read too.
    latitude : array_like
        Latitude [degree], north above 0; -90 to 90.
    longitude : array_like
        Longitude [degree], east above 0; -180 to 180.

    Returns
    -------
    SunPosition
        Elevation without the bending of light in the air, and azimuth, in the common (broadcast) shape [degree].

    Raises
    ------
    OutOfRange
        If the time is none or outside the range, or an angle is outside its range or not finite.

    References
    ----------
    [USNO] Computing approximate solar coordinates; the sidereal time is that of [USNO] too.

    Notes
    -----
    Within 0.012 degree of [Reda 2008] from 1950 to 2050; the sun itself is half a degree wide.

    Examples
    --------
    >>> sun = sun_position("2026-06-21T12:00", latitude=51.5, longitude=0.0)
    >>> print(f"{sun.elevation:.1f} degrees up, towards {sun.azimuth:.0f}")
    61.9 degrees up, towards 179
    """
    latitude = require(latitude, "latitude", "degree", at_least=-90, at_most=90)
    longitude = require(longitude, "longitude", "degree", at_least=-180, at_most=180)
    days = _days(time)
    along = np.radians(280.459 + 0.98564736 * days) + _centre(days)
    tilt = np.radians(23.439 - 3.6e-7 * days)
    right_ascension = np.degrees(np.arctan2(np.cos(tilt) * np.sin(along), np.cos(along)))
    declined = np.degrees(np.arcsin(np.sin(tilt) * np.sin(along)))
    sidereal = 15.0 * (18.697374558 + 24.06570982441908 * days)
    return _angles(latitude, declined, sidereal + longitude - right_ascension)


def extraterrestrial_irradiance(time):
    """Return the sunshine outside the air on a surface that faces the sun.

    Parameters
    ----------
    time : array_like of datetime64
        Date and time in UTC, from 1900 to 2099.

    Returns
    -------
    float or ndarray
        Irradiance [W/m2]: 1361 at the mean distance, 3 % more in January and less in July.

    Raises
    ------
    OutOfRange
        If the time is none or outside the range.

    References
    ----------
    [USNO] distance of the sun; [IAU 2015] solar constant.

    Examples
    --------
    >>> print(f"{extraterrestrial_irradiance('2026-01-04'):.0f} W/m2")
    1408 W/m2
    """
    days = _days(time)
    anomaly = np.radians(357.529 + 0.98560028 * days)
    distance = 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2 * anomaly)
    return SOLAR_CONSTANT / np.square(distance)


def declination(day):
    """Return the sun's declination by the short formula that hand sums use.

    Parameters
    ----------
    day : array_like
        Day of the year [1], 1 for 1 January; 1 to 366.

    Returns
    -------
    float or ndarray
        Angle of the sun above the plane of the equator [degree].

    Raises
    ------
    OutOfRange
        If `day` is outside the range above, or is not finite.

    References
    ----------
    [Duffie 2013] equation 1.6.1a, after Cooper.

    Notes
    -----
    Within 1.7 degrees of the true sun; `sun_position` is far nearer.

    Examples
    --------
    >>> print(f"{declination(44):.2f}")
    -13.95
    """
    day = require(day, "day", "", at_least=1, at_most=366)
    return 23.45 * np.sin(2 * np.pi * (284.0 + day) / 365.0)


def sun_angles(latitude, declination, hour_angle):
    """Return where the sun stands from its declination and the hour angle.

    Parameters
    ----------
    latitude : array_like
        Latitude [degree]; -90 to 90.
    declination : array_like
        Angle of the sun above the plane of the equator [degree]; -23.5 to 23.5.
    hour_angle : array_like
        15 degrees for each hour of sun time after noon, below 0 before [degree].

    Returns
    -------
    SunPosition
        Elevation and azimuth in the common (broadcast) shape [degree].

    Raises
    ------
    OutOfRange
        If an angle is outside the range above, or is not finite.

    References
    ----------
    [Duffie 2013] equations 1.6.5 and 1.6.6.

    Examples
    --------
    The sun half past nine sun time on 13 February, at 43 degrees north:

    >>> sun = sun_angles(latitude=43, declination=-14, hour_angle=-37.5)
    >>> print(f"{sun.elevation:.1f} {sun.azimuth:.0f}")
    23.5 140
    """
    return _angles(
        require(latitude, "latitude", "degree", at_least=-90, at_most=90),
        require(declination, "declination", "degree", at_least=-23.5, at_most=23.5),
        require(hour_angle, "hour angle", "degree"),
    )


def apparent_elevation(elevation, pressure=101_325.0, temperature=12.0):
    """Return how high the sun seems to stand, as the air bends its light.

    Parameters
    ----------
    elevation : array_like
        True elevation [degree]; -90 to 90.
    pressure : array_like, optional
        Air pressure [Pa]; 0 or more.
    temperature : array_like, optional
        Air temperature [°C]; above -90.

    Returns
    -------
    float or ndarray
        Elevation as seen [degree]. A sun that is wholly below the horizon is left where it is.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Reda 2008] equation 42.

    Notes
    -----
    Half a degree at the horizon, a tenth at 9 degrees, nothing to speak of higher up.

    Examples
    --------
    >>> print(f"{apparent_elevation(0.0):.2f}")
    0.48
    """
    elevation = require(elevation, "elevation", "degree", at_least=-90, at_most=90)
    thickness = require(pressure, "pressure", "Pa", at_least=0) / 101_000.0
    coolness = 283.0 / (273.0 + require(temperature, "temperature", "°C", above=-90))
    seen = np.maximum(elevation, _LOWEST_REFRACTED)
    bent = thickness * coolness * 1.02 / (60.0 * np.tan(np.radians(seen + 10.3 / (seen + 5.11))))
    return elevation + np.where(elevation < _LOWEST_REFRACTED, 0.0, bent)


def _angles(latitude, declined, hour_angle):
    """Turn the sun's place on the sky into up, north and east, and those into angles."""
    place, height, turned = np.radians(latitude), np.radians(declined), np.radians(hour_angle)
    up = np.sin(place) * np.sin(height) + np.cos(place) * np.cos(height) * np.cos(turned)
    north = np.cos(place) * np.sin(height) - np.sin(place) * np.cos(height) * np.cos(turned)
    east = -np.cos(height) * np.sin(turned)
    elevation = np.degrees(np.arctan2(up, np.hypot(north, east)))
    return SunPosition(elevation, np.degrees(np.arctan2(east, north)) % 360.0)


def _centre(days):
    """Return how far the sun runs ahead of its mean place, as the Earth's path is no circle [radian]."""
    anomaly = np.radians(357.529 + 0.98560028 * days)
    return np.radians(1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))


def _days(time):
    """Return days since noon on 1 January 2000, or say what is wrong with a time."""
    try:
        moment = np.asarray(time, dtype="datetime64[us]")
    except (TypeError, ValueError):
        raise OutOfRange(f"time must be a date and time in UTC such as 2026-06-21T12:00; got {time!r}.") from None
    holds = (moment >= _FIRST) & (moment < _LAST)
    if not np.all(holds):
        wrong = moment[~holds].ravel()[0] if moment.ndim else moment
        raise OutOfRange(f"time must be a date from 1900 to 2099; got {wrong}.")
    return ((moment - _EPOCH) / np.timedelta64(86_400_000_000, "us"))[()]
