"""What takes heat out of the store: rooms on the heating circuit, and taps through the hot-water coil."""

from tlib.heat_loads.hot_water import HotWater, coil_flow, hot_water_of
from tlib.heat_loads.radiators import Radiators, radiator_loop, radiators_of
from tlib.heat_loads.taps import Taps, taps_of

__all__ = ["HotWater", "Radiators", "Taps", "coil_flow", "hot_water_of", "radiator_loop", "radiators_of", "taps_of"]
