"""Steps an installation, or a bare store, through time; every heat is booked with the number that moved it."""

from tlib.simulation.bare import Coil, Element, Loop, run_store
from tlib.simulation.conditions import Conditions, Draw, Firing, Heating, Start
from tlib.simulation.installed import engine_is_ready, simulate
from tlib.simulation.results import Event, Ledger, Result

__all__ = [
    "Coil",
    "Conditions",
    "Draw",
    "Element",
    "Event",
    "Firing",
    "Heating",
    "Ledger",
    "Loop",
    "Result",
    "Start",
    "engine_is_ready",
    "run_store",
    "simulate",
]
