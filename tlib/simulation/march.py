"""The step of an installation: sensors, controls, appliances, coils, flow, conduction and loss, merging, books.

The order is fixed. Whatever moves heat is booked with the number that moved it.
"""

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
from tlib.heat_loads import radiator_loop, serve_taps, settle_floor, step_floor, step_house
from tlib.heat_sources import (
    burn,
    decide_firing,
    rest_element,
    settle_boiler,
    settle_burner,
    share_surplus,
    step_boiler,
    step_burner,
    step_solar,
    warm_lining,
)
from tlib.simulation.logbook import CONTACTS, PUMPS, note
from tlib.simulation.plant import BOILER, BURNER, FIRST_SENSOR, FLOOR, RADIATORS, READINGS
from tlib.thermal_store import (
    advect,
    conduct_and_lose,
    find_own_levels,
    heat_elements,
    merge,
    mix_jets,
    write_down,
)

__all__ = ["feel", "march"]

(PIPE, STORE_LIMIT, STORE_STAT, ENOUGH, HIGH, ROOM_CALL, FROST, SOLAR_STORE, SOLAR_COLLECTOR, BOILER_LIMIT, LOW_STAT,
 HIGH_STAT, LOW_CUT_OUT, HIGH_CUT_OUT) = range(len(CONTACTS))  # fmt: skip
CHARGE, HEAT, FIRE_BOILER, PUMP_BOILER, PUMP_SOLAR, HEAT_LOW, HEAT_HIGH = range(len(PUMPS))
(BURNER_FLOW, BURNER_RETURN, BOILER_FLOW, COLLECTOR, ROOM, OUTSIDE, TOP, *_) = range(len(READINGS))
LOWER = READINGS.index("lower")
FELT_BY = np.array([READINGS.index(name) for name in (
    "burner flow", "middle", "boiler flow", "boiler flow", "collector", "low immersion", "high immersion",
)])  # fmt: skip
"""What is read beside a pump or heater as it is switched."""
FIRST_PUMP = len(CONTACTS)
"""Where the pumps begin in an event's numbering."""
ALL = 1e9
"""Heat asked of the radiators when they are to give all they can [W]."""
SOON = 7200.0
"""A draw within this time is due soon [s]. Common practice, no source."""
COOL = 50.0
"""A top below this is too cool for a draw [°C]. Common practice, no source."""


def march(plant, moments, step, every, rows, profiles, temperatures, events):
    """Step an installation through a stretch of moments, or until water reaches its boiling point.

    Parameters
    ----------
    plant : Plant
        As it stands; brought to the end of the stretch.
    moments : recarray of Moment
        Weather and clocks, one a step.
    step : float
        [s].
    every : int
        Steps in a row of the books.
    rows : recarray of Row
        The books of the whole run.
    profiles, temperatures : ndarray, (row + 1, …)
        The store's layers and the readings, at the end of each row.
    events : recarray of Entry
        Filled from its beginning.
    """
    (layers, tank, loss, loops, work, sizes, batches, burners, boilers, solars, solar_coil, solar_ends, elements,
     shares, powers, sharing, radiators, floors, houses, water, water_coil, taps, contacts, readings, sensors, pumps,
     were, runs, settings) = plant  # fmt: skip
    run, capacity = runs[0], tank.capacity
    run.events = 0
    for k in range(moments.size):
        moment, row = moments[k], rows[run.row]
        feel(readings, layers, sensors, burners, boilers, solars, houses, settings.room, moment.air)
        _move(contacts, readings, moment, settings.room_gap, run, events)
        _switch(contacts, readings, pumps, run, moment, settings)
        near_burner, near_boiler, near_store = _rooms(houses, settings.room)
        if burners.size:
            _light(burners[0], batches, loops[BURNER], layers, pumps[CHARGE], near_burner, run, moment, row, step)
        if boilers.size:
            _boil(boilers[0], loops[BOILER], layers, contacts[BOILER_LIMIT].state, pumps, near_boiler, run, row, step)
        if houses.size:
            _heat_rooms(houses[0], floors, radiators, loops, layers, contacts, pumps[HEAT], moment, step)

        if run.piece < taps.size:
            run.piece = serve_taps(layers, water_coil, water, taps, run.piece, run.time, step, capacity, row)
        if solars.size:
            step_solar(solars[0], layers, solar_coil, solar_ends[0], solar_ends[1], moment.sun, moment.air,
                       pumps[PUMP_SOLAR], step, capacity)  # fmt: skip
            _book_solar(solars[0], row, step)
        if elements.size:
            _call(elements, contacts, readings, taps, run)
            share_surplus(elements, powers, sharing[0], moment.surplus, run.high_first)
            heat_elements(layers, shares, powers, step, capacity)
            _count_elements(elements, pumps)
        _note_pumps(pumps, were, readings, run, events)
        _book_surplus(powers, moment.surplus, row, step)

        if settings.stirs:
            find_own_levels(layers, loops)
        advect(layers, tank, loops, step, work)
        if settings.stirs:
            mix_jets(layers, tank, loops, step, work)
        lost = conduct_and_lose(layers, tank, loss, near_store, step, work)
        merge(layers, work, sizes)

        _settle(burners, boilers, floors, loops, row, step)
        row.standing_loss -= lost
        if houses.size:
            _warm_house(houses[0], floors, loops, run, lost, moment.air, row, step)
        _count_time(pumps, contacts[HIGH].state, row, step)
        run.time += step
        run.filled += 1
        run.boiling = _boils(layers, burners, settings.boiling)
        if run.filled == every or run.boiling:
            run.row, run.filled = run.row + 1, 0
            feel(readings, layers, sensors, burners, boilers, solars, houses, settings.room, moment.air)
            write_down(profiles[run.row], layers)
            write_down(temperatures[run.row], readings)
        if run.boiling:
            break


@kernel
def feel(readings, layers, sensors, burners, boilers, solars, houses, room, outside):
    """Fill in what every sensor feels."""
    if burners.size:
        readings[BURNER_FLOW], readings[BURNER_RETURN] = burners[0].temperature, burners[0].back
    if boilers.size:
        readings[BOILER_FLOW] = boilers[0].temperature
    if solars.size:
        readings[COLLECTOR] = solars[0].outlet
    readings[ROOM] = houses[0].temperature if houses.size else room
    readings[OUTSIDE] = outside
    for i in range(sensors.size):
        readings[FIRST_SENSOR + i] = layers[sensors[i]]


@kernel
def _move(contacts, readings, moment, room_gap, run, events):
    """Move every contact that is there; how they find themselves at power-up is no event."""
    contacts[ROOM_CALL].upper, contacts[ROOM_CALL].lower = moment.room, moment.room - room_gap
    for i in range(contacts.size):
        contact = contacts[i]
        if contact.feels >= 0 and move_contact(contact, readings[contact.feels], 0) and run.time > 0.0:
            note(events, run, i, contact.state, readings[contact.feels])


@kernel
def _switch(contacts, readings, pumps, run, moment, settings):
    """Decide what runs, from the tables."""
    pipe = contacts[PIPE].state
    pumps[CHARGE] = CHARGE_PUMP_LIMITED[pipe, contacts[STORE_LIMIT].state] if settings.limited else CHARGE_PUMP[pipe]
    calls = 1 if moment.power > 0.0 or (moment.power < 0.0 and contacts[ROOM_CALL].state) else 0
    frost = contacts[FROST].state
    pumps[HEAT] = HEATING[max(moment.heating, frost), max(calls, frost), contacts[ENOUGH].state, contacts[HIGH].state]
    run.boiler_wanted = BOILER_DEMAND[max(moment.boiler, frost), contacts[STORE_STAT].state, pipe]
    if contacts[SOLAR_STORE].feels >= 0:
        allowed = contacts[SOLAR_STORE].state * contacts[SOLAR_COLLECTOR].state
        difference = readings[COLLECTOR] - readings[LOWER]
        pumps[PUMP_SOLAR] = difference_latch(
            pumps[PUMP_SOLAR], difference, settings.solar_starts, settings.solar_stops, allowed
        )


@kernel
def _note_pumps(pumps, were, readings, run, events):
    """Write down whatever was switched in this step."""
    for i in range(pumps.size):
        if pumps[i] != were[i]:
            note(events, run, FIRST_PUMP + i, pumps[i], readings[FELT_BY[i]])
            were[i] = pumps[i]


@kernel
def _rooms(houses, room):
    """Return the temperatures round burner, boiler and store [°C]."""
    if houses.size == 0:
        return room, room, room
    house = houses[0]
    return (
        house.temperature if house.holds_burner else room,
        house.temperature if house.holds_boiler else room,
        house.temperature if house.holds_store else room,
    )


@kernel
def _light(burner, batches, loop, layers, pumping, room, run, moment, row, step):
    """Burn the logs and warm the burner; plan its loop with the store."""
    given, useful, run.alive = burn(batches, run.alive, moment.fire_clock, moment.draught)
    to_water = useful * burner.share_to_water
    step_burner(burner, loop, to_water / step, pumping, layers[loop.drawn_from], room, step)
    if not pumping:
        rest_element(burner, room, step)
    released = warm_lining(burner, useful - to_water, room, step)
    run.from_burner = released + burner.shed
    row.fuel += given
    row.flue += given - useful
    row.fire_to_water += to_water
    row.fire_to_room += useful - to_water
    row.lining_to_room += released
    row.burner_to_room -= burner.shed


@kernel
def _boil(boiler, loop, layers, limit_ok, pumps, room, run, row, step):
    """Let the boiler decide and fire; plan its loop with the store."""
    decide_firing(boiler, run.boiler_wanted, limit_ok, step)
    pumps[FIRE_BOILER], pumps[PUMP_BOILER] = boiler.firing, boiler.pumping
    step_boiler(boiler, loop, layers[loop.drawn_from], room, step)
    run.from_boiler = boiler.shed
    row.boiler_fuel += boiler.fuel
    row.boiler_to_water += boiler.given
    row.boiler_to_room -= boiler.shed


@kernel
def _heat_rooms(house, floors, radiators, loops, layers, contacts, heating, moment, step):
    """Plan the loops of the radiators and of the floor."""
    loop, room = loops[RADIATORS], house.temperature
    supply = layers[loop.drawn_from]
    loop.flow = 0.0
    if heating:
        all_they_can = contacts[HIGH].state or contacts[FROST].state or moment.power < 0.0
        loop.flow, loop.inlet = radiator_loop(supply, ALL if all_they_can else moment.power, room, radiators)
    if floors.size:
        step_floor(floors[0], loops[FLOOR], supply, heating, room, step)


@kernel
def _book_solar(solar, row, step):
    row.sun += solar.absorbed
    row.collector_loss -= solar.lost
    row.solar_to_store += solar.to_store
    row.solar_mass += solar.flow * step


@kernel
def _call(elements, contacts, readings, taps, run):
    """Let each immersion heater's thermostat and cut-out say whether it may take power, and which goes first."""
    for i in range(elements.size):
        stat, cut_out = LOW_STAT + elements[i].is_high, LOW_CUT_OUT + elements[i].is_high
        elements[i].calls = IMMERSION[1, contacts[cut_out].state, contacts[stat].state, 1]
    due = 1 if run.piece < taps.size and taps[run.piece].begins - run.time <= SOON else 0
    run.high_first = HIGH_FIRST[due, 1 if readings[TOP] < COOL else 0]


@kernel
def _count_elements(elements, pumps):
    for i in range(elements.size):
        pumps[HEAT_LOW + elements[i].is_high] = elements[i].taking


@kernel
def _book_surplus(powers, surplus, row, step):
    """Book what the immersion heaters take, what is bought for them, and what of the surplus is left over."""
    taken = 0.0
    for i in range(powers.size):
        taken += powers[i]
    row.immersions += taken * step
    row.pv_bought += max(taken - max(surplus, 0.0), 0.0) * step
    row.pv_left += max(surplus - taken, 0.0) * step


@kernel
def _settle(burners, boilers, floors, loops, row, step):
    """Set every appliance right by what its loop in fact moved, and book it."""
    if burners.size:
        settle_burner(burners[0], loops[BURNER])
    if boilers.size:
        settle_boiler(boilers[0], loops[BOILER])
    if floors.size:
        settle_floor(floors[0], loops[FLOOR])
    row.burner_to_store += loops[BURNER].heat
    row.boiler_to_store += loops[BOILER].heat
    row.radiators += loops[RADIATORS].heat
    row.floor_drawn += loops[FLOOR].heat
    row.burner_mass += loops[BURNER].flow * step
    row.boiler_mass += loops[BOILER].flow * step
    row.radiators_mass += loops[RADIATORS].flow * step
    row.floor_mass += loops[FLOOR].flow * step


@kernel
def _warm_house(house, floors, loops, run, lost, outside, row, step):
    """Give the house what came into it, and book what it lost."""
    heat = run.from_burner * house.holds_burner + run.from_boiler * house.holds_boiler
    heat += lost * house.holds_store - loops[RADIATORS].heat
    if floors.size:
        heat += floors[0].to_room
        row.floor_to_room -= floors[0].to_room
    step_house(house, heat, outside, step)
    row.house_gains += house.gains * step
    row.house_loss -= house.lost


@kernel
def _count_time(pumps, high_limit, row, step):
    """Add a step to the running time of what runs."""
    row.charge_pump += pumps[CHARGE] * step
    row.heating_pump += pumps[HEAT] * step
    row.boiler += pumps[FIRE_BOILER] * step
    row.boiler_pump += pumps[PUMP_BOILER] * step
    row.solar_pump += pumps[PUMP_SOLAR] * step
    row.low_immersion += pumps[HEAT_LOW] * step
    row.high_immersion += pumps[HEAT_HIGH] * step
    row.high_limit += high_limit * step


@kernel
def _boils(layers, burners, boiling):
    """Return whether water has reached its boiling point, in the store or in the burner."""
    hottest = layers[layers.size - 1]
    if burners.size:
        hottest = max(hottest, burners[0].temperature)
    return 1 if hottest >= boiling else 0
