"""What takes heat out of the store: rooms on the heating circuit, and taps through the hot-water coil."""

from tlib.heat_loads.draw_offs import draw_off_profile, every_day
from tlib.heat_loads.floor import Floor, floor_of, settle_floor, step_floor
from tlib.heat_loads.hot_water import HotWater, Tap, coil_flow, hot_water_of, serve_taps
from tlib.heat_loads.house import House, house_of, step_house
from tlib.heat_loads.radiators import Radiators, radiator_loop, radiators_of
from tlib.heat_loads.taps import taps_of

__all__ = [
    "Floor", "HotWater", "House", "Radiators", "Tap", "coil_flow", "draw_off_profile", "every_day", "floor_of",
    "hot_water_of", "house_of", "radiator_loop", "radiators_of", "serve_taps", "settle_floor", "step_floor",
    "step_house", "taps_of",
]  # fmt: skip
