"""What an installation feels and decides in each step: sensors, contacts, control tables, and what is noted of them."""

import numpy as np

from tlib.compiled import kernel
from tlib.controls import (
    BOILER_DEMAND,
    CHARGE_PUMP,
    CHARGE_PUMP_LIMITED,
    HEATING,
    HIGH_FIRST,
    IMMERSION,
    difference_latch,
    move_contact,
)
from tlib.simulation.logbook import CONTACTS, FIRST_SENSOR, PUMPS, READINGS, note

__all__ = [
    "BOILER_LIMIT", "CHARGE", "FIRE_BOILER", "FROST", "HEAT", "HEAT_HIGH", "HEAT_LOW", "HIGH", "LOW_CUT_OUT",
    "LOW_STAT", "OUTSIDE", "PIPE", "PUMP_BOILER", "PUMP_SOLAR", "STAT_SENSOR", "STORE_LIMIT", "STORE_STAT", "THERMAL",
    "call_elements", "count_elements", "feel", "move_contacts", "note_pumps", "switch",
]  # fmt: skip

(PIPE, STORE_LIMIT, STORE_STAT, ENOUGH, HIGH, ROOM_CALL, FROST, SOLAR_STORE, SOLAR_COLLECTOR, BOILER_LIMIT, LOW_STAT,
 HIGH_STAT, LOW_CUT_OUT, HIGH_CUT_OUT, THERMAL) = range(len(CONTACTS))  # fmt: skip
CHARGE, HEAT, FIRE_BOILER, PUMP_BOILER, PUMP_SOLAR, HEAT_LOW, HEAT_HIGH = range(len(PUMPS))
(BURNER_FLOW, BURNER_RETURN, BOILER_FLOW, COLLECTOR, ROOM, OUTSIDE, TOP, *_) = range(len(READINGS))
LOWER = READINGS.index("lower")
FELT_BY = np.array([READINGS.index(name) for name in (
    "burner flow", "middle", "boiler flow", "boiler flow", "collector", "low immersion", "high immersion",
)])  # fmt: skip
"""What is read beside a pump or heater as it is switched."""
STAT_SENSOR = READINGS.index("boiler thermostat") - FIRST_SENSOR
FIRST_PUMP = len(CONTACTS)
"""Where the pumps begin in an event's numbering."""
SOON = 7200.0
"""A draw within this time is due soon [s]. Common practice, no source."""
COOL = 50.0
"""A top below this is too cool for a draw [°C]. Common practice, no source."""


@kernel
def feel(readings, layers, sensors, burners, boilers, solars, houses, room):
    """Fill in what every sensor feels, but for the one outside."""
    if burners.size:
        readings[BURNER_FLOW], readings[BURNER_RETURN] = burners[0].temperature, burners[0].back
    if boilers.size:
        readings[BOILER_FLOW] = boilers[0].temperature
    if solars.size:
        readings[COLLECTOR] = solars[0].outlet
    readings[ROOM] = houses[0].temperature if houses.size else room
    for i in range(sensors.size):
        readings[FIRST_SENSOR + i] = layers[sensors[i]]


@kernel
def move_contacts(contacts, readings, held, feels, moment, room_gap, run, events):
    """Move every contact that is there, unless a fault holds it; how they stand at power-up is no event."""
    contacts[ROOM_CALL].upper, contacts[ROOM_CALL].lower = moment.room, moment.room - room_gap
    for i in range(contacts.size):
        contact = contacts[i]
        if contact.feels < 0:
            continue
        felt = readings[contact.feels]
        was = contact.state
        if held[run.window, i] >= 0:
            contact.state = held[run.window, i]
        else:
            move_contact(contact, felt + feels[run.window, i], moment.reset)
        if contact.state != was and run.time > 0.0:
            note(events, run, i, contact.state, felt)


@kernel
def switch(contacts, readings, pumps, run, moment, override, settings):
    """Decide what runs, from the tables; without power, nothing does."""
    pipe = abs(contacts[PIPE].state - override.is_reversed)
    pumps[CHARGE] = CHARGE_PUMP_LIMITED[pipe, contacts[STORE_LIMIT].state] if settings.limited else CHARGE_PUMP[pipe]
    calls = 1 if moment.power > 0.0 or (moment.power < 0.0 and contacts[ROOM_CALL].state) else 0
    frost = contacts[FROST].state
    pumps[HEAT] = HEATING[max(moment.heating, frost), max(calls, frost), contacts[ENOUGH].state, contacts[HIGH].state]
    run.boiler_wanted = BOILER_DEMAND[max(moment.boiler, frost), contacts[STORE_STAT].state, pipe]
    if contacts[SOLAR_STORE].feels >= 0:
        allowed = contacts[SOLAR_STORE].state * contacts[SOLAR_COLLECTOR].state
        difference = readings[COLLECTOR] - readings[LOWER] + override.slip
        pumps[PUMP_SOLAR] = difference_latch(
            pumps[PUMP_SOLAR], difference, settings.solar_starts, settings.solar_stops, allowed
        )
    if not override.power:
        run.boiler_wanted = 0
        pumps[CHARGE], pumps[HEAT], pumps[PUMP_SOLAR] = 0, 0, 0


@kernel
def note_pumps(pumps, were, readings, run, events):
    """Write down whatever was switched in this step."""
    for i in range(pumps.size):
        if pumps[i] != were[i]:
            note(events, run, FIRST_PUMP + i, pumps[i], readings[FELT_BY[i]])
            were[i] = pumps[i]


@kernel
def call_elements(elements, contacts, readings, taps, power, run):
    """Let each immersion heater's thermostat and cut-out say whether it may take power, and which goes first."""
    for i in range(elements.size):
        stat, cut_out = LOW_STAT + elements[i].is_high, LOW_CUT_OUT + elements[i].is_high
        elements[i].calls = IMMERSION[power, contacts[cut_out].state, contacts[stat].state, 1]
    due = 1 if run.piece < taps.size and taps[run.piece].begins - run.time <= SOON else 0
    run.high_first = HIGH_FIRST[due, 1 if readings[TOP] < COOL else 0]


@kernel
def count_elements(elements, pumps):
    """Let the states of what is switched tell which immersion heaters take power."""
    for i in range(elements.size):
        pumps[HEAT_LOW + elements[i].is_high] = elements[i].taking
