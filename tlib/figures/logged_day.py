"""A logged day as charts: temperatures with what ran below them, and the pressure on a sheet of its own."""

import math

from tlib.figures.chart import day_chart
from tlib.figures.chart_parts import Axis, Event, Line

__all__ = ["logged_day"]

_STROKES = {
    "burner flow": "log burner", "burner return": "boiler", "store top": "top", "store upper": "upper",
    "store middle": "middle", "store lower": "lower", "tap": "hot water", "collector": "sun",
}  # fmt: skip
_RUNS = {
    "charge pump": "log burner", "heating pump": "heating", "boiler": "boiler", "solar pump": "sun",
    "low immersion heater": "spare PV", "high immersion heater": "spare PV",
}  # fmt: skip
_PRESSURE = "system pressure"


def logged_day(begins, every, series):
    """Draw what a logger kept.

    Parameters
    ----------
    begins : float
        Time of day of the first line [s after midnight].
    every : float
        Time between two lines [s].
    series : mapping of str to sequence
        By channel, as `tlib.simulation.trace` names them: temperatures [°C], the pressure [bar gauge], states as 0 and
        1; None where nothing was measured.

    Returns
    -------
    tuple of Picture
        Temperatures and states, then the pressure; each only if there is something to show.
    """
    count = len(next(iter(series.values())))
    times = [every * place for place in range(count)]
    lines = tuple(
        Line(name, _held(values), _STROKES[name]) for name, values in series.items() if name in _STROKES
    )  # fmt: skip
    events = tuple(event for name, values in series.items() if name in _RUNS for event in _runs(name, values, every))
    pictures = []
    if lines:
        says = "What the logger kept at each place." + (" Bars show what ran." if events else "")
        pictures.append(
            day_chart(times, lines, begins_at=begins, events=events, title="Logged temperatures", words=says)
        )
    if _PRESSURE in series:
        gauge = Line("gauge", _held(series[_PRESSURE]), "heating")
        says = "What the gauge read, above the pressure of the air."
        bars, axis = () if lines else events, Axis(0.0, 3.0, "bar", 2)
        pictures.append(
            day_chart(times, (gauge,), begins_at=begins, events=bars, axis=axis, title="Logged pressure", words=says)
        )
    return tuple(pictures)


def _held(values):
    """Return a channel as numbers; a value with nothing after it lasts until the next line, so that it is seen."""
    numbers = [math.nan if value is None else float(value) for value in values]
    return tuple(
        numbers[place - 1] if place and math.isnan(number) else number for place, number in enumerate(numbers)
    )  # fmt: skip


def _runs(name, states, every):
    """Yield the stretches in which something ran."""
    begun = None
    for place, state in enumerate([*states, 0]):
        if state and begun is None:
            begun = place
        elif not state and begun is not None:
            yield Event(name, every * begun, every * min(place, len(states) - 1), _RUNS[name])
            begun = None
