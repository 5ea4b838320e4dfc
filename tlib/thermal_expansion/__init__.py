"""Room to grow: expansion of the water, sealed and vented systems, relief and discharge."""

from tlib.thermal_expansion.growth import expanded_fraction, expansion_volume
from tlib.thermal_expansion.pressures import (
    fill_pressure,
    flat_vessel_pressure,
    hot_pressure,
    relief_spill,
    static_pressure,
    vessel_content,
    vessel_pressure,
)
from tlib.thermal_expansion.relief import DischargePipe, discharge_pipe, relief_capacity
from tlib.thermal_expansion.vented import cistern_allowance, cistern_rise, vent_height
from tlib.thermal_expansion.vessels import (
    acceptance_factor,
    next_stock_size,
    sealed_vessel,
    solar_vessel,
    water_reserve,
)

__all__ = [
    "DischargePipe",
    "acceptance_factor",
    "cistern_allowance",
    "cistern_rise",
    "discharge_pipe",
    "expanded_fraction",
    "expansion_volume",
    "fill_pressure",
    "flat_vessel_pressure",
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
