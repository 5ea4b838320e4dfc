"""An installation through a day: sources, loads and controls round the layered store.

So far the log burner, the heating and the taps take part; the boiler and the sun rest.
"""

import math
from typing import NamedTuple

import numpy as np

from tlib import water_properties
from tlib.compiled import engine, kernel
from tlib.controls import CHARGE_PUMP, CHARGE_PUMP_LIMITED, HEATING, breaks_on_rise, makes_on_rise
from tlib.heat_loads import HotWater, Radiators, Taps, coil_flow, hot_water_of, radiator_loop, radiators_of, taps_of
from tlib.heat_sources import Burner, Fire, burner_of, fire_of, heat_jacket, released, store_flow
from tlib.heat_transfer.layered_coil import march_coil
from tlib.simulation.bare import steps_in
from tlib.simulation.conditions import profile
from tlib.simulation.results import Event, Ledger, Result
from tlib.stratification.column import layer_at
from tlib.thermal_store import (
    FILL_DENSITY,
    Loops,
    Tank,
    advect,
    conduct_and_lose,
    merge,
    tank_of,
    work_for,
    write_down,
)
from tlib.units import ATMOSPHERE
from tlib.validation import OutOfRange, require

__all__ = ["engine_is_ready", "simulate"]

HEATS = ("fire to water", "burner to store", "heating", "hot water", "standing loss", "burner to room")
BURNER, HEATING_LOOP = 0, 1
"""Places of the two loops, wherever loops are listed."""
STATES = ("charge pump", "heating pump", "high limit")
DUMP = 1e9
"""Heat asked of the radiators while the high limit dumps [W]: all they can give."""
NEVER = 1e6
"""A setting that no temperature reaches [°C]."""
GRAVITY = 9.80665
HOUR = 3600.0


class Parts(NamedTuple):
    """Everything that stands round the store, as numbers for the kernels."""

    tank: Tank
    loops: Loops
    burner: Burner
    fire: Fire
    radiators: Radiators
    hot_water: HotWater
    taps: Taps
    periods: np.ndarray
    """Heating hours: begin [s], end [s], power [W]; (period, 3)."""


class Settings(NamedTuple):
    """Thermostats: where each feels and its two settings [°C]."""

    pipe_makes: float
    pipe_breaks: float
    limited: int
    """Whether a store limit stands in the charge pump's live."""
    limit_at: int
    limit_breaks: float
    limit_makes: float
    enough_at: int
    enough_makes: float
    enough_breaks: float
    high_at: int
    high_makes: float
    high_breaks: float
    boiling: float


class Log(NamedTuple):
    """What the kernel writes down, one row a step; temperatures have a row more."""

    layers: np.ndarray
    burner: np.ndarray
    heats: np.ndarray
    flows: np.ndarray
    drawn: np.ndarray
    """Flow through the hot-water coil [kg/s], its outlet and the tap [°C]; not a number while the taps are shut."""
    states: np.ndarray


def simulate(installation, conditions, step=60.0, layers=50):
    """Run an installation under given conditions.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    conditions : Conditions
        What happens to it.
    step : float, optional
        [s]; 1 to 60, and the duration must be a whole number of steps.
    layers : int, optional
        Of the store.

    Returns
    -------
    Result
        If water reaches its boiling point the run ends there, with the event ``"boiled"``, and keeps what it has.

    Raises
    ------
    OutOfRange
        If the installation lacks a part that the conditions use, or a value cannot be.

    Notes
    -----
    The heated rooms stay at the radiators' room temperature, store and burner stand in the store's own room, and the
    loading valve is ideal: it holds the burner's return at its opening temperature without delay. What the rooms
    want is taken at the middle of each step. The boiler, the sun, the heat leak and the thermal valve do
    not take part yet.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> from tlib.simulation import Conditions
    >>> larkrigg = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> evening = simulate(larkrigg, Conditions(start=35.0, firing=[(3600.0, 8.0, 0.20)]))
    >>> print(f"{evening.bands(5 * 3600.0)[-1]:.0f} °C on top at 22:00")
    72 °C on top at 22:00
    """
    _refuse_what_is_missing(installation, conditions)
    step = float(require(step, "the step", "s", at_least=1, at_most=60))
    count = steps_in(conditions.duration, step)
    parts = _parts(installation, conditions, layers)
    settings = _settings(installation, layers)
    log = _log(count, layers)
    temperatures = profile(conditions.start.store, layers)
    burner = conditions.start.burner if conditions.start.burner is not None else installation.store.room
    done = _ENGINE(parts, settings, installation.store.room, temperatures, float(burner), step, work_for(layers), log)
    return _result(installation, conditions, parts, settings, log, done, step)


def engine_is_ready():
    """Return whether the next simulation will be quick: compiled already, or kept from an earlier session."""
    return _ENGINE.is_ready


def march(parts, settings, room, layers, jacket, step, work, log):
    """Step an installation; return how many steps were done before the end, or boiling.

    The order of a step is that of the package: sensors, faults, controls, appliances, coils, flow, conduction and
    loss, merging, books.
    """
    tank, loops, burner, fire, radiators, water, taps, periods = parts
    rows, temperatures, heats, flows, drawn, states = log
    contacts = np.zeros(4, np.int64)  # pipe, store limit, enough heat, high limit
    contacts[0] = contacts[1] = 1  # inside its gap, a pump that carries fire heat starts made
    given = released(fire, 0.0)
    piece = 0
    temperatures[0] = jacket
    write_down(rows[0], layers)
    for k in range(heats.shape[0]):
        begins = k * step
        _feel(contacts, layers, jacket, settings)
        wanted = _wanted(periods, begins + 0.5 * step)
        pumping = CHARGE_PUMP_LIMITED[contacts[0], contacts[1]] if settings.limited else CHARGE_PUMP[contacts[0]]
        heating = HEATING[1 if wanted > 0.0 else 0, 1, contacts[2], contacts[3]]

        before, given = given, released(fire, begins + step)
        to_water = (given - before) * burner.efficiency * burner.share_to_water
        shed = _set_burner_loop(loops, layers, jacket, to_water / step, pumping, room, burner, step)
        _set_heating_loop(loops, layers, DUMP if contacts[3] else wanted, heating, radiators)

        taken, piece = _draw_hot_water(
            layers, taps, water, tank.capacity, piece, begins, step, drawn[k]
        )  # fmt: skip
        advect(layers, tank, loops, step, work)
        jacket += (to_water - shed - loops.heat[BURNER]) / burner.capacity
        lost = conduct_and_lose(layers, tank, room, step, work)
        merge(layers, work)

        _keep_books(heats[k], flows[k], to_water, loops, taken, lost, shed)
        states[k, 0], states[k, 1], states[k, 2] = pumping, heating, contacts[3]
        temperatures[k + 1] = jacket
        write_down(rows[k + 1], layers)
        if jacket >= settings.boiling or layers[layers.size - 1] >= settings.boiling:
            return k + 1
    return heats.shape[0]


@kernel
def _keep_books(heats, flows, to_water, loops, taken, lost, shed):
    """Write down the heats [J] and the flows of the loops, in the order of `HEATS` and of the loops."""
    heats[0], heats[1], heats[2] = to_water, loops.heat[BURNER], loops.heat[HEATING_LOOP]
    heats[3], heats[4], heats[5] = -taken, -lost, -shed
    flows[0], flows[1] = loops.flow[BURNER], loops.flow[HEATING_LOOP]


@kernel
def _feel(contacts, layers, jacket, settings):
    """Let each thermostat feel the temperatures at the start of the step, and move its contact."""
    contacts[0] = makes_on_rise(contacts[0], jacket, settings.pipe_makes, settings.pipe_breaks)
    contacts[1] = breaks_on_rise(contacts[1], layers[settings.limit_at], settings.limit_breaks, settings.limit_makes)
    contacts[2] = makes_on_rise(contacts[2], layers[settings.enough_at], settings.enough_makes, settings.enough_breaks)
    contacts[3] = makes_on_rise(contacts[3], layers[settings.high_at], settings.high_makes, settings.high_breaks)


@kernel
def _wanted(periods, time):
    """Return the heat that the rooms want at a time [W]; overlapping periods ask for the larger."""
    wanted = 0.0
    for i in range(periods.shape[0]):
        if periods[i, 0] <= time < periods[i, 1]:
            wanted = max(wanted, periods[i, 2])
    return wanted


@kernel
def _set_burner_loop(loops, layers, jacket, power, pumping, room, burner, step):
    """Set the flow between burner and store; return the heat the burner sheds to the room [J]."""
    cold = layers[loops.drawn_from[BURNER]]
    mean, span, shed = heat_jacket(jacket, power, pumping, cold, room, burner, step)
    loops.inlet[BURNER] = mean
    loops.flow[BURNER] = store_flow(mean, span, cold, burner, step)
    return shed


@kernel
def _set_heating_loop(loops, layers, wanted, heating, radiators):
    loops.flow[HEATING_LOOP] = 0.0
    if heating:
        flow, back = radiator_loop(layers[loops.drawn_from[HEATING_LOOP]], wanted, radiators)
        loops.flow[HEATING_LOOP], loops.inlet[HEATING_LOOP] = flow, back


@kernel
def _draw_hot_water(layers, taps, water, capacity, piece, begins, step, drawn):
    """Serve the taps for a step; return the heat taken [J] and the piece of the draw list reached.

    `drawn` is filled with the flow through the coil [kg/s], its outlet and the tap [°C], means over what was drawn.
    """
    taken, mass, warmth, coil_warmth = 0.0, 0.0, 0.0, 0.0
    while piece < taps.begins.size and taps.begins[piece] < begins + step:
        span = min(taps.ends[piece], begins + step) - max(taps.begins[piece], begins)
        asked, coil, cold = taps.flow[piece], water.conductance, water.cold
        flow = coil_flow(layers, water, asked, taps.wanted[piece], span, capacity)
        outlet, heat = march_coil(layers, coil, water.first, water.last, flow, cold, span, capacity)
        taken += heat
        mass += asked * span
        warmth += span * (asked * cold + flow * (outlet - cold))
        coil_warmth += span * asked * outlet
        drawn[0] += flow * span / step
        if taps.ends[piece] > begins + step:
            break
        piece += 1
    if mass > 0.0:
        drawn[1], drawn[2] = coil_warmth / mass, warmth / mass
    return taken, piece


_ENGINE = engine(march)


def _refuse_what_is_missing(installation, conditions):
    for rows, part in (("firing", "burner"), ("draws", "hot_water"), ("programme", "heating")):
        if getattr(conditions, rows) and getattr(installation, part) is None:
            raise OutOfRange(
                f"{installation.name} has no [{part}], so {rows} must be empty; got {getattr(conditions, rows)!r}."
            )


def _parts(installation, conditions, layers):
    burner, heating, water = installation.burner, installation.heating, installation.hot_water
    return Parts(
        tank=tank_of(installation.store, layers),
        loops=_loops(installation.store.connections, layers),
        burner=burner_of(burner) if burner else Burner(1.0, 0.0, 60.0, 1.0, 1.0, 1.0),
        fire=fire_of(conditions.firing, burner.burn_time if burner else HOUR),
        radiators=radiators_of(heating.radiators) if heating else Radiators(1.0, 1.3, 1.0, 20.0),
        hot_water=hot_water_of(water, layers) if water else HotWater(np.zeros(layers), 0, layers - 1, 10.0, 50.0),
        taps=taps_of(conditions.draws, water.cold, water.blending) if water else taps_of((), 10.0, 50.0),
        periods=np.array(conditions.programme, dtype=float).reshape(-1, 3),
    )


def _loops(connections, layers):
    """Return the burner's and the heating's loop; a part that is not there never flows, so its heights are idle."""
    ports = (("burner_return", "burner_flow"), ("heating_flow", "heating_return"))
    places = [[layer_at(connections.get(name, 0.0), layers) for name in pair] for pair in ports]
    return Loops(*np.array(places, dtype=np.int64).T.copy(), np.zeros(2), np.zeros(2), np.zeros(2), np.zeros(2))


def _settings(installation, layers):
    burner, heating, safety = installation.burner, installation.heating, installation.safety
    sensors = installation.store.sensors
    places = [layer_at(sensors.get(name, 1.0), layers) for name in ("store_limit", "middle", "high_limit")]
    pipe = _pair(burner and burner.pump.pipe_thermostat, "makes", "breaks")
    limited = int(burner is not None and burner.wiring.endswith("store limit"))
    limit = _pair(burner and burner.store_limit, "breaks", "makes")
    enough = _pair(heating and heating.enough_heat, "makes", "breaks")
    high = _pair(heating and safety and safety.high_limit, "makes", "breaks")  # no heating, nowhere to dump
    boiling = boiling_point(installation)
    return Settings(*pipe, limited, places[0], *limit, places[1], *enough, places[2], *high, boiling)


def _pair(thermostat, upper, lower):
    """Return a thermostat's two settings, the upper first; without one, settings that no temperature reaches."""
    return (getattr(thermostat, upper), getattr(thermostat, lower)) if thermostat else (NEVER, NEVER - 1.0)


def boiling_point(installation):
    """Return the temperature at which the store's water boils: at its pressure, from the water that stands above it.

    Parameters
    ----------
    installation : tlib.installation.Installation
        A sealed one is taken as filled 0.3 bar above its static head, common practice.

    Returns
    -------
    float
        [°C].
    """
    pressure = ATMOSPHERE + FILL_DENSITY * GRAVITY * installation.static_head
    if installation.system == "sealed":
        pressure += 0.3e5
    return float(water_properties.saturation_temperature(pressure))


def _log(count, layers):
    return Log(
        layers=np.empty((count + 1, layers)),
        burner=np.empty(count + 1),
        heats=np.zeros((count, len(HEATS))),
        flows=np.zeros((count, 2)),
        drawn=np.tile([0.0, np.nan, np.nan], (count, 1)),
        states=np.zeros((count, len(STATES)), np.int64),
    )


def _result(installation, conditions, parts, settings, log, done, step):
    layers, burner = log.layers[: done + 1].copy(), log.burner[: done + 1].copy()
    heats, states = log.heats[:done], {name: log.states[:done, i].copy() for i, name in enumerate(STATES)}
    readings = {f"store {name.replace('_', ' ')}": layers[:, layer_at(height, layers.shape[1])].copy()
                for name, height in installation.store.sensors.items()}  # fmt: skip
    readings |= {"burner flow": burner, "hot-water coil": log.drawn[:done, 1].copy(), "tap": log.drawn[:done, 2].copy()}
    return Result(
        time=step * np.arange(done + 1),
        layers=layers,
        flows={
            "burner to store": log.flows[:done, BURNER].copy(),
            "heating": log.flows[:done, HEATING_LOOP].copy(),
            "hot-water coil": log.drawn[:done, 0].copy(),
        },
        powers={name: heats[:, i] / step for i, name in enumerate(HEATS)},
        ledger=_ledger(parts, heats, layers, burner, step),
        events=_events(conditions, states, readings, layers[-1, -1], settings, step),
        readings=readings,
        states=states,
        begins=conditions.begins,
    )


def _ledger(parts, heats, layers, burner, step):
    """Balance store and burner water together; what the fire gives elsewhere, and what passes inside, is noted."""
    total = {name: math.fsum(heats[:, i]) for i, name in enumerate(HEATS)}
    inside = total.pop("burner to store")
    fuel, given = math.fsum(parts.fire.heat), released(parts.fire, step * heats.shape[0])
    useful = given * parts.burner.efficiency
    return Ledger(
        heats=total,
        stored=_held(parts, layers[-1] - layers[0], burner[-1] - burner[0]),
        held=_held(parts, layers[0], burner[0]),
        notes={
            "burner to store": inside, "fuel": fuel, "unburnt": fuel - given, "flue": given - useful,
            "fire to room": useful - total["fire to water"],
        },
    )  # fmt: skip


def _held(parts, layers, burner):
    """Return the heat held in store and burner above 0 °C [J]."""
    return parts.tank.capacity * math.fsum(layers) + parts.burner.capacity * float(burner)


def _events(conditions, states, readings, top, settings, step):
    events = [Event(batch.time, "logs lit", float("nan")) for batch in conditions.firing]
    feels = {"charge pump": "burner flow", "heating pump": "store middle", "high limit": "store high limit"}
    for name, series in states.items():
        felt = readings.get(feels[name])
        for k in np.flatnonzero(np.diff(series, prepend=0)):
            says = f"{name} {'starts' if series[k] else 'stops'}"
            events.append(Event(k * step, says, float(felt[k]) if felt is not None else float("nan")))
    hottest = max(readings["burner flow"][-1], top)
    if hottest >= settings.boiling:
        events.append(Event(step * (readings["burner flow"].size - 1), "boiled", float(hottest)))
    return tuple(sorted(events, key=lambda event: event.time))
