"""An installation through a day or a year: sources, loads and controls round the layered store."""

from concurrent.futures import ThreadPoolExecutor
from os import cpu_count

import numpy as np

from tlib.compiled import blank_records, engine
from tlib.simulation.books import result_of, stands
from tlib.simulation.logbook import READINGS, Entry, Row
from tlib.simulation.march import march
from tlib.simulation.moments import air_at, moments_of, outside_of
from tlib.simulation.plant import plant_of
from tlib.simulation.steering import feel
from tlib.validation import OutOfRange, require

__all__ = ["engine_is_ready", "refuse_impossible", "simulate", "simulate_all", "steps_in"]

STRETCH = 7 * 86_400.0
"""Time that is stepped in one go [s]; between stretches, progress is told."""
EVENTS = 200_000
"""Events for which there is room in a stretch: more than twenty things can do in a week of minutes."""


def simulate(installation, conditions, step=60.0, layers=50, every=None, progress=None):
    """Run an installation under given conditions.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    conditions : Conditions
        What happens to it.
    step : float, optional
        [s]; 1 to 60, and the duration must be a whole number of steps.
    layers : int, optional
        Of the store; 10 to 200.
    every : float, optional
        Time for which one row is kept [s]: a whole number of steps, and a whole number of rows in the duration; one
        step if left out. A year kept hour by hour is small.
    progress : callable, optional
        Called with the share that is done, 0 to 1, after each week of the run.

    Returns
    -------
    Result
        If water reaches its boiling point the run ends there, with the event ``"boiled"``, and keeps what it has.

    Raises
    ------
    OutOfRange
        If the installation lacks a part that the conditions use, or a value cannot be.

    Notes
    -----
    Clocks, weather and what the rooms want are taken at the middle of each step. With heating hours that ask for a
    power, or none, the rooms stay at the temperature for which the radiators are rated; with hours that set the
    room thermostat, the house follows the weather.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> from tlib.simulation import Conditions
    >>> larkrigg = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> evening = simulate(larkrigg, Conditions(start=35.0, firing=[(3600.0, 8.0, 0.20)]))
    >>> print(f"{evening.bands(5 * 3600.0)[-1]:.0f} °C on top at 22:00")
    62 °C on top at 22:00
    """
    step = float(require(step, "the step", "s", at_least=1, at_most=60))
    require(layers, "layers", "", at_least=10, at_most=200)
    count = steps_in(conditions.duration, step)
    in_row = _steps_in_row(every, step, count)
    outside = outside_of(installation, conditions)
    air = air_at(outside, 0.5 * step)
    plant = plant_of(installation, conditions, layers, air)
    stretch, events = min(max(int(STRETCH // step), 1), count), []
    books = _Books(count // in_row, plant, air)
    for first in range(0, count, stretch):
        moments = moments_of(conditions, outside, first, min(stretch, count - first), step)
        _ENGINE(plant, moments, step, in_row, books.rows, books.profiles, books.readings, books.events)
        events.append(books.events[: plant.run[0].events].copy())
        if progress is not None:
            progress((first + moments.size) / count)
        if plant.run[0].boiling:
            break
    return result_of(installation, conditions, plant, books, np.concatenate(events), step * in_row, step)


def simulate_all(installation, cases, step=60.0, layers=50, every=None, progress=None):
    """Run an installation, or several, under many conditions on all cores.

    Parameters
    ----------
    installation : tlib.installation.Installation or sequence
        One for all cases, or one a case.
    cases : sequence of Conditions
        What happens to each.
    step, layers, every : optional
        As in `simulate`.
    progress : callable, optional
        Called with the share of the cases that are done.

    Returns
    -------
    tuple of Result
        In the order of the cases, each the very result that `simulate` gives alone.

    Raises
    ------
    OutOfRange
        If a case cannot be, or there are not as many installations as cases.
    """
    sites = [installation] * len(cases) if hasattr(installation, "store") else list(installation)
    if len(sites) != len(cases):
        raise OutOfRange(f"there must be one installation for each of {len(cases)} cases; got {len(sites)}.")
    results = []
    with ThreadPoolExecutor(max_workers=cpu_count()) as pool:
        jobs = [pool.submit(simulate, site, case, step, layers, every) for site, case in zip(sites, cases, strict=True)]
        for job in jobs:
            results.append(job.result())
            if progress is not None:
                progress(len(results) / len(jobs))
    return tuple(results)


def refuse_impossible(installation, conditions):
    """Raise `OutOfRange` where `simulate` would, without running anything.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    conditions : Conditions
        What would happen to it.

    Raises
    ------
    OutOfRange
        If the installation lacks a part that the conditions use, or a value cannot be.
    """
    outside = outside_of(installation, conditions)
    plant_of(installation, conditions, 50, float(moments_of(conditions, outside, 0, 1, 60.0).air[0]))


def engine_is_ready():
    """Return whether the next simulation will be quick: compiled already, or kept from an earlier session."""
    return _ENGINE.is_ready


def steps_in(duration, step):
    """Return how many steps a duration holds; it must be a whole number of them."""
    require(step, "the step", "s", at_least=1, at_most=600)
    require(duration, "the duration", "s", at_least=step)
    count = round(duration / step)
    if abs(count * step - duration) > 1e-6 * step:
        raise OutOfRange(f"the duration must be a whole number of steps of {step:g} s; got {duration:g} s.")
    return count


def _steps_in_row(every, step, count):
    """Return how many steps a row of the books takes in."""
    if every is None:
        return 1
    require(every, "the time kept in a row", "s", at_least=step, at_most=count * step)
    in_row = round(every / step)
    if abs(in_row * step - every) > 1e-6 * step or count % in_row:
        raise OutOfRange(
            f"the time kept in a row must be whole steps of {step:g} s, and go into {count * step:g} s without rest; "
            f"got {every:g} s."
        )
    return in_row


class _Books:
    """Room for what a run writes down."""

    def __init__(self, rows, plant, air):
        self.rows = blank_records(Row, rows)
        self.profiles = np.empty((rows + 1, plant.layers.size))
        self.readings = np.full((rows + 1, len(READINGS)), np.nan)
        # More room than is ever touched: once so large a block was freed, the C library keeps memory between runs, and
        # the next one does not wait for fresh pages.
        self.events = np.empty(EVENTS, blank_records(Entry, 0).dtype).view(np.recarray)
        self.profiles[0] = plant.layers
        feel(plant.readings, plant.layers, plant.sensors, plant.burners, plant.boilers, plant.solars, plant.houses,
             plant.settings.room)  # fmt: skip
        plant.readings[READINGS.index("outside")] = air
        self.readings[0] = plant.readings
        self.start = stands(plant)


_ENGINE = engine(march)
