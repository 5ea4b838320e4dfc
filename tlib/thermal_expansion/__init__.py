"""Room to grow: expansion of the water, sealed and vented systems, relief and discharge."""

from tlib.thermal_expansion.growth import expanded_fraction, growth
from tlib.thermal_expansion.relief import DischargePipe, discharge_pipe, relief_capacity
from tlib.thermal_expansion.sealed import (
    acceptance_factor,
    fill_pressure,
    flat_vessel_pressure,
    hot_pressure,
    next_stock_size,
    relief_spill,
    sealed_vessel,
    solar_vessel,
    static_pressure,
    vessel_content,
    vessel_pressure,
    water_reserve,
)
from tlib.thermal_expansion.vented import cistern_allowance, cistern_rise, vent_height

__all__ = [
    "DischargePipe",
    "acceptance_factor",
    "cistern_allowance",
    "cistern_rise",
    "discharge_pipe",
    "expanded_fraction",
    "fill_pressure",
    "flat_vessel_pressure",
    "growth",
    "hot_pressure",
    "next_stock_size",
    "relief_capacity",
    "relief_spill",
    "sealed_vessel",
    "solar_vessel",
    "static_pressure",
    "vent_height",
    "vessel_content",
    "vessel_pressure",
    "water_reserve",
]
