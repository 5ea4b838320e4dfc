"""What a run writes down: heats, flows and running times row by row, and events as they come."""

from typing import NamedTuple

from tlib.compiled import kernel

__all__ = ["CONTACTS", "FIRST_SENSOR", "PUMPS", "READINGS", "Entry", "Row", "note"]

CONTACTS = (
    "pipe thermostat", "store limit", "boiler thermostat", "enough heat", "high limit", "room thermostat",
    "frost thermostat", "solar store limit", "collector limit", "boiler's own limit", "low immersion thermostat",
    "high immersion thermostat", "low immersion cut-out", "high immersion cut-out", "thermal valve",
)  # fmt: skip
"""Names of the contacts, in the order of their table."""

PUMPS = (
    "charge pump", "heating pump", "boiler", "boiler pump", "solar pump", "low immersion heater",
    "high immersion heater",
)  # fmt: skip
"""What the contacts switch, in the order of the running times."""


READINGS = (
    "burner flow", "burner return", "boiler flow", "collector", "room", "outside", "top", "upper", "middle", "lower",
    "boiler thermostat", "store limit", "high limit", "low immersion", "high immersion",
)  # fmt: skip
"""What is felt at the start of each step, in this order; from "top" on, sensors in the store."""
FIRST_SENSOR = READINGS.index("top")
"""From here on, sensors in the store."""


class Row(NamedTuple):
    """Sums over the time of one row: heats [J], masses [kg], running times [s]."""

    fuel: float = 0.0
    flue: float = 0.0
    fire_to_water: float = 0.0
    fire_to_room: float = 0.0
    lining_to_room: float = 0.0
    burner_to_store: float = 0.0
    burner_to_room: float = 0.0
    heat_leak: float = 0.0
    quenched: float = 0.0
    pumped_over: float = 0.0
    steam: float = 0.0
    boiler_fuel: float = 0.0
    boiler_to_water: float = 0.0
    boiler_to_store: float = 0.0
    boiler_to_room: float = 0.0
    sun: float = 0.0
    collector_loss: float = 0.0
    solar_to_store: float = 0.0
    immersions: float = 0.0
    pv_bought: float = 0.0
    pv_left: float = 0.0
    radiators: float = 0.0
    floor_drawn: float = 0.0
    floor_to_room: float = 0.0
    hot_water: float = 0.0
    hot_water_short: float = 0.0
    standing_loss: float = 0.0
    house_loss: float = 0.0
    house_gains: float = 0.0
    burner_mass: float = 0.0
    boiler_mass: float = 0.0
    solar_mass: float = 0.0
    radiators_mass: float = 0.0
    floor_mass: float = 0.0
    tap_mass: float = 0.0
    coil_mass: float = 0.0
    tundish_mass: float = 0.0
    tap_warmth: float = 0.0
    """Mass times temperature [kg °C]."""
    coil_warmth: float = 0.0
    charge_pump: float = 0.0
    heating_pump: float = 0.0
    boiler: float = 0.0
    boiler_pump: float = 0.0
    solar_pump: float = 0.0
    low_immersion: float = 0.0
    high_immersion: float = 0.0
    high_limit: float = 0.0


class Entry(NamedTuple):
    """An event."""

    time: float
    """After the start of the run [s]."""
    what: int
    """Place among the contacts, and after them among what they switch."""
    is_on: int
    """Whether it makes, or starts."""
    felt: float
    """What it felt [°C]; not a number where nothing is felt."""


@kernel
def note(events, run, what, is_on, felt):
    """Write down an event at the time to which a run has come. A full book takes no more."""
    if run.events < events.size:
        event = events[run.events]
        event.time, event.what, event.is_on, event.felt = run.time, what, is_on, felt
        run.events += 1
