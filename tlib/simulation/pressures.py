"""The pressure of the system through a run, from the growth of its water against its vessel or cistern."""

import numpy as np

from tlib.thermal_expansion import expanded_fraction, static_pressure
from tlib.thermal_expansion.pressures import vessel_pressure
from tlib.units import ATMOSPHERE

__all__ = ["system_pressure"]

FILLED_AT = 10.0
"""Temperature at which a system is filled [°C]."""
HOTTEST = 110.0
"""Up to here the growth of the water is taken from its density at the pressure of the air [°C]."""
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
    warm = np.clip(layers, 4.0, HOTTEST)
    growth = installation.store.volume * expanded_fraction(FILLED_AT, warm).mean(axis=1)
    if installation.burner is not None:
        growth = growth + installation.burner.water * expanded_fraction(FILLED_AT, np.clip(burner, 4.0, HOTTEST))
    return growth


def _against_relief(installation, growth, charge, passed, filled):
    """Return pressures [Pa] and water let go [m3]: what has left is missing from then on, until it is made up."""
    vessel, least = installation.vessel, ATMOSPHERE + float(static_pressure(installation.static_head))
    cold, most, mains = (vessel.volume * (1.0 - charge / p) for p in (vessel.fill, installation.safety.relief, MAINS))
    pressure, gone, missing, lifted = np.empty(growth.size), np.empty(growth.size), 0.0, 0.0
    for k in range(growth.size):
        water = cold[k] + growth[k] - missing
        change = min(filled[k], max(mains[k] - water, 0.0)) - min(passed[k], max(water, 0.0))
        over = max(water + change - most[k], 0.0)
        missing, lifted = missing - change + over, lifted + over
        pressure[k] = _held(vessel.volume, water + change - over, charge[k], least)
        gone[k] = lifted
    return pressure, gone


def _held(vessel, water, charge, least):
    """Return the pressure that a vessel holds, never less than that of the water above [Pa]."""
    return max(vessel_pressure(vessel, water, charge), least) if water > 0.0 else least
