"""A year that no one measured: hours made up so that each month has the sun and the air of a published mean."""

from functools import cache

import numpy as np

from tlib.solar_radiation.sun import sun_position
from tlib.solar_radiation.weather import HOUR, Weather, weather_on_slope
from tlib.tables import table

__all__ = ["invented_year"]

_YEAR, _HOURS = "2025", 8760
_BRIGHTNESS = (1.0, 0.7, 0.3)
_SKY_SHARE = (0.2, 0.5, 1.0)
"""A bright, a mixed and a dull day, over and over: light for that of a clear sky, and the sky's share of it."""
_DAILY_SWING, _WARMEST = 3.5, 15.0
"""How far [K] the air swings about its daily mean, and when it is warmest [h]. Common practice, no source."""


@cache
def invented_year():
    """Return a year of weather that no one measured, made from published monthly means.

    Returns
    -------
    Weather
        Its label begins "Invented year". Air and the light on a 45 degree south slope have the mean of each month
        that the EU regulation on heaters gives for its average climate; the hours between are made up: a bright, a
        mixed and a dull day by turns, and air that swings 3.5 K about its mean.

    References
    ----------
    [EU 814/2013] annex III, tables 2 and 3; [Haurwitz 1945] the light of a clear sky.

    Notes
    -----
    Good for comparing designs over a year. No cold spell, heat wave or run of dull days is in it: size nothing by
    its worst day.

    Examples
    --------
    >>> year = invented_year()
    >>> print(year.label)
    Invented year: Strasbourg, average climate conditions, from monthly means
    >>> print(f"{year.air.mean():.1f} °C")
    11.9 °C
    """
    climate = table("average_climate")["average"]
    zone = round(climate["longitude"] / 15.0)
    time = (np.arange(_HOURS) + 0.5) * HOUR
    local = np.datetime64(f"{_YEAR}-01-01", "s") + time.astype("timedelta64[s]")
    utc = local - np.timedelta64(zone, "h")
    month = local.astype("datetime64[M]").astype(int) % 12
    up = np.sin(np.radians(sun_position(utc, climate["latitude"], climate["longitude"]).elevation))

    def year(brightness):
        return _weather(climate, time, utc, up, _air(climate["air"], time, month), brightness)

    wanted, brightness = np.array(climate["irradiance"], dtype=float), np.ones(12)
    for _ in range(20):  # light on a slope is nearly in proportion to that of the sky
        reached = weather_on_slope(year(brightness[month]), climate["slope"], facing=180.0).total
        brightness *= wanted / _monthly_mean(reached, month)
    return year(brightness[month])


def _clear_sky(up):
    """Return the light of a clear sky over the sine of the sun's elevation [W/m2]: [Haurwitz 1945]."""
    return 1098.0 * np.exp(-0.059 / up)


def _weather(climate, time, utc, up, air, brightness):
    day = (time // (24 * HOUR)).astype(int) % len(_BRIGHTNESS)
    risen = np.maximum(up, 1e-3)
    facing = np.where(up > 0.0, brightness * np.take(_BRIGHTNESS, day) * _clear_sky(risen), 0.0)
    share = np.take(_SKY_SHARE, day)
    return Weather(
        label=f"Invented year: {climate['place']}, from monthly means",
        invented=True,
        latitude=climate["latitude"],
        longitude=climate["longitude"],
        time=time,
        utc=utc,
        air=air,
        direct=facing * (1.0 - share),
        diffuse=facing * share * risen,
        horizontal=facing * risen,
    )


def _air(means, time, month):
    """Return air that runs smoothly from month to month, swings each day, and keeps each month's mean."""
    middles = np.array([time[month == number].mean() for number in range(12)])
    smooth = np.interp(time, middles, means, period=_HOURS * HOUR)
    swung = smooth + _DAILY_SWING * np.cos(2 * np.pi * (time / HOUR - _WARMEST) / 24.0)
    return swung + (np.array(means) - _monthly_mean(swung, month))[month]


def _monthly_mean(values, month):
    return np.bincount(month, weights=values) / np.bincount(month)
