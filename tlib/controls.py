"""Controls decide: thermostats with a gap, and each rule as a small table that runs, prints and is tested.

A thermostat's state is 0 or 1. Inside its gap it stays as it was, so a temperature alone cannot tell the state.
"""

from typing import NamedTuple

import numpy as np

from tlib.compiled import kernel

__all__ = [
    "BOILER_DEMAND",
    "BREAKS_ON_RISE",
    "CHARGE_PUMP",
    "CHARGE_PUMP_LIMITED",
    "HEATING",
    "HIGH_FIRST",
    "IMMERSION",
    "LOCKS_OUT",
    "MAKES_ON_RISE",
    "Contact",
    "breaks_on_rise",
    "difference_latch",
    "makes_on_rise",
    "manual_reset",
    "move_contact",
]  # fmt: skip

CHARGE_PUMP = np.array([0, 1])
"""Charge pump, wiring by the pipe thermostat alone: [pipe thermostat]. A hot store never stops it."""

CHARGE_PUMP_LIMITED = np.array([[0, 0], [0, 1]])
"""Charge pump with a store limit in series: [pipe thermostat, store under its limit]."""

BOILER_DEMAND = np.array([[[0, 0], [0, 0]], [[0, 0], [1, 0]]])
"""Boiler demand: [clock or frost, store thermostat, pipe thermostat]. It waits while the fire is charging."""

HEATING = np.array([[[[0, 1], [0, 1]], [[0, 1], [0, 1]]], [[[0, 1], [0, 1]], [[0, 1], [1, 1]]]])
"""Heating pump and zone valve: [clock, room thermostat, enough heat, high limit]. The high limit dumps at any hour."""

IMMERSION = np.array([[[[0, 0], [0, 0]], [[0, 0], [0, 0]]], [[[0, 0], [0, 0]], [[0, 0], [0, 1]]]])
"""Each immersion heater: [supply, cut-out whole, thermostat calls, surplus]."""

HIGH_FIRST = np.array([[0, 0], [0, 1]])
"""Which immersion heater goes first, 1 for the upper: [a draw is due soon, the top is cool]."""

BREAKS_ON_RISE, MAKES_ON_RISE, LOCKS_OUT = range(3)
"""Kinds of contact: the third breaks on the rise and then waits for a hand to reset it."""


class Contact(NamedTuple):
    """A thermostat or limit: what it feels, its settings, and how it stands."""

    feels: int
    """Which reading it feels; below 0 it is not there, and its state never changes."""
    kind: int
    """One of the kinds above."""
    upper: float = 0.0
    """The setting reached on the rise [°C]."""
    lower: float = 0.0
    """The setting reached on the fall [°C]."""
    state: int = 0
    """1 when made."""


@kernel
def move_contact(contact, felt, reset_pressed):
    """Let a contact feel a temperature [°C] and move; return whether it changed.

    Parameters
    ----------
    contact : record of Contact
        Its state is set.
    felt : float
        [°C].
    reset_pressed : int
        Whether somebody presses its reset now, if it has one.
    """
    was = contact.state
    if contact.kind == MAKES_ON_RISE:
        contact.state = makes_on_rise(was, felt, contact.upper, contact.lower)
    elif contact.kind == BREAKS_ON_RISE:
        contact.state = breaks_on_rise(was, felt, contact.upper, contact.lower)
    else:
        contact.state = 1 - manual_reset(1 - was, felt, contact.upper, reset_pressed)
    return contact.state != was


@kernel
def difference_latch(state, difference, on, off, allowed):
    """Return the state of a differential control.

    Parameters
    ----------
    state : int
        0 or 1, as it stands.
    difference, on, off : float
        Collector less store, and the differences that start and stop the pump [K].
    allowed : int
        Whether every limit allows it.

    Returns
    -------
    int
        The new state; between the two settings, the old one.

    Examples
    --------
    >>> [difference_latch(0, d, 7.0, 3.0, 1) for d in (3.0, 6.9, 7.0)], difference_latch(1, 20.0, 7.0, 3.0, 0)
    ([0, 0, 1], 0)
    """
    if not allowed or difference <= off:
        return 0
    if difference >= on:
        return 1
    return state


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
