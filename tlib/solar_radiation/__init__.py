"""The sun: where it stands, what falls on a slope, what a collector and a PV array make of it, and weather files."""

from tlib.solar_radiation.collectors import (
    bare_collector_gain,
    collector_efficiency,
    collector_gain,
    critical_irradiance,
    incidence_modifier,
    stagnation_excess,
)
from tlib.solar_radiation.invented_weather import invented_year
from tlib.solar_radiation.photovoltaics import bought_power, cell_temperature, pv_power, pv_surplus
from tlib.solar_radiation.slopes import (
    SlopeIrradiance,
    incidence_angle,
    isotropic_irradiance,
    reindl_irradiance,
)
from tlib.solar_radiation.sun import (
    SunPosition,
    apparent_elevation,
    declination,
    extraterrestrial_irradiance,
    sun_angles,
    sun_position,
)
from tlib.solar_radiation.weather import Weather, read_weather, weather_on_slope

__all__ = [
    "SlopeIrradiance", "SunPosition", "Weather", "apparent_elevation", "bare_collector_gain", "bought_power",
    "cell_temperature", "collector_efficiency", "collector_gain", "critical_irradiance", "declination",
    "extraterrestrial_irradiance", "incidence_angle", "incidence_modifier", "invented_year", "isotropic_irradiance",
    "pv_power", "pv_surplus", "read_weather", "reindl_irradiance", "stagnation_excess", "sun_angles", "sun_position",
    "weather_on_slope",
]  # fmt: skip
