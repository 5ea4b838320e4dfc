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
    leak_conductance,
    rest_element,
    settle_boiler,
    settle_burner,
    share_surplus,
    step_boiler,
    step_burner,
    step_solar,
    warm_lining,
)
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT, march_coil
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
    (layers, tank, loss, loops, work, batches, burners, leaks, boilers, solars, solar_coil, solar_ends,
     elements, shares, powers, sharing, radiators, floors, houses, water, water_coil, coil_now, quench_coil, taps,
     contacts, readings, sensors, pumps, were, overrides, held, feels, runs, settings) = plant  # fmt: skip
    run, capacity = runs[0], tank.capacity
    run.events = 0
    if run.time <= 0.0:
        _overrule(overrides[0], loops, sensors, burners, solars, water_coil, coil_now, settings)
    for k in range(moments.size):
        moment, row = moments[k], rows[run.row]
        if run.time >= overrides[run.window].until:
            run.window += 1
            _overrule(overrides[run.window], loops, sensors, burners, solars, water_coil, coil_now, settings)
        override = overrides[run.window]
        feel(readings, layers, sensors, burners, boilers, solars, houses, settings.room, moment.air)
        _move(contacts, readings, held, feels, moment, settings.room_gap, run, events)
        _switch(contacts, readings, pumps, run, moment, override, settings)
        near_burner, near_boiler, near_store = _rooms(houses, settings.room)
        if burners.size:
            if leaks.size:
                burners[0].leak = override.leak_open * leak_conductance(leaks[0], burners[0].temperature, near_burner)
            _light(burners[0], batches, loops[BURNER], layers, pumps[CHARGE], override, near_burner, run, moment, row,
                   step)  # fmt: skip
        if boilers.size:
            _boil(boilers[0], loops[BOILER], layers, contacts[BOILER_LIMIT].state, override.power, pumps, near_boiler,
                  run, row, step)  # fmt: skip
        if houses.size:
            _heat_rooms(
                houses[0], floors, radiators, loops, layers, contacts, pumps[HEAT], override, moment, run, row, step
            )

        if run.piece < taps.size:
            run.piece = serve_taps(layers, coil_now, water, taps, run.piece, override, run.time, step, capacity, row)
        if solars.size:
            step_solar(solars[0], layers, solar_coil, solar_ends[0], solar_ends[1], moment.sun, moment.air,
                       pumps[PUMP_SOLAR], step, capacity)  # fmt: skip
            _book_solar(solars[0], row, step)
        if settings.quench_flow > 0.0:
            _quench_store(layers, quench_coil, contacts[THERMAL].state, override, settings, step, capacity, row)
        if elements.size:
            _call(elements, contacts, readings, taps, override.power, run)
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
        merge(layers)

        _settle(burners, boilers, floors, loops, row, step)
        row.standing_loss -= lost
        if houses.size:
            _warm_house(houses[0], floors, loops, run, lost, moment.air, row, step)
        _count_time(pumps, contacts[HIGH].state, row, step)
        run.time += step
        run.filled += 1
        run.boiling = _let_steam_off(layers, burners, settings.boiling, capacity, row)
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
def _overrule(override, loops, sensors, burners, solars, water_coil, coil_now, settings):
    """Set what a fault changes for a whole window of time: ways of water, valves, a sensor's place, a scaled coil."""
    drawn = override.heating_from if override.heating_from >= 0 else settings.heating_from
    loops[RADIATORS].drawn_from, loops[FLOOR].drawn_from = drawn, drawn
    sensors[STAT_SENSOR] = override.boiler_feels if override.boiler_feels >= 0 else settings.boiler_feels
    for i in range(coil_now.size):
        coil_now[i] = override.coil_share * water_coil[i]
    if burners.size:
        burners[0].quench_least = override.quench_least * override.mains
        burners[0].quench_most = override.quench_most * override.mains
    if solars.size:
        solars[0].non_return = min(override.non_return, settings.has_non_return)


@kernel
def _move(contacts, readings, held, feels, moment, room_gap, run, events):
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
            move_contact(contact, felt + feels[run.window, i], 0)
        if contact.state != was and run.time > 0.0:
            note(events, run, i, contact.state, felt)


@kernel
def _switch(contacts, readings, pumps, run, moment, override, settings):
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
def _light(burner, batches, loop, layers, pumping, override, room, run, moment, row, step):
    """Burn the logs and warm the burner; plan its loop with the store."""
    given, useful, run.alive = burn(batches, run.alive, moment.fire_clock, moment.draught)
    to_water = useful * burner.share_to_water
    share = pumping * override.pump_share
    step_burner(burner, loop, to_water / step, share, override.valve, layers[loop.drawn_from], room, step)
    if share <= 0.0:
        rest_element(burner, room, step)
    released = warm_lining(burner, useful - to_water, room, step)
    run.from_burner = released + burner.shed + burner.leaked
    row.fuel += given
    row.flue += given - useful
    row.fire_to_water += to_water
    row.fire_to_room += useful - to_water
    row.lining_to_room += released
    row.burner_to_room -= burner.shed
    row.heat_leak -= burner.leaked
    row.quenched -= burner.quenched
    row.tundish_mass += burner.tundish


@kernel
def _boil(boiler, loop, layers, limit_ok, power, pumps, room, run, row, step):
    """Let the boiler decide and fire; plan its loop with the store."""
    decide_firing(boiler, run.boiler_wanted, limit_ok, step)
    if not power and (boiler.firing or boiler.pumping):
        boiler.firing, boiler.pumping, boiler.since = 0, 0, 0.0
    pumps[FIRE_BOILER], pumps[PUMP_BOILER] = boiler.firing, boiler.pumping
    step_boiler(boiler, loop, layers[loop.drawn_from], room, step)
    run.from_boiler = boiler.shed
    row.boiler_fuel += boiler.fuel
    row.boiler_to_water += boiler.given
    row.boiler_to_room -= boiler.shed


@kernel
def _heat_rooms(house, floors, radiators, loops, layers, contacts, pumping, override, moment, run, row, step):
    """Plan the loops of the radiators and of the floor."""
    loop, room, heating = loops[RADIATORS], house.temperature, pumping * override.zone_open
    supply = layers[loop.drawn_from]
    loop.flow, run.pumped_over = 0.0, 0.0
    if heating:
        all_they_can = contacts[HIGH].state or contacts[FROST].state or moment.power < 0.0
        loop.flow, loop.inlet = radiator_loop(supply, ALL if all_they_can else moment.power, room, radiators)
        if override.pumped_over > 0.0 and loop.flow > 0.0:
            most = loop.flow * SPECIFIC_HEAT * max(loop.inlet - room, 0.0)
            lost = min(override.pumped_over, most)
            loop.inlet -= lost / (loop.flow * SPECIFIC_HEAT)
            run.pumped_over = lost * step
            row.pumped_over -= lost * step
    if floors.size:
        step_floor(floors[0], loops[FLOOR], supply, heating, room, step)


@kernel
def _book_solar(solar, row, step):
    row.sun += solar.absorbed
    row.collector_loss -= solar.lost
    row.solar_to_store += solar.to_store
    row.solar_mass += solar.flow * step


@kernel
def _quench_store(layers, coil, is_open, override, settings, step, capacity, row):
    """Cool the top of the store with mains water through a thermal valve's coil."""
    share = (override.quench_most if is_open else override.quench_least) * override.mains
    flow = share * settings.quench_flow
    bottom, top = settings.quench_ends
    _, taken = march_coil(layers, coil, bottom, top, flow, settings.mains, step, capacity)
    row.quenched -= taken
    row.tundish_mass += flow * step


@kernel
def _call(elements, contacts, readings, taps, power, run):
    """Let each immersion heater's thermostat and cut-out say whether it may take power, and which goes first."""
    for i in range(elements.size):
        stat, cut_out = LOW_STAT + elements[i].is_high, LOW_CUT_OUT + elements[i].is_high
        elements[i].calls = IMMERSION[power, contacts[cut_out].state, contacts[stat].state, 1]
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
    heat += lost * house.holds_store - loops[RADIATORS].heat - run.pumped_over
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
def _let_steam_off(layers, burners, boiling, capacity, row):
    """Return whether water has reached its boiling point; what is beyond leaves as steam, and is booked."""
    steam = 0.0
    has_boiled = layers[layers.size - 1] >= boiling
    for i in range(layers.size - 1, -1, -1):
        if layers[i] < boiling:
            break
        steam += capacity * (layers[i] - boiling)
        layers[i] = boiling
    if burners.size and burners[0].temperature >= boiling:
        has_boiled = True
        steam += burners[0].capacity * (burners[0].temperature - boiling)
        burners[0].temperature = boiling
    row.steam -= steam
    return 1 if has_boiled else 0
