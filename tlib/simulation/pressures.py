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
        A flat vessel keeps air at the pressure of the room only; it is taken as topped up to its fill pressure.

    Returns
    -------
    (ndarray (row,), ndarray (row,))
        Absolute pressure [Pa], and water let go by the relief valve so far [m3]. Without a relief valve a sealed
        system's pressure is not defined, NaN: something would break.

    Notes
    -----
    Store and burner count; the water of the heating circuit, which the file does not tell, is left out.
    """
    if installation.system == "vented" or installation.vessel is None:
        over = 0.0 if installation.system == "vented" else OVER_HEAD
        head = ATMOSPHERE + float(static_pressure(installation.static_head)) + over
        return np.full(time.size, head), np.zeros(time.size)
    if installation.safety is None:
        return np.full(time.size, np.nan), np.zeros(time.size)
    growth = _growth(installation, layers, burner)
    flat = np.zeros(time.size, dtype=bool)
    for fault in faults:
        if fault.name == "vessel flat":
            flat |= (time >= fault.begins) & (time < fault.ends)
    return _against_relief(installation, growth, flat)


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


def _against_relief(installation, growth, flat):
    """Return pressures [Pa] and water let go [m3]: what the relief valve has let go is missing from then on."""
    vessel, relief = installation.vessel, installation.safety.relief
    charge = np.where(flat, ATMOSPHERE, vessel.charge)
    water = vessel.volume * (1.0 - charge / vessel.fill) + growth
    most = vessel.volume * (1.0 - charge / relief)
    gone = np.maximum.accumulate(np.maximum(water - most, 0.0))
    return vessel_pressure(vessel.volume, water - gone, charge), gone
