"""A day at the taps as the regulation on water heaters prescribes it for tests, and one day again and again."""

import datetime

from tlib.heat_transfer import WATER_HEAT
from tlib.tables import table
from tlib.validation import OutOfRange, require

__all__ = ["draw_off_profile", "every_day"]

DAY = 86_400.0
_KILOWATT_HOUR = 3.6e6


def draw_off_profile(name, cold=10.0, warmest=None, day=0):
    """Return the draw-offs of a day by one of the regulation's profiles.

    Parameters
    ----------
    name : str
        "S", "M", "L" or "XL": from the smallest day to the largest.
    cold : float, optional
        The mains [°C]; 0 or more, below 25, the coolest draw.
    warmest : float, optional
        Setting of the blending valve [°C]; 30 to 60. Left out, some draws are at 55 °C.
    day : int, optional
        How many midnights after the first; 0 or more.

    Returns
    -------
    tuple of (time [s], volume [m3], temperature [°C], flow [kg/s])
        In order of time; the times count from the first midnight.

    Raises
    ------
    OutOfRange
        If there is no such profile, or an input is outside the range above, not finite or not a single number.

    Notes
    -----
    Each draw has the temperature that it must reach where the profile names one, else the one from which its water
    counts. Its volume follows from the printed heat, above the profile's own cold water of 10 °C, a litre counting
    as 1.163 Wh/K. Other mains change the heat, not the volume or the temperature. A valve set lower than a draw's
    temperature turns it into more water, drawn for longer at the same flow, with the same heat. The flows are the
    printed ones, the least at which water counts.

    Water at 55 °C scalds in seconds; keep what the valve is set to within the rules for the bathroom.

    References
    ----------
    [EU 814/2013] annex III, table 1; annex I for the useful and the peak temperature.

    Examples
    --------
    >>> time, volume, temperature, flow = draw_off_profile("M")[1]
    >>> print(f"{time / 60:.0f} min: {1000 * volume:.1f} l at {temperature:.0f} °C, {60 * flow:.0f} l/min")
    425 min: 40.1 l at 40 °C, 6 l/min
    """
    printed = table("draw_off_profiles")
    if name not in printed["profiles"]:
        raise OutOfRange(f"draw-off profile must be one of {', '.join(printed['profiles'])}; got {name!r}.")
    draws = printed["profiles"][name]["draws"]
    temperatures = [float(max(draw["useful"], draw.get("peak", 0.0))) for draw in draws]
    _single(cold, "the temperature of the mains", "°C", at_least=0, below=min(temperatures))
    if warmest is not None:
        cap = _single(warmest, "the setting of the blending valve", "°C", at_least=30, at_most=60)
        temperatures = [min(temperature, cap) for temperature in temperatures]
    start = DAY * _whole(day, "the day", at_least=0)
    return tuple(
        (
            start + _after_midnight(draw["time"]),
            draw["heat"] * _KILOWATT_HOUR / (WATER_HEAT * (temperature - printed["source"]["cold"])),
            temperature,
            draw["flow"] / 60.0,
        )
        for draw, temperature in zip(draws, temperatures, strict=True)
    )


def every_day(rows, days, times=1):
    """Return the rows of one day repeated for so many days.

    Parameters
    ----------
    rows : sequence of tuple
        Each begins with its time after midnight, or after the start of the run [s]; 0 or more, below 86 400.
    days : int
        How many days; 1 to 400.
    times : int, optional
        How many fields at the start of a row are times: 1 for a draw or a batch of logs, 2 for a heating period that
        begins and ends.

    Returns
    -------
    tuple of tuple
        Day after day, each row of its own kind, with all its times moved by whole days.

    Raises
    ------
    OutOfRange
        If a number is outside the range above, or not whole.

    Examples
    --------
    >>> every_day([(25_200.0, 0.05)], days=2)
    ((25200.0, 0.05), (111600.0, 0.05))
    """
    days = _whole(days, "the number of days", at_least=1, at_most=400)
    times = _whole(times, "the number of times in a row", at_least=1)
    for row in rows:
        require(row[0], "the time of a row within its day", "s", at_least=0, below=DAY)
    return tuple(_moved(row, DAY * day, times) for day in range(days) for row in rows)


def _moved(row, later, times):
    fields = (*(time + later for time in row[:times]), *row[times:])
    return row._make(fields) if hasattr(row, "_make") else fields


def _after_midnight(text):
    time = datetime.time.fromisoformat(text)
    return 3600.0 * time.hour + 60.0 * time.minute


def _single(value, name, unit, **ends):
    number = require(value, name, unit, **ends)
    if number.ndim:
        raise OutOfRange(f"{name} must be a single number; got shape {number.shape}.")
    return float(number)


def _whole(value, name, **ends):
    number = _single(value, name, "[-]", **ends)
    if number != round(number):
        raise OutOfRange(f"{name} must be a whole number; got {value!r}.")
    return int(number)
