"""From a run's books to its result: series with names, a ledger that balances, events in words."""

import math

import numpy as np

from tlib.simulation.logbook import CONTACTS, PUMPS, READINGS
from tlib.simulation.pressures import system_pressure
from tlib.simulation.results import Event, Ledger, Result
from tlib.stratification.column import layer_at

__all__ = ["result_of", "stands"]

POWERS = {
    "fire to water": "fire_to_water", "burner to store": "burner_to_store", "burner to room": "burner_to_room",
    "heat leak": "heat_leak", "thermal valve": "quenched",
    "boiler to store": "boiler_to_store", "sun on collector": "sun", "collector loss": "collector_loss",
    "solar to store": "solar_to_store", "immersions": "immersions", "heating": "radiators", "floor": "floor_drawn",
    "hot water": "hot_water", "hot water short": "hot_water_short", "standing loss": "standing_loss",
    "house loss": "house_loss", "PV bought": "pv_bought", "PV left over": "pv_left",
}  # fmt: skip
"""Names of the heat flows, and the columns that hold them."""
FLOWS = {
    "burner to store": "burner_mass", "boiler to store": "boiler_mass", "solar": "solar_mass",
    "heating": "radiators_mass", "floor": "floor_mass", "taps": "tap_mass", "tundish": "tundish_mass",
    "hot-water coil": "coil_mass",
}  # fmt: skip
STATES = {
    "charge pump": "charge_pump", "heating pump": "heating_pump", "high limit": "high_limit", "boiler": "boiler",
    "boiler pump": "boiler_pump", "solar pump": "solar_pump", "low immersion heater": "low_immersion",
    "high immersion heater": "high_immersion",
}  # fmt: skip
LOCKING = ("boiler's own limit", "low immersion cut-out", "high immersion cut-out")


def stands(plant):
    """Return the heat capacities of all that a plant follows [J/K], and their temperatures [°C]."""
    parts = [(plant.tank.capacity, temperature) for temperature in plant.layers.tolist()]
    for table in (plant.burners, plant.boilers, plant.solars, plant.floors):
        parts += zip(table.capacity.tolist(), table.temperature.tolist(), strict=True)
    parts += [(burner.lining_capacity, burner.lining) for burner in plant.burners]
    parts += [(house.capacity, house.temperature) for house in plant.houses if not house.is_kept]
    return np.array(parts, dtype=float).T


def result_of(installation, conditions, plant, books, entries, row_time, step):
    """Return the result of a run from what it wrote down.

    Parameters
    ----------
    installation, conditions : Installation, Conditions
        Of the run.
    plant : Plant
        As it stands at the end.
    books
        Rows, profiles, readings, and how it stood at the start.
    entries : structured array of Entry
        Every event of the run.
    row_time, step : float
        [s].

    Returns
    -------
    Result
        Only as long as the run was.
    """
    done, end = int(plant.run[0].row), float(plant.run[0].time)
    time = np.minimum(row_time * np.arange(done + 1), end)
    rows, spans, profiles = _columns(books.rows[:done]), np.diff(time), books.profiles[: done + 1]
    readings = _readings(installation, rows, profiles, books.readings[: done + 1])
    pressure, gone = system_pressure(installation, time, profiles, readings["burner flow"], conditions.faults)
    readings["system pressure"] = pressure
    return Result(
        time=time,
        layers=profiles,
        flows={name: rows[column] / spans for name, column in FLOWS.items()},
        powers={name: rows[column] / spans for name, column in POWERS.items()},
        ledger=_ledger(plant, rows, books.start),
        events=_events(conditions, entries, plant, profiles, end, step) + _lifts(time, gone),
        readings=readings,
        states={name: _state(rows[column], spans) for name, column in STATES.items()},
        begins=conditions.begins,
    )


def _columns(rows):
    """Return rows as columns by name, each in one piece, so that numpy sums it in pairs."""
    names = rows.dtype.names
    table = rows.view(np.ndarray).view(float).reshape(rows.size, len(names))
    return dict(zip(names, np.ascontiguousarray(table.T), strict=True))


def _state(running, spans):
    """Return a state as 0 and 1, or, over rows of several steps, as the share of the time that it was on."""
    share = running / spans
    whole = share.astype(np.int64)
    return whole if np.array_equal(whole, share) else share


def _readings(installation, rows, profiles, felt):
    heights, layers = installation.store.sensors, profiles.shape[1]
    readings = {f"store {name.replace('_', ' ')}": profiles[:, layer_at(height, layers)].copy()
                for name, height in heights.items()}  # fmt: skip
    for name in READINGS[: READINGS.index("top")]:
        readings[name] = felt[:, READINGS.index(name)].copy()
    with np.errstate(invalid="ignore"):
        drawn = np.where(rows["tap_mass"] > 0.0, rows["tap_mass"], np.nan)
        readings["hot-water coil"], readings["tap"] = rows["coil_warmth"] / drawn, rows["tap_warmth"] / drawn
    return readings


def _ledger(plant, rows, start):
    """Balance all that the plant follows; what stays inside, or passes outside, is noted."""
    total = {name: float(column.sum()) for name, column in rows.items()}
    house = plant.houses[0] if plant.houses.size else None
    followed = house is not None and not house.is_kept
    heats = {
        "fire to water": total["fire_to_water"],
        "boiler": total["boiler_to_water"],
        "sun on collector": total["sun"],
        "collector loss": total["collector_loss"],
        "immersions": total["immersions"],
        "thermal valve": total["quenched"],
        "steam": total["steam"],
        "hot water": total["hot_water"],
    }
    if followed:
        heats |= {"house gains": total["house_gains"], "house loss": total["house_loss"],
                  "pumped over": total["pumped_over"]}  # fmt: skip
    else:
        heats |= {"heating": total["radiators"], "floor to room": total["floor_to_room"]}
    for part, name in (
        ("burner", "burner_to_room"),
        ("burner", "heat_leak"),
        ("boiler", "boiler_to_room"),
        ("store", "standing_loss"),
    ):
        if not (followed and getattr(house, f"holds_{part}")):
            heats[name.replace("_", " ")] = total[name]
    if followed and house.holds_burner:
        heats["fire to room"] = total["fire_to_room"]
    else:
        heats["fire to lining"] = total["fire_to_room"] - total["lining_to_room"]
    capacities, was = start
    change = stands(plant)[1] - was
    return Ledger(
        heats=heats,
        stored=math.fsum((capacities * change).tolist()),
        held=math.fsum((capacities * was).tolist()),
        notes=_notes(plant, total),
    )


def _notes(plant, total):
    laid = math.fsum(plant.batches.heat)
    return {
        "burner to store": total["burner_to_store"], "boiler to store": total["boiler_to_store"],
        "solar to store": total["solar_to_store"], "fuel": laid, "unburnt": laid - total["fuel"],
        "flue": total["flue"], "fire to room": total["fire_to_room"], "boiler fuel": total["boiler_fuel"],
        "boiler flue": total["boiler_fuel"] - total["boiler_to_water"], "PV bought": total["pv_bought"],
        "PV left over": total["pv_left"], "hot water short": total["hot_water_short"], "rooms": -total["radiators"]
        - total["floor_to_room"] + total["lining_to_room"] - total["burner_to_room"],
    }  # fmt: skip


def _events(conditions, entries, plant, profiles, end, step):
    events = [Event(batch.time, "logs lit", float("nan")) for batch in conditions.firing if batch.time <= end]
    for fault in conditions.faults:
        events += [Event(time, f"{fault.name} {verb}", float("nan"))
                   for time, verb in ((fault.begins, "begins"), (fault.ends, "ends")) if time < end]  # fmt: skip
    events += [Event(time, _words(what, is_on), felt) for time, what, is_on, felt in entries.tolist()]
    if plant.run[0].boiling:
        hottest = max([float(profiles[-1, -1]), *(float(burner.temperature) for burner in plant.burners)])
        events.append(Event(end - step, "boiled", hottest))
    return tuple(sorted(events, key=lambda event: event.time))


def _lifts(time, gone):
    """Return the event of the relief valve's first lift, if it came to that."""
    rows = np.flatnonzero(gone > 0.0)
    return (Event(float(time[rows[0]]), "relief valve lifts", float("nan")),) if rows.size else ()


def _words(what, is_on):
    """Return an event in words."""
    if what >= len(CONTACTS):
        return f"{PUMPS[what - len(CONTACTS)]} {'starts' if is_on else 'stops'}"
    name = CONTACTS[what]
    if name in LOCKING:
        return f"{name} {'is reset' if is_on else 'trips'}"
    return f"{name} {'makes' if is_on else 'breaks'}"
