"""Faults as the kernels meet them: windows of time in which a control, a valve or a way for water is overruled.

A fault overrules what is decided or set, never a law: the heat still goes where the water carries it.
"""

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from tlib.compiled import records
from tlib.safety.faults import FAULTS
from tlib.simulation.logbook import CONTACTS
from tlib.simulation.steering import HIGH, LOW_CUT_OUT, LOW_STAT, PIPE, STORE_LIMIT, STORE_STAT
from tlib.stratification.column import layer_at
from tlib.validation import OutOfRange, require

__all__ = ["Fault", "Override", "checked_faults", "firing_with_faults", "overrides_of"]


class Fault(NamedTuple):
    """Something broken for a time."""

    name: str
    """One of `tlib.safety.FAULTS`."""
    begins: float = 0.0
    """After the start of the run [s]."""
    ends: float = math.inf
    """After the start of the run [s]."""
    severity: float | None = None
    """In the unit that its kind says; the usual one if left out."""


class Override(NamedTuple):
    """What is overruled until a time; the defaults overrule nothing."""

    until: float
    """After the start of the run [s]."""
    power: int = 1
    mains: int = 1
    pump_share: float = 1.0
    """Of the charge pump's flow [-]."""
    valve: float = -1.0
    """Where the loading valve is stuck [-]; below 0 it is free."""
    is_reversed: int = 0
    """Whether the pipe thermostat works the wrong way round."""
    leak_open: int = 1
    zone_open: int = 1
    quench_least: float = 0.0
    quench_most: float = 1.0
    coil_share: float = 1.0
    """Of the hot-water coil's conductance [-]."""
    blends: int = 1
    warmest: float = 200.0
    """That the blending valve lets through [°C]."""
    non_return: int = 1
    slip: float = 0.0
    """By which the solar control feels the store too cool [K]."""
    heating_from: int = -1
    """Layer that the heating is drawn from; below 0 as built."""
    boiler_feels: int = -1
    """Layer that the boiler thermostat feels; below 0 as built."""
    pumped_over: float = 0.0
    """Heat lost at the vent while the heating pump runs [W]."""


def checked_faults(faults, duration):
    """Return faults with their severity filled in, or refuse in words what cannot be.

    Parameters
    ----------
    faults : sequence of Fault
        As given.
    duration : float
        Of the run [s].

    Returns
    -------
    tuple of Fault
        Each within the run, with a severity.

    Raises
    ------
    OutOfRange
        If a name is not known, a time or severity cannot be, or two faults take hold of the same thing at one time.
    """
    checked = tuple(_checked(Fault(*((fault,) if isinstance(fault, str) else fault)), duration) for fault in faults)
    for i, one in enumerate(checked):
        for other in checked[i + 1 :]:
            shared = set(FAULTS[one.name].touches) & set(FAULTS[other.name].touches)
            if shared and one.begins < other.ends and other.begins < one.ends:
                raise OutOfRange(
                    f"the faults {one.name!r} and {other.name!r} both take hold of the {shared.pop()} at one time."
                )
    return checked


def _checked(fault, duration):
    if fault.name not in FAULTS:
        raise OutOfRange(f"no fault is known by the name {fault.name!r}; the names are {', '.join(sorted(FAULTS))}.")
    kind, what = FAULTS[fault.name], f"of the fault {fault.name!r}"
    require(fault.begins, f"the beginning {what}", "s", at_least=0, at_most=duration)
    ends = min(fault.ends, duration) if fault.ends == math.inf else fault.ends
    require(ends, f"the end {what}", "s", above=fault.begins)
    severity = kind.usual if fault.severity is None else fault.severity
    require(severity, f"the severity {what}" + (f", {kind.means}," if kind.means else ""), "", at_least=kind.least,
            at_most=kind.most)  # fmt: skip
    return Fault(fault.name, float(fault.begins), float(ends), float(severity))


def refuse_faults_without_parts(installation, faults):
    """Refuse a fault of a part that the installation does not have."""
    for fault in faults:
        for need in FAULTS[fault.name].needs:
            part = installation
            for key in need.split("."):
                part = getattr(part, key, None)
            if part is None:
                raise OutOfRange(f"{installation.name} has no [{need}], so it cannot suffer {fault.name!r}.")
    limited = installation.burner is not None and installation.burner.wiring.endswith("store limit")
    if any(fault.name == "store limit stuck open" for fault in faults) and not limited:
        raise OutOfRange(
            f"{installation.name}'s charge pump is wired without the store limit, so it cannot suffer "
            "'store limit stuck open'."
        )


def firing_with_faults(firing, faults):
    """Return batches of logs, those lit while the wood is wet with its moisture."""
    wet = [fault for fault in faults if fault.name == "wet wood"]
    return [
        batch._replace(moisture=next((f.severity for f in wet if f.begins <= batch.time < f.ends), batch.moisture))
        for batch in firing
    ]


def overrides_of(faults, layers):
    """Return the windows of a run in which something is overruled.

    Parameters
    ----------
    faults : sequence of Fault
        Checked.
    layers : int
        Of the store.

    Returns
    -------
    (recarray of Override, ndarray (window, contact), ndarray (window, contact))
        What is overruled; how each contact is held, below 0 for free; and by how much it feels too warm [K].
    """
    marks = sorted({0.0, math.inf, *(f.begins for f in faults), *(f.ends for f in faults)})
    rows, held, slips = [], [], []
    for begins, ends in pairwise(marks):
        changes, holds, feels = {}, np.full(len(CONTACTS), -1), np.zeros(len(CONTACTS))
        for fault in faults:
            if fault.begins <= begins < fault.ends:
                changes |= _changes(fault, layers)
                _hold(fault, holds, feels)
        rows.append(Override(ends, **changes))
        held.append(holds)
        slips.append(feels)
    return records(Override, rows), np.array(held, dtype=np.int64), np.array(slips)


def _changes(fault, layers):
    """Return the fields that a fault overrules."""
    severity = fault.severity
    return {
        "power cut": {"power": 0},
        "mains off": {"mains": 0},
        "charge pump dead": {"pump_share": 1.0 - severity},
        "loading valve stuck open": {"valve": severity},
        "loading valve stuck shut": {"valve": 1.0 - severity},
        "pipe thermostat reversed": {"is_reversed": 1},
        "heat leak air-locked": {"leak_open": 0},
        "zone valve stuck shut": {"zone_open": 0},
        "thermal valve seized shut": {"quench_most": 0.0},
        "thermal valve passing": {"quench_least": severity},
        "coil scaled": {"coil_share": 1.0 - severity},
        "blending valve fails hot": {"blends": 0},
        "blending valve fails cool": {"warmest": severity},
        "non-return valve missing": {"non_return": 0},
        "solar sensor slipped": {"slip": severity},
        "heating drawn from the top": {"heating_from": layers - 1},
        "boiler thermostat low in the store": {"boiler_feels": layer_at(min(severity, 1.0), layers)},
        "pumping over at the vent": {"pumped_over": severity},
    }.get(fault.name, {})


def _hold(fault, holds, feels):
    """Hold the contacts that a fault holds, or let them feel wrongly."""
    fixed = {
        "pipe thermostat fails open": (PIPE, 0), "store limit stuck open": (STORE_LIMIT, 0),
        "store thermostat stuck made": (STORE_STAT, 1), "high limit fails open": (HIGH, 0),
        "high limit stuck made": (HIGH, 1),
    }.get(fault.name)  # fmt: skip
    if fixed:
        holds[fixed[0]] = fixed[1]
    if fault.name == "immersion thermostat welded":
        holds[LOW_STAT : LOW_STAT + 2] = 1
    if fault.name == "immersion cut-out tripped":
        holds[LOW_CUT_OUT : LOW_CUT_OUT + 2] = 0
    if fault.name == "pipe thermostat loose":
        feels[PIPE] = -fault.severity
