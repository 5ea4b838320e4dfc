"""A day as a logger would have kept it: ten channels, rounded, with or without the noise of real sensors."""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from tlib.units import ATMOSPHERE
from tlib.validation import OutOfRange, require

__all__ = ["CHANNELS", "Trace", "trace"]

CHANNELS = (
    "burner flow", "burner return", "store top", "store upper", "store middle", "store lower", "tap", "collector",
    "system pressure",
)  # fmt: skip
"""The measured channels; the tenth are the states of pumps and boiler."""
STATES = ("charge pump", "heating pump", "boiler", "solar pump", "low immersion heater", "high immersion heater")
NOISE = 0.2
"""Standard deviation of a temperature sensor [K]. Common practice, no source."""
PRESSURE_NOISE = 0.01
"""Of a gauge [bar]. Common practice, no source."""


@dataclass(frozen=True)
class Trace:
    """A logged run.

    Parameters
    ----------
    minutes : ndarray
        After the start of the run [min].
    channels : mapping
        By name: temperatures rounded to 0.1 °C, the pressure to 0.01 bar on the gauge; not a number where nothing
        is measured, such as at a tap that is shut.
    states : mapping
        By name: 1 where it was on for at least half of the time since the last line.
    begins : float
        Time of day at the start [s after midnight].
    """

    minutes: np.ndarray
    channels: MappingProxyType
    states: MappingProxyType
    begins: float


def trace(result, every=300.0, noise_seed=None):
    """Return a run as a logger would have kept it.

    Parameters
    ----------
    result : Result
        Of a run.
    every : float, optional
        Time between two lines [s]; a whole number of the result's rows.
    noise_seed : int, optional
        If given, sensors have noise, always the same for the same seed; without it they are perfect.

    Returns
    -------
    Trace
        Ten channels.

    Raises
    ------
    OutOfRange
        If the time between two lines does not fit the rows.
    """
    row_time = float(result.time[1] - result.time[0])
    require(every, "the time between two lines", "s", at_least=row_time)
    stride = round(every / row_time)
    if abs(stride * row_time - every) > 1e-6 * row_time:
        raise OutOfRange(f"the time between two lines must be whole rows of {row_time:g} s; got {every:g} s.")
    rows = np.arange(0, result.time.size, stride)
    rng = None if noise_seed is None else np.random.default_rng(noise_seed)
    return Trace(
        minutes=result.time[rows] / 60.0,
        channels=MappingProxyType({name: _measured(result, name, rows, stride, rng) for name in CHANNELS}),
        states=MappingProxyType({name: _held(result.states[name], rows, stride) for name in STATES}),
        begins=result.begins,
    )


def _measured(result, name, rows, stride, rng):
    if name == "system pressure":
        values, noise, digits = (result.readings[name][rows] - ATMOSPHERE) / 1e5, PRESSURE_NOISE, 2
    elif name == "tap":
        values, noise, digits = _latest(result.readings["tap"], rows, stride), NOISE, 1
    else:
        values = result.readings.get(name, np.full(result.time.size, np.nan))[rows]
        noise, digits = NOISE, 1
    if rng is not None:
        values = values + rng.normal(0.0, noise, values.size)
    return np.round(values, digits)


def _latest(tap, rows, stride):
    """Return the last tap temperature since the line before; not a number if the taps stayed shut."""
    values = np.full(rows.size, np.nan)
    for line, row in enumerate(rows):
        since = tap[max(row - stride, 0) : row]
        drawn = since[np.isfinite(since)]
        if drawn.size:
            values[line] = drawn[-1]
    return values


def _held(state, rows, stride):
    share = [state[max(row - stride, 0) : row].mean() if row else 0.0 for row in rows]
    return (np.array(share) >= 0.5).astype(int)
