"""Controls decide: thermostats with a gap, and each rule as a small table that runs, prints and is tested.

A thermostat's state is 0 or 1. Inside its gap it stays as it was, so a temperature alone cannot tell the state.
"""

import numpy as np

from tlib.compiled import kernel

__all__ = [
    "BOILER_DEMAND",
    "CHARGE_PUMP",
    "CHARGE_PUMP_LIMITED",
    "HEATING",
    "breaks_on_rise",
    "makes_on_rise",
    "manual_reset",
]

CHARGE_PUMP = np.array([0, 1])
"""Charge pump, wiring by the pipe thermostat alone: [pipe thermostat]. A hot store never stops it."""

CHARGE_PUMP_LIMITED = np.array([[0, 0], [0, 1]])
"""Charge pump with a store limit in series: [pipe thermostat, store under its limit]."""

BOILER_DEMAND = np.array([[[0, 0], [0, 0]], [[0, 0], [1, 0]]])
"""Boiler demand: [clock or frost, store thermostat, pipe thermostat]. It waits while the fire is charging."""

HEATING = np.array([[[[0, 1], [0, 1]], [[0, 1], [0, 1]]], [[[0, 1], [0, 1]], [[0, 1], [1, 1]]]])
"""Heating pump and zone valve: [clock, room thermostat, enough heat, high limit]. The high limit dumps at any hour."""


@kernel
def makes_on_rise(state, temperature, on, off):
    """Return the state of a thermostat that makes at or above `on` [°C] and breaks at or below `off`.

    Parameters
    ----------
    state : int
        0 or 1, as it stands.
    temperature, on, off : float
        What it feels and its two settings, ``off`` below ``on`` [°C].

    Returns
    -------
    int
        The new state; inside the gap, the old one.

    Examples
    --------
    >>> [makes_on_rise(0, t, 55.0, 47.0) for t in (47.0, 54.9, 55.0)]
    [0, 0, 1]
    """
    if temperature >= on:
        return 1
    if temperature <= off:
        return 0
    return state


@kernel
def breaks_on_rise(state, temperature, off, on):
    """Return the state of a thermostat that breaks at or above `off` [°C] and makes again at or below `on`.

    Parameters
    ----------
    state : int
        0 or 1, as it stands.
    temperature, off, on : float
        What it feels and its two settings, ``on`` below ``off`` [°C].

    Returns
    -------
    int
        The new state; inside the gap, the old one.

    Examples
    --------
    >>> [breaks_on_rise(1, t, 75.0, 67.0) for t in (67.0, 74.9, 75.0)]
    [1, 1, 0]
    """
    if temperature >= off:
        return 0
    if temperature <= on:
        return 1
    return state


@kernel
def manual_reset(tripped, temperature, trip, reset_pressed):
    """Return whether a limit with a manual reset stands tripped, 0 or 1.

    Parameters
    ----------
    tripped : int
        As it stands.
    temperature, trip : float
        What it feels and where it trips [°C].
    reset_pressed : int
        Whether somebody presses the reset now; it clears only 10 K below the trip point.

    Returns
    -------
    int
        The new state.

    Examples
    --------
    >>> manual_reset(0, 90.0, 90.0, 0), manual_reset(1, 85.0, 90.0, 1), manual_reset(1, 79.0, 90.0, 1)
    (1, 1, 0)
    """
    if temperature >= trip:
        return 1
    if reset_pressed and temperature < trip - 10.0:
        return 0
    return tripped
