"""The sensors and contacts of an installation, as tables for the kernels."""

import numpy as np

from tlib.controls import BREAKS_ON_RISE, LOCKS_OUT, MAKES_ON_RISE, Contact
from tlib.simulation.logbook import CONTACTS, FIRST_SENSOR, READINGS
from tlib.stratification.column import layer_at

__all__ = ["contacts_of", "sensors_of", "valve_at"]


def valve_at(site, place):
    """Return the thermal valve if it feels, and cools, a place."""
    valve = site.safety.thermal_valve if site.safety else None
    return valve if valve and valve.sensor == place else None


def sensors_of(site, layers):
    """Return the layers of the store's sensors, in the order of `READINGS`; one that is not written is at the top."""
    heights = {name.replace("_", " "): height for name, height in site.store.sensors.items()}
    for name in ("low", "high"):
        one = site.immersions and getattr(site.immersions, name)
        if one:  # a thermostat's pocket lies just above its element
            heights[f"{name} immersion"] = min(one.top + 0.02, 1.0)
    return np.array([layer_at(heights.get(name, 1.0), layers) for name in READINGS[FIRST_SENSOR:]], dtype=np.int64)


def contacts_of(site):
    """Return the contacts of an installation in the order of `CONTACTS`; one without its part never moves."""
    burner, boiler, heating, immersions = site.burner, site.boiler, site.heating, site.immersions
    limit = burner.store_limit if burner and burner.wiring.endswith("store limit") else None
    solar = site.solar.control if site.solar else None
    low, high = (immersions and getattr(immersions, name) for name in ("low", "high"))
    valve = valve_at(site, "store top")
    dump = site.safety.high_limit if heating and site.safety else None  # no heating, nowhere to dump
    rows = [
        _contact("burner flow", MAKES_ON_RISE, burner and burner.pump.pipe_thermostat, 1),
        _contact("store limit", BREAKS_ON_RISE, limit, 1),
        _contact("boiler thermostat", BREAKS_ON_RISE, boiler and boiler.thermostat),
        _contact("middle", MAKES_ON_RISE, heating and heating.enough_heat),
        _contact("high limit", MAKES_ON_RISE, dump),
        Contact(READINGS.index("room") if heating else -1, BREAKS_ON_RISE),
        _contact("room", BREAKS_ON_RISE, heating and heating.frost),
        _contact("lower", BREAKS_ON_RISE, solar and _below(solar.store_limit, 5.0), 1),
        _contact("collector", BREAKS_ON_RISE, solar and _below(solar.collector_limit, 10.0), 1),
        _contact("boiler flow", LOCKS_OUT, boiler and _below(boiler.limit, 10.0), 1),
        _contact("low immersion", BREAKS_ON_RISE, low and low.thermostat),
        _contact("high immersion", BREAKS_ON_RISE, high and high.thermostat),
        _contact("low immersion", LOCKS_OUT, low and _below(low.cut_out, 10.0), 1),
        _contact("high immersion", LOCKS_OUT, high and _below(high.cut_out, 10.0), 1),
        _contact("top", MAKES_ON_RISE, valve and (valve.opens, valve.closes)),
    ]
    assert len(rows) == len(CONTACTS)
    return rows


def _contact(felt, kind, thermostat, at_power_up=0):
    """Return a contact; inside its gap at power-up it stands open, but for what carries or limits heat."""
    if not thermostat:
        return Contact(-1, kind, state=at_power_up if kind != MAKES_ON_RISE else 0)
    if isinstance(thermostat, tuple):
        upper, lower = thermostat
    else:
        upper, lower = max(thermostat.makes, thermostat.breaks), min(thermostat.makes, thermostat.breaks)
    return Contact(READINGS.index(felt), kind, upper, lower, at_power_up)


def _below(setting, gap):
    return setting, setting - gap
