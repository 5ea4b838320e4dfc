"""The pressure of the system through a run, from the growth of its water against its vessel or cistern."""

from functools import cache

import numpy as np

from tlib import water_properties
from tlib.thermal_expansion import expanded_fraction, static_pressure
from tlib.thermal_expansion.pressures import vessel_pressure
from tlib.units import ATMOSPHERE

__all__ = ["system_pressure"]

FILLED_AT = 10.0
"""Temperature at which a system is filled [°C]."""
COLDEST = 4.0
"""From here down water counts as not growing [°C]."""
HOTTEST = 110.0
"""Up to here the growth of the water is taken from its density [°C]."""
OVER_HEAD = 0.3e5
"""Fill pressure above the static head where no vessel is written [Pa]. Common practice, no source."""
MAINS = ATMOSPHERE + 3.5e5
"""Pressure of the mains behind a filling loop [Pa], as a reducing valve sets it. Common practice, no source."""
LITRE_AN_HOUR = 1e-3 / 3600.0
"""[m3/s]."""


def system_pressure(installation, time, layers, burner, faults):
    """Return the pressure at the store through a run, and the water that the relief valve let go.

    Parameters
    ----------
    installation : tlib.installation.Installation
        Vented: its pressure is that of the water above it. Sealed: of the gas in its vessel.
    time : ndarray, (row,)
        [s].
    layers : ndarray, (row, layer)
        Of the store [°C].
    burner : ndarray, (row,)
        Temperature of the burner's water [°C]; not a number without one.
    faults : sequence of Fault
        A flat vessel keeps air at the pressure of the room only; it is taken as topped up to its fill pressure. A
        relief valve that passes loses its litres an hour at any pressure, until the vessel is empty. A filling loop
        left open lets its litres an hour in while the system is below the mains, and the mains are on.

    Returns
    -------
    (ndarray (row,), ndarray (row,))
        Absolute pressure [Pa], and water let go by the relief valve so far [m3]. Without a relief valve a sealed
        system's pressure is not defined, NaN: something would break.

    Notes
    -----
    Store and burner count; the water of the heating circuit, which the file does not tell, is left out. A vessel
    without water holds no pressure: what is left is that of the water above, and what is missing is air at the top.

    The heat of water that drips out or is let in is left out of the run, whose layers keep their mass: 0.2 l/h that
    leaves at 70 °C and is made up at 10 °C takes 14 W (a drop a second), and the most that the faults allow, 4 l/h,
    about 0.3 kW.
    """
    if installation.system == "vented" or installation.vessel is None:
        over = 0.0 if installation.system == "vented" else OVER_HEAD
        head = ATMOSPHERE + float(static_pressure(installation.static_head)) + over
        return np.full(time.size, head), np.zeros(time.size)
    if installation.safety is None:
        return np.full(time.size, np.nan), np.zeros(time.size)
    growth = _growth(installation, layers, burner)
    charge = np.where(_lasts(time, faults, "vessel flat"), ATMOSPHERE, installation.vessel.charge)
    passed = _through(time, faults, "relief valve passing")
    filled = _through(time, faults, "fill loop open", unless="mains off")
    return _against_relief(installation, growth, charge, passed, filled)


def _lasts(time, faults, name):
    """Return whether a fault of a name lasts, at each time; one that ends with the run lasts through its last row."""
    lasts = np.zeros(np.shape(time), dtype=bool)
    for fault in faults:
        if fault.name == name:
            lasts |= (time >= fault.begins) & ((time < fault.ends) | (fault.ends >= time[-1]))
    return lasts


def _through(time, faults, name, unless=""):
    """Return the water that a fault lets through from each time to the next, nothing before the first [m3]."""
    marks = np.unique([time[0], time[-1], *(mark for fault in faults for mark in (fault.begins, fault.ends))])
    rate = np.zeros(marks.size)
    for fault in faults:
        if fault.name == name:
            rate[(marks >= fault.begins) & (marks < fault.ends)] = fault.severity * LITRE_AN_HOUR
    rate[_lasts(marks, faults, unless)] = 0.0
    so_far = np.concatenate(([0.0], np.cumsum(rate[:-1] * np.diff(marks))))
    return np.diff(np.interp(time, marks, so_far), prepend=0.0)


def _growth(installation, layers, burner):
    """Return how much more room the water takes than as it was filled [m3]."""
    growth = installation.store.volume * _expanded(layers).mean(axis=1)
    if installation.burner is not None:
        growth = growth + installation.burner.water * _expanded(burner)
    return growth


def _expanded(temperature):
    """Return how much water has grown since it was filled in, as a share [-]: between points, on a straight line.

    Points lie so near that the line is nowhere further than 2e-8 from the curve.
    """
    return np.interp(temperature, *_points())


@cache
def _points():
    """Return temperatures [°C] and how much water has grown at each [-]: at the pressure of the air, or just liquid."""
    temperature = np.linspace(COLDEST, HOTTEST, 1061)
    pressure = np.maximum(water_properties.saturation_pressure(temperature), ATMOSPHERE)
    return temperature, expanded_fraction(FILLED_AT, temperature, pressure)


def _against_relief(installation, growth, charge, passed, filled):
    """Return pressures [Pa] and water let go [m3]: what has left is missing from then on, until it is made up."""
    vessel, least = installation.vessel, ATMOSPHERE + float(static_pressure(installation.static_head))
    cold, most, mains = (vessel.volume * (1.0 - charge / p) for p in (vessel.fill, installation.safety.relief, MAINS))
    water, gone = _held_back(cold + growth, most, mains, passed, filled)
    held = np.where(water > 0.0, water, 0.5 * vessel.volume)  # an empty vessel holds no pressure of its own
    pressure = np.maximum(vessel_pressure(vessel.volume, held, charge), least)
    return np.where(water > 0.0, pressure, least), gone


def _held_back(water, most, mains, passed, filled):
    """Return the water in the vessel and all that the relief valve has let go so far, at each time [m3].

    Numbers one by one and not arrays: what is missing at one time depends on all that happened before.
    """
    missing, lifted, left, gone = 0.0, 0.0, [], []
    rows = (each.tolist() for each in (water, most, mains, passed, filled))
    for wanted, top, limit, drips, comes in zip(*rows, strict=True):
        here = wanted - missing
        change = min(comes, max(limit - here, 0.0)) - min(drips, max(here, 0.0))
        over = max(here + change - top, 0.0)
        missing, lifted = missing - change + over, lifted + over
        left.append(here + change - over)
        gone.append(lifted)
    return np.array(left), np.array(gone)
