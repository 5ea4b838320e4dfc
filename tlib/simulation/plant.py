"""An installation and its start as tables of numbers, ready for the kernels."""

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from tlib import water_properties
from tlib.compiled import records
from tlib.controls import Contact
from tlib.heat_loads import (
    HotWater,
    House,
    Radiators,
    Tap,
    floor_of,
    hot_water_of,
    house_of,
    radiators_of,
    taps_of,
)
from tlib.heat_sources import (
    Batch,
    Boiler,
    Burner,
    HeatLeak,
    Solar,
    batches_of,
    boiler_of,
    burner_of,
    elements_of,
    heat_leak_of,
    sharing_of,
    solar_of,
)
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.simulation.conditions import profile
from tlib.simulation.contacts import contacts_of, sensors_of, valve_at
from tlib.simulation.logbook import FIRST_SENSOR, PUMPS, READINGS
from tlib.simulation.overrides import firing_with_faults, overrides_of, refuse_faults_without_parts
from tlib.stratification.column import layer_at, spanned_shares
from tlib.thermal_store import FILL_DENSITY, Loop, Tank, loop_at, loss_by_layer, tank_of, work_for
from tlib.units import ATMOSPHERE
from tlib.validation import OutOfRange

__all__ = ["BOILER", "BURNER", "FLOOR", "LOOPS", "RADIATORS", "Plant", "Run", "boiling_point", "plant_of"]

GRAVITY = 9.80665

LOOPS = ("burner", "boiler", "radiators", "floor")
BURNER, BOILER, RADIATORS, FLOOR = range(len(LOOPS))
"""Places of the loops."""

QUENCH_SPAN = (0.70, 0.98)
"""Heights between which a thermal valve's coil lies in the top of a store. Common practice, no source."""


class Run(NamedTuple):
    """How far a run has come."""

    time: float = 0.0
    """[s]."""
    alive: int = 0
    """First batch of logs that is not burnt out."""
    window: int = 0
    """Window of the overrides."""
    piece: int = 0
    """First piece of the taps' list that is not over."""
    row: int = 0
    """Row that is being written."""
    filled: int = 0
    """Steps in it so far."""
    felt: int = 0
    """Whether the readings are those of this moment."""
    events: int = 0
    """Events written down in this stretch."""
    boiling: int = 0
    """Whether water has reached its boiling point."""
    boiler_wanted: int = 0
    """What the controls ask of the boiler."""
    high_first: int = 0
    """Whether the upper immersion heater goes first."""
    from_burner: float = 0.0
    """Heat that the burner, its lining included, gave to its room in this step [J]."""
    pumped_over: float = 0.0
    """Heat lost at the vent in this step [J]."""
    from_boiler: float = 0.0
    """The same of the boiler [J]."""


class Plant(NamedTuple):
    """Everything that a run needs, and that the kernels change as it goes."""

    layers: np.ndarray
    tank: Tank
    loss: np.ndarray
    """Of each layer to the store's room [W/K]."""
    loops: np.recarray
    work: np.ndarray
    batches: np.recarray
    burners: np.recarray
    leaks: np.recarray
    boilers: np.recarray
    solars: np.recarray
    solar_coil: np.ndarray
    """Conductance in each layer [W/K]."""
    solar_ends: tuple
    """Layers of its lower and upper end."""
    elements: np.recarray
    shares: np.ndarray
    powers: np.ndarray
    sharing: np.recarray
    radiators: Radiators
    floors: np.recarray
    houses: np.recarray
    water: HotWater
    water_coil: np.ndarray
    """Conductance in each layer, clean [W/K]."""
    coil_now: np.ndarray
    """The same as it stands [W/K]."""
    quench_coil: np.ndarray
    """Of a thermal valve's coil in the store [W/K]."""
    taps: np.recarray
    contacts: np.recarray
    readings: np.ndarray
    sensors: np.ndarray
    """Layers of the sensors in the store."""
    pumps: np.ndarray
    """States of what the contacts switch."""
    were: np.ndarray
    """The same, in the step before."""
    overrides: np.recarray
    """Windows of time in which something is overruled."""
    held: np.ndarray
    """How each contact is held in each, below 0 for free; (window, contact)."""
    feels: np.ndarray
    """By how much it feels too warm [K]; (window, contact)."""
    run: np.recarray
    settings: "Settings"


class Settings(NamedTuple):
    """Numbers that stay as they are through a run."""

    room: float
    """That store and burner stand in [°C]."""
    limited: int
    """Whether a store limit stands in the charge pump's live."""
    room_gap: float
    """Of the room thermostat [K]."""
    solar_starts: float
    solar_stops: float
    boiling: float
    """[°C]."""
    heating_from: int
    """Layer that the heating is drawn from, as built."""
    boiler_feels: int
    """Layer that the boiler thermostat feels, as built."""
    has_non_return: int
    """Whether the solar loop was built with one."""
    quench_flow: float
    """Of mains water through a thermal valve's coil in the store [kg/s]; 0 without one there."""
    quench_ends: tuple
    """Layers of that coil's lower and upper end."""
    mains: float
    """Temperature of the mains water [°C]."""
    stirs: int
    """Whether a jet stirs the store, or a stratifying pipe lets water find its level."""


def plant_of(installation, conditions, layers, air):
    """Return an installation at the start of a run.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    conditions : Conditions
        What happens to it.
    layers : int
        Of its store.
    air : float
        Outside as the run begins [°C].

    Returns
    -------
    Plant
        New tables, owned by nobody else.

    Raises
    ------
    OutOfRange
        If the installation lacks a part that the conditions use.
    """
    _refuse_what_is_missing(installation, conditions)
    refuse_faults_without_parts(installation, conditions.faults)
    site, room = installation, installation.store.room
    heated = conditions.start.room if conditions.start.room is not None else _rated_room(site)
    burner = conditions.start.burner if conditions.start.burner is not None else room
    elements, shares = elements_of(site.immersions, layers)
    sensors = sensors_of(site, layers)
    water, coil = hot_water_of(site.hot_water, layers) if site.hot_water else _no_coil(layers)
    overrides, held, feels = overrides_of(conditions.faults, layers)
    firing = firing_with_faults(conditions.firing, conditions.faults)
    return Plant(
        layers=profile(conditions.start.store, layers),
        tank=tank_of(site.store, layers),
        loss=loss_by_layer(site.store, layers),
        loops=_loops(site.store, layers),
        work=work_for(layers),
        batches=batches_of(firing, conditions.air, site.burner) if site.burner else records(Batch, []),
        burners=burner_of(site.burner, float(burner), room, valve_at(site, "burner"), water.cold)
        if site.burner
        else records(Burner, []),
        leaks=heat_leak_of(site.heat_leak) if site.burner else records(HeatLeak, []),
        boilers=boiler_of(site.boiler, room) if site.boiler else records(Boiler, []),
        solars=solar_of(site.solar, air) if site.solar else records(Solar, []),
        solar_coil=_solar_coil(site.solar, layers),
        solar_ends=_ends(site.solar.coil, layers) if site.solar else (0, 0),
        elements=elements,
        shares=shares,
        powers=np.zeros(elements.size),
        sharing=sharing_of(site.immersions),
        radiators=radiators_of(site.heating.radiators) if site.heating else Radiators(1.0, 1.3, 1.0),
        floors=floor_of(site.heating and site.heating.underfloor, heated),
        houses=house_of(site.heating, heated, conditions.house_is_kept) if site.heating else records(House, []),
        water=water,
        water_coil=coil,
        coil_now=coil.copy(),
        quench_coil=_quench_coil(site, layers),
        taps=_taps(site.hot_water, conditions.draws),
        contacts=records(Contact, contacts_of(site)),
        readings=np.full(len(READINGS), np.nan),
        sensors=sensors,
        pumps=np.zeros(len(PUMPS), np.int64),
        were=np.zeros(len(PUMPS), np.int64),
        overrides=overrides,
        held=held,
        feels=feels,
        run=records(Run, [Run()]),
        settings=_settings(site, layers, water.cold, sensors),
    )


def _quench_coil(site, layers):
    """Return the conductance of a thermal valve's coil in the top of the store: it takes up half the difference."""
    valve = valve_at(site, "store top")
    if valve is None:
        return np.zeros(layers)
    return math.log(2.0) * valve.flow * SPECIFIC_HEAT * spanned_shares(*QUENCH_SPAN, layers)


def _refuse_what_is_missing(installation, conditions):
    wants = (("firing", "burner"), ("air", "burner"), ("draws", "hot_water"), ("programme", "heating"),
             ("boiler", "boiler"))  # fmt: skip
    for rows, part in wants:
        if getattr(conditions, rows) and getattr(installation, part) is None:
            raise OutOfRange(
                f"{installation.name} has no [{part}], so {rows} must be empty; got {getattr(conditions, rows)!r}."
            )


def _rated_room(site):
    return site.heating.radiators.room if site.heating else site.store.room


def _loops(store, layers):
    """Return the loops; a part that is not there never flows, so its heights are idle."""
    ports = (("burner_return", "burner_flow"), ("boiler_return", "boiler_flow"),
             ("heating_flow", "heating_return"), ("heating_flow", "heating_return"))  # fmt: skip
    jet = store.jet_mixing
    opening, exchange = (jet.opening, jet.exchange) if jet else (0.0, 0.0)
    return records(Loop, [
        loop_at(store.connections.get(drawn, 0.0), store.connections.get(home, 0.0), layers,
                own_level=home in store.stratifiers, opening=opening, exchange=exchange)
        for drawn, home in ports
    ])  # fmt: skip


def _no_coil(layers):
    return HotWater(0, layers - 1, 10.0, 50.0), np.zeros(layers)


def _solar_coil(solar, layers):
    if solar is None:
        return np.zeros(layers)
    return solar.coil.conductance * spanned_shares(solar.coil.bottom, solar.coil.top, layers)


def _ends(coil, layers):
    """Return the layers of a coil's lower and upper end; a face belongs to the side where the coil is."""
    return layer_at(coil.bottom, layers), layer_at(max(coil.top - 1e-6, 0.0), layers)


def _taps(hot_water, draws):
    if hot_water is None:
        return records(Tap, [])
    return records(Tap, zip(*taps_of(draws, hot_water.cold, hot_water.blending), strict=True))


def _settings(site, layers, mains, sensors):
    valve = valve_at(site, "store top")
    store, solar = site.store, site.solar.control if site.solar else None
    return Settings(
        room=store.room,
        limited=int(site.burner is not None and site.burner.wiring.endswith("store limit")),
        room_gap=site.heating.room_gap if site.heating else 0.5,
        solar_starts=solar.starts if solar else 0.0,
        solar_stops=solar.stops if solar else 0.0,
        boiling=boiling_point(site),
        heating_from=layer_at(store.connections.get("heating_flow", 0.0), layers),
        boiler_feels=int(sensors[READINGS.index("boiler thermostat") - FIRST_SENSOR]),
        has_non_return=int(site.solar is None or site.solar.non_return),
        quench_flow=valve.flow if valve else 0.0,
        quench_ends=tuple(layer_at(height, layers) for height in QUENCH_SPAN),
        mains=mains,
        stirs=int(store.jet_mixing is not None or bool(store.stratifiers)),
    )


def boiling_point(installation):
    """Return the temperature at which the store's water boils: at its pressure, from the water that stands above it.

    Parameters
    ----------
    installation : tlib.installation.Installation
        A sealed one has the pressure to which its vessel was filled; without one written, 0.3 bar above its static
        head, common practice.

    Returns
    -------
    float
        [°C].
    """
    fill = installation.vessel.fill if installation.vessel else None
    return _boiling_point(installation.system, installation.static_head, fill)


@lru_cache
def _boiling_point(system, static_head, fill):
    pressure = ATMOSPHERE + FILL_DENSITY * GRAVITY * static_head
    if system == "sealed":
        pressure = fill if fill else pressure + 0.3e5
    return float(water_properties.saturation_temperature(pressure))
