"""A day at a place with something broken, as a logger kept it: simulated when it is drawn, never when it is marked."""

import math

from tlib.assessment.sites import site
from tlib.documents import fitted

__all__ = ["day_faults", "logged"]

_EVERY, _LONGEST = 300.0, 48 * 3600.0


def day_faults(part):
    """Yield where, by key, and what is wrong with the day of a part that asks for a fault.

    Parameters
    ----------
    part : tlib.assessment.parts.trace.Part
    """
    from tlib.safety.faults import FAULTS
    from tlib.simulation.installed import refuse_impossible
    from tlib.simulation.traces import CHANNELS, STATES
    from tlib.validation import OutOfRange

    for name in part.show:
        if name not in (*CHANNELS, *STATES):
            yield ("show",), f"{name!r} is not logged; the logger keeps {', '.join((*CHANNELS, *STATES))}"
    unknown = [name for name in part.fault.from_ if name not in FAULTS]
    for name in unknown:
        yield ("fault", "from"), f"no fault is known by the name {name!r}; the names are {', '.join(sorted(FAULTS))}"
    day, found = _read(part)
    yield from ((("day", *keys), says) for keys, says in found)
    if unknown or found:
        return
    if day.duration > _LONGEST:
        yield (
            ("day", "duration"),
            f"is {day.duration / 3600:g} hours; a logged day has at most {_LONGEST / 3600:g} hours",
        )
        return
    if 60.0 * part.fault.after >= day.duration:
        yield ("fault", "after"), "is after the end of the day"
        return
    for name in part.fault.from_:
        try:
            refuse_impossible(site(part.site), _conditions(part, day, name))
        except OutOfRange as fault:
            yield (("fault", "from") if name in str(fault) else ("day",)), str(fault)


def logged(part, name, seed):
    """Return the log of a day with one fault, as plain numbers that a hand-out can hold.

    Parameters
    ----------
    part : tlib.assessment.parts.trace.Part
    name : str
        The fault.
    seed : int
        Of the sensors' noise.

    Returns
    -------
    dict
        ``begins`` [s after midnight], ``every`` [s] and ``series``: by name, temperatures to 0.1 °C, the pressure to
        0.01 bar on the gauge, states as 0 and 1, and None where nothing was measured.
    """
    from tlib.simulation.installed import simulate
    from tlib.simulation.traces import trace

    conditions = _conditions(part, _read(part)[0], name)
    log = trace(simulate(site(part.site), conditions), every=_EVERY, noise_seed=seed)
    found = {**log.channels, **log.states}
    series = {channel: [_plain(value) for value in found[channel].tolist()] for channel in part.show}
    return {"begins": float(log.begins), "every": _EVERY, "series": series}


def _read(part):
    from tlib.simulation.conditions_file import DayRecord

    return fitted(part.day, DayRecord)


def _conditions(part, day, name):
    from tlib.simulation.conditions_file import conditions_of
    from tlib.simulation.overrides import Fault

    return conditions_of(day, faults=(Fault(name, begins=60.0 * part.fault.after),))


def _plain(value):
    return None if isinstance(value, float) and math.isnan(value) else value
