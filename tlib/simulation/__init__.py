"""Steps an installation, or a bare store, through time; every heat is booked with the number that moved it."""

from tlib.heat_loads import every_day
from tlib.simulation.bare import Coil, Element, Loop, run_store
from tlib.simulation.chain import Acted, layers_acted
from tlib.simulation.conditions import Air, Conditions, Day, Draw, Firing, Heating, Hours, Start
from tlib.simulation.conditions_file import load_conditions
from tlib.simulation.csv_file import write_csv
from tlib.simulation.installed import engine_is_ready, simulate, simulate_all
from tlib.simulation.overrides import Fault
from tlib.simulation.plant import boiling_point
from tlib.simulation.results import Event, Ledger, Result
from tlib.simulation.traces import CHANNELS, Trace, trace

__all__ = [
    "CHANNELS", "Acted", "Air", "Coil", "Conditions", "Day", "Draw", "Element", "Event", "Fault", "Firing", "Heating",
    "Hours", "Ledger", "Loop", "Result", "Start", "Trace", "boiling_point", "engine_is_ready", "every_day",
    "layers_acted", "load_conditions", "run_store", "simulate", "simulate_all", "trace", "write_csv",
]  # fmt: skip
