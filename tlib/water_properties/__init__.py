"""What water is like: density, heat, flow and boiling, for water and for propylene glycol in water.

The numbers come from tables fitted once to the reference library and held to it by tests, so a property costs
microseconds and loads nothing. Engines call the bare formulas, which check nothing.
"""

from tlib.water_properties.glycol import freezing_temperature
from tlib.water_properties.liquid import (
    conductivity,
    density,
    enthalpy,
    expansion_coefficient,
    specific_heat,
    viscosity,
)
from tlib.water_properties.saturation import (
    bare_saturation_pressure as bare_saturation_pressure,
)
from tlib.water_properties.saturation import (
    bare_saturation_temperature as bare_saturation_temperature,
)
from tlib.water_properties.saturation import saturation_pressure, saturation_temperature
from tlib.water_properties.water import bare_conductivity as bare_conductivity
from tlib.water_properties.water import bare_density as bare_density
from tlib.water_properties.water import bare_enthalpy as bare_enthalpy
from tlib.water_properties.water import bare_expansion_coefficient as bare_expansion_coefficient
from tlib.water_properties.water import bare_specific_heat as bare_specific_heat
from tlib.water_properties.water import bare_viscosity as bare_viscosity

__all__ = [
    "conductivity", "density", "enthalpy", "expansion_coefficient", "freezing_temperature", "saturation_pressure",
    "saturation_temperature", "specific_heat", "viscosity",
]  # fmt: skip
