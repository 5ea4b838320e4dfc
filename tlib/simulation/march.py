"""The step of an installation: sensors, controls, appliances, coils, flow, conduction and loss, merging, books.

The order is fixed. Whatever moves heat is booked with the number that moved it.
"""

from tlib.compiled import kernel
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
from tlib.simulation.plant import BOILER, BURNER, FLOOR, RADIATORS
from tlib.simulation.steering import (
    BOILER_LIMIT,
    CHARGE,
    FIRE_BOILER,
    FROST,
    HEAT,
    HEAT_HIGH,
    HEAT_LOW,
    HIGH,
    OUTSIDE,
    PUMP_BOILER,
    PUMP_SOLAR,
    STAT_SENSOR,
    THERMAL,
    call_elements,
    count_elements,
    feel,
    move_contacts,
    note_pumps,
    switch,
)
from tlib.thermal_store import (
    advect,
    conduct_and_lose,
    find_own_levels,
    heat_elements,
    merge,
    mix_jets,
    write_down,
)

__all__ = ["march"]

ALL = 1e9
"""Heat asked of the radiators when they are to give all they can [W]."""


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
            run.felt = 0
        override = overrides[run.window]
        if not run.felt:
            feel(readings, layers, sensors, burners, boilers, solars, houses, settings.room)
        readings[OUTSIDE], run.felt = moment.air, 0
        move_contacts(contacts, readings, held, feels, moment, settings.room_gap, run, events)
        switch(contacts, readings, pumps, run, moment, override, settings)
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
            call_elements(elements, contacts, readings, taps, override.power, run)
            share_surplus(elements, powers, sharing[0], moment.surplus, run.high_first)
            heat_elements(layers, shares, powers, step, capacity)
            count_elements(elements, pumps)
        note_pumps(pumps, were, readings, run, events)
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
            run.row, run.filled, run.felt = run.row + 1, 0, 1
            feel(readings, layers, sensors, burners, boilers, solars, houses, settings.room)
            write_down(profiles[run.row], layers)
            write_down(temperatures[run.row], readings)
        if run.boiling:
            break


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
