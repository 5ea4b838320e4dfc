"""The outside of an installation, step by step: weather, sun, clocks, and the fire's own clock."""

from typing import NamedTuple

import numpy as np

from tlib.compiled import blank_records
from tlib.heat_sources import fire_clock
from tlib.simulation.conditions import Day
from tlib.solar_radiation import (
    Weather,
    cell_temperature,
    incidence_angle,
    incidence_modifier,
    pv_power,
    sun_position,
    weather_on_slope,
)
from tlib.validation import OutOfRange

__all__ = ["Moment", "Outside", "air_at", "moments_of", "outside_of"]

DAY = 86_400.0
SCATTERED = 60.0
"""Slant at which scattered light counts as coming in [degree]; Brandemuehl and Beckman's figure for sky light, from
memory."""


class Moment(NamedTuple):
    """What an installation meets in one step."""

    air: float = 0.0
    """Outside [°C]."""
    sun: float = 0.0
    """On the collector, taken for its slant [W/m2]."""
    surplus: float = 0.0
    """PV less what the house takes [W]."""
    fire_clock: float = 0.0
    """Time at the end of the step by the fire's own clock [s]."""
    draught: float = 1.0
    """The fire's air setting [-]."""
    heating: int = 0
    """Whether the clock lets the heating run."""
    power: float = 0.0
    """What the rooms want [W]; below 0 the room thermostat decides."""
    room: float = 0.0
    """Setting of the room thermostat [°C]."""
    boiler: int = 0
    """Whether the boiler may run."""
    reset: int = 0
    """Whether somebody presses the resets of cut-outs and limits."""


class Outside(NamedTuple):
    """Weather, PV and clocks over the time at which they are known."""

    time: np.ndarray
    """[s] from the start of the day, or the year, on which the run begins; it reaches over both ends of the period."""
    air: np.ndarray
    sun: np.ndarray
    surplus: np.ndarray
    period: float
    """After which they come again [s]."""
    offset: float
    """Time at which the run begins [s]."""
    boiler: np.ndarray
    """When the boiler may run: begin and end [s], (hours, 2)."""
    programme: np.ndarray
    """Heating hours: begin and end [s], power [W] or below 0, and setting of the room thermostat [°C]; (hours, 4)."""


def outside_of(installation, conditions):
    """Return the weather of a run as an installation meets it.

    Parameters
    ----------
    installation : tlib.installation.Installation
        Its collectors and PV modules have slopes of their own.
    conditions : Conditions
        Its weather.

    Returns
    -------
    Outside
        Known hour by hour; between, it is taken on a straight line.

    Raises
    ------
    OutOfRange
        If a year of weather has a gap.
    """
    weather, begins = conditions.weather, conditions.begins
    if isinstance(weather, Weather):
        _refuse_gaps(weather)
        sun, light, air = _collected(installation.solar, weather), _on_modules(installation.pv, weather), weather.air
        time, period, begins = weather.time, DAY * (weather.air.size // 24), begins + conditions.day * DAY
    else:
        time, period = np.arange(0.0, DAY, 600.0), DAY
        air, light = _shape_of(weather, time)
        sun = light
    around = [_around(series) for series in (air, sun, _surplus(installation.pv, light, air))]
    time = np.concatenate([[time[-1] - period], time, [time[0] + period]])
    programme = [(row.begins, row.ends, -1.0 if row.power is None else row.power, row.room or 0.0)
                 for row in conditions.programme]  # fmt: skip
    return Outside(
        time, *around, period, begins, np.array(conditions.boiler, dtype=float).reshape(-1, 2),
        np.array(programme, dtype=float).reshape(-1, 4),
    )  # fmt: skip


def _around(series):
    """Return a series that reaches one value over each end of its period."""
    return np.concatenate([series[-1:], series, series[:1]])


def _refuse_gaps(weather):
    for name in ("air", "direct", "diffuse", "horizontal"):
        holes = np.flatnonzero(~np.isfinite(getattr(weather, name)))
        if holes.size:
            raise OutOfRange(
                f"{weather.label}: the {name} of hour {holes[0] + 1} is not a number; a year of weather has no gaps."
            )


def _shape_of(weather, time):
    """Return outside temperature and light through a day."""
    if not isinstance(weather, Day):
        return np.full(time.size, float(weather)), np.zeros(time.size)
    middle, swing = 0.5 * (weather.coldest + weather.warmest), 0.5 * (weather.warmest - weather.coldest)
    air = middle + swing * np.cos(2.0 * np.pi * (time - 15 * 3600.0) / DAY)
    share = (time - weather.rises) / (weather.sets - weather.rises)
    return air, np.where((share > 0.0) & (share < 1.0), weather.sun * np.sin(np.pi * share), 0.0)


def _collected(solar, weather):
    """Return the light on the collector, less what its glass turns away for slant [W/m2]."""
    if solar is None:
        return np.zeros(weather.air.size)
    light = weather_on_slope(weather, solar.slope, solar.azimuth)
    sun = sun_position(weather.utc, weather.latitude, weather.longitude)
    slant = incidence_angle(sun.elevation, sun.azimuth, solar.slope, solar.azimuth)
    scattered = float(incidence_modifier(SCATTERED, solar.slant))
    return incidence_modifier(slant, solar.slant) * light.beam + scattered * (light.sky + light.ground)


def _on_modules(pv, weather):
    return weather_on_slope(weather, pv.slope, pv.azimuth).total if pv else np.zeros(weather.air.size)


def _surplus(pv, light, air):
    if pv is None:
        return np.zeros(air.size)
    return pv_power(light, cell_temperature(light, air), pv.peak, inverter=pv.inverter) - pv.house


def air_at(outside, time):
    """Return the temperature of the air outside at a time after a run begins [°C]."""
    return float(np.interp((outside.offset + time) % outside.period, outside.time, outside.air))


def moments_of(conditions, outside, first, count, step):
    """Return what an installation meets in a stretch of steps.

    Parameters
    ----------
    conditions : Conditions
        Their clocks.
    outside : Outside
        The weather.
    first, count : int
        Number of the first step, and how many.
    step : float
        [s].

    Returns
    -------
    recarray of Moment, (count,)
        Weather and clocks as in the middle of each step.
    """
    moments = blank_records(Moment, count)
    series = moments.view(np.ndarray)
    middles = (first + np.arange(count) + 0.5) * step
    when = (outside.offset + middles) % outside.period
    for name in ("air", "sun", "surplus"):
        series[name] = np.interp(when, outside.time, getattr(outside, name))
    series["fire_clock"] = fire_clock(conditions.air, middles + 0.5 * step)
    series["draught"] = 1.0
    for begins, setting in conditions.air:
        series["draught"][middles >= begins] = setting
    pressed = [round(time / step - 0.5) - first for time in conditions.resets]
    series["reset"][[place for place in pressed if 0 <= place < count]] = 1
    for begins, ends in _touching(outside.boiler, middles):
        series["boiler"][_slice(begins, ends, middles)] = 1
    heating, asked, setting = series["heating"], series["power"], series["room"]
    for begins, ends, power, room in _touching(outside.programme, middles):
        on = _slice(begins, ends, middles)
        heating[on] = 1
        asked[on] = -1.0 if power < 0.0 else np.maximum(asked[on], power)
        setting[on] = np.maximum(setting[on], room)
    return moments


def _touching(periods, middles):
    """Return the periods that touch a stretch of time."""
    return periods[(periods[:, 0] <= middles[-1]) & (periods[:, 1] > middles[0])]


def _slice(begins, ends, middles):
    """Return the steps whose middle lies in a period."""
    return slice(*np.searchsorted(middles, [begins, ends], side="left"))
