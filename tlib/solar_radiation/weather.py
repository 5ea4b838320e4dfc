"""A year of weather, hour by hour: read from files in open formats, and laid on a slope."""

import csv
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from tlib.documents import Fault, UnreadableDocument
from tlib.solar_radiation.slopes import incidence_angle, reindl_irradiance
from tlib.solar_radiation.sun import extraterrestrial_irradiance, sun_position

__all__ = ["Weather", "read_weather", "weather_on_slope"]

HOUR = 3600.0
"""An hour [s]."""


@dataclass(frozen=True)
class Weather:
    """A year of weather, hour by hour.

    Attributes
    ----------
    label : str
        Where it comes from, for pictures and papers; it begins "Invented year" or "Weather file".
    invented : bool
        Whether no one measured it.
    latitude, longitude : float
        The place [degree], north and east above 0.
    time : ndarray
        Middle of each hour, in local standard time from the start of the year [s].
    utc : ndarray of datetime64
        The same in UTC, with the year in which each hour was measured.
    air : ndarray
        Air temperature [°C].
    direct, diffuse, horizontal : ndarray
        Direct irradiance on a surface that faces the sun, sky light and all light on a level one [W/m2].
    """

    label: str
    invented: bool
    latitude: float
    longitude: float
    time: np.ndarray = field(repr=False, compare=False)
    utc: np.ndarray = field(repr=False, compare=False)
    air: np.ndarray = field(repr=False, compare=False)
    direct: np.ndarray = field(repr=False, compare=False)
    diffuse: np.ndarray = field(repr=False, compare=False)
    horizontal: np.ndarray = field(repr=False, compare=False)

    def __post_init__(self):
        """Lock the hours: a year of weather is read, never changed."""
        for hours in (self.time, self.utc, self.air, self.direct, self.diffuse, self.horizontal):
            hours.flags.writeable = False


@dataclass(frozen=True)
class _Layout:
    """How a weather format keeps an hour: the lines above, the places of what is read, and the signs for "none"."""

    heading: int
    air: int
    direct: int
    diffuse: int
    horizontal: int
    missing_air: float
    missing_light: float


_EPW = _Layout(8, air=6, direct=14, diffuse=15, horizontal=13, missing_air=99.9, missing_light=9999.0)
_TMY3 = _Layout(2, air=31, direct=7, diffuse=10, horizontal=4, missing_air=-9900.0, missing_light=-9900.0)


def read_weather(path):
    """Read a year of hourly weather from a file in the EPW or the TMY3 format.

    Parameters
    ----------
    path : str or Path
        The file; which of the two it is shows in its first lines.

    Returns
    -------
    Weather
        The hours of the file. A year put together from typical months keeps the date on which each was measured.

    Raises
    ------
    UnreadableDocument
        If the file is missing, is of neither format, has not the hours of a year, or an hour has no number; with
        the line.

    References
    ----------
    [EPW] field order; [Wilcox 2008] table 1-2 for TMY3.

    Notes
    -----
    Both formats give means over the hour that ends at the time stated. The sunshine in them is often modelled from
    clouds or satellites, not measured on the spot: their own source flags say so. PVGIS and most weather services
    can export EPW.

    Examples
    --------
    >>> read_weather("no-such-place.epw")
    Traceback (most recent call last):
    tlib.documents.UnreadableDocument: no-such-place.epw, line 0: file: there is no such file
    """
    path = Path(path)
    if not path.is_file():
        raise UnreadableDocument([Fault(str(path), 0, "file", "there is no such file")])
    rows = list(csv.reader(path.read_text(encoding="utf-8", errors="replace").splitlines()))
    if rows and rows[0] and rows[0][0].strip().upper() == "LOCATION":
        head = _Header(path, rows[0], name=1, latitude=6, longitude=7, zone=8)
        return _hours(head, rows, _EPW, _epw_moment)
    if len(rows) > 1 and rows[1] and rows[1][0].startswith("Date (MM/DD/YYYY)"):
        head = _Header(path, rows[0], name=1, latitude=4, longitude=5, zone=3)
        return _hours(head, rows, _TMY3, _tmy3_moment)
    raise UnreadableDocument([Fault(str(path), 1, "layout", "is neither an EPW nor a TMY3 weather file")])


class _Header:
    """The place that a weather file is for."""

    def __init__(self, path, row, *, name, latitude, longitude, zone):
        self.path = path
        self.latitude, self.longitude, self.zone = (
            self.number(row, 1, place, key)
            for place, key in ((latitude, "latitude"), (longitude, "longitude"), (zone, "time zone"))
        )
        self.label = f"Weather file {path.name}: {row[name].strip()}"

    def number(self, row, line, place, key):
        """Return one number of a row, or say on which line there is none."""
        try:
            return float(row[place])
        except (ValueError, IndexError):
            raise self.fault(line, key, "is not a number") from None

    def fault(self, line, key, says):
        return UnreadableDocument([Fault(str(self.path), line, key, says)])


def _hours(head, rows, layout, moment):
    """Read the hours below a heading."""
    kept, numbers = [], []
    for line, row in enumerate(rows[layout.heading :], start=layout.heading + 1):
        if not row:
            continue
        kept.append(_moment(head, line, row, moment))
        numbers.append(_quantities(head, line, row, layout))
    if len(numbers) not in (8760, 8784):
        raise head.fault(len(rows), "hours", f"there are {len(numbers)} hours, and a year has 8760 or 8784")
    air, direct, diffuse, horizontal = np.array(numbers).T
    local = np.array(kept, dtype="datetime64[s]")
    return Weather(
        label=head.label,
        invented=False,
        latitude=head.latitude,
        longitude=head.longitude,
        time=(np.arange(len(numbers)) + 0.5) * HOUR,
        utc=local - np.timedelta64(round(head.zone * HOUR), "s"),
        air=air,
        direct=direct,
        diffuse=diffuse,
        horizontal=horizontal,
    )


def _moment(head, line, row, moment):
    """Return the middle of the hour that a row is for, in local standard time."""
    try:
        day, hour = moment(row)
        return np.datetime64(day, "s") + np.timedelta64(int(hour) * 3600 - 1800, "s")
    except (ValueError, IndexError):
        raise head.fault(line, "date", "is not a date and an hour") from None


def _epw_moment(row):
    return f"{int(row[0]):04d}-{int(row[1]):02d}-{int(row[2]):02d}", row[3]


def _tmy3_moment(row):
    month, day, year = row[0].split("/")
    return f"{year}-{month}-{day}", row[1].split(":")[0]


def _quantities(head, line, row, layout):
    air = head.number(row, line, layout.air, "air temperature")
    if air == layout.missing_air or not -90 < air < 70:
        raise head.fault(line, "air temperature", f"{air:g} °C stands for a missing value")
    light = []
    for key in ("direct", "diffuse", "horizontal"):
        value = head.number(row, line, getattr(layout, key), f"{key} irradiance")
        if value == layout.missing_light or not 0 <= value < 1500:
            raise head.fault(line, f"{key} irradiance", f"{value:g} W/m2 stands for a missing value")
        light.append(value)
    return air, *light


def weather_on_slope(weather, slope, facing, albedo=0.2):
    """Return what falls on a slope in each hour of a year of weather.

    Parameters
    ----------
    weather : Weather
        The year.
    slope : float
        Tilt of the surface from level [degree]; 0 to 180.
    facing : float
        Where the surface faces, clockwise from north [degree]; 180 is south.
    albedo : float, optional
        Share of the light that the ground throws back [-]; 0 to 1.

    Returns
    -------
    SlopeIrradiance
        Total and parts, each of as many hours as the year [W/m2].

    Raises
    ------
    OutOfRange
        If an angle or the albedo is outside its range, or is not finite; if an hour has more direct light than
        there is outside the air.

    References
    ----------
    [Reindl 1990], with the sun where it stands in the middle of the hour.

    Notes
    -----
    Direct light booked in an hour in whose middle the sun is below the horizon is left out: about a
    thousandth of a year.

    Examples
    --------
    >>> from tlib.solar_radiation import invented_year
    >>> year = invented_year()
    >>> light = weather_on_slope(year, slope=45, facing=180)
    >>> print(f"{light.total.mean() * 8.76:.0f} kWh/m2 in a year")
    1351 kWh/m2 in a year
    """
    sun = sun_position(weather.utc, weather.latitude, weather.longitude)
    outside = extraterrestrial_irradiance(weather.utc)
    incidence = incidence_angle(sun.elevation, sun.azimuth, slope, facing)
    direct = np.where(sun.elevation > 0.0, weather.direct, 0.0)
    return reindl_irradiance(
        direct, weather.diffuse, weather.horizontal, incidence, slope, sun.elevation, outside, albedo
    )
