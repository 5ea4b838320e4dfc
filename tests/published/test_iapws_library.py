"""Liquid water by an independent implementation of the industrial formulation: library iapws 1.5.5.

Grade B: computed by another general-purpose library, with other equations (IAPWS-IF97, R12-08, R15-11) than the
curves here were fitted to. The tolerances are what separates the two formulations.
"""

import numpy as np
import pytest

from tlib import water_properties

CELSIUS = np.array([10, 20, 40, 60, 75, 80, 85, 90, 95])
DENSITY = [999.7015, 998.2061, 992.2243, 983.2106, 974.8567, 971.8029, 968.6223, 965.3187, 961.8951]
DENSITY_AT_3_BAR = [999.7964, 998.297, 992.3112, 983.2972, 974.9447, 971.8917, 968.712, 965.4094, 961.9869]
SPECIFIC_HEAT = [4195.45, 4184.79, 4178.55, 4182.76, 4191.55, 4195.52, 4200.01, 4205.02, 4210.57]
CONDUCTIVITY = [0.57878, 0.59801, 0.6285, 0.65102, 0.66358, 0.66701, 0.67008, 0.6728, 0.67518]
VISCOSITY = [1305.9, 1001.6, 652.731, 466.043, 377.424, 354.058, 333.082, 314.181, 297.09]
EXPANSION = [8.81349e-05, 2.0661e-04, 3.84947e-04, 5.23133e-04, 6.13212e-04, 6.41659e-04, 6.69547e-04, 6.96997e-04,
             7.24117e-04]  # fmt: skip
GROWTH_FROM_10 = {60: 1.679, 75: 2.55, 80: 2.872, 85: 3.21, 90: 3.563, 95: 3.931}  # %, by IAPWS-95
BOILING_AT_4_BAR = 143.61


@pytest.mark.evidence("published", "water_properties.density")
def test_density_and_its_change_with_pressure():
    assert water_properties.density(CELSIUS) == pytest.approx(np.array(DENSITY), rel=2e-5)
    assert water_properties.density(CELSIUS, 3e5) == pytest.approx(np.array(DENSITY_AT_3_BAR), rel=2e-5)
    risen = water_properties.density(CELSIUS, 3e5) - water_properties.density(CELSIUS)
    assert risen == pytest.approx(np.subtract(DENSITY_AT_3_BAR, DENSITY), rel=5e-3)


@pytest.mark.parametrize("megapascal", [0.1, 0.2, 0.5, 1.0])
def test_density_from_one_to_ten_bar(megapascal):
    from iapws import IAPWS97

    celsius = np.linspace(5.0, 95.0, 10)
    other = [IAPWS97(T=t + 273.15, P=megapascal).rho for t in celsius]
    assert water_properties.density(celsius, 1e6 * megapascal) == pytest.approx(np.array(other), rel=2e-5)


@pytest.mark.evidence("published", "water_properties.specific_heat")
def test_specific_heat():
    assert water_properties.specific_heat(CELSIUS) == pytest.approx(np.array(SPECIFIC_HEAT), rel=8e-4)


@pytest.mark.evidence("published", "water_properties.conductivity")
def test_conductivity():
    assert water_properties.conductivity(CELSIUS) == pytest.approx(np.array(CONDUCTIVITY), rel=2e-4)


@pytest.mark.evidence("published", "water_properties.viscosity")
def test_viscosity():
    assert 1e6 * water_properties.viscosity(CELSIUS) == pytest.approx(np.array(VISCOSITY), rel=2e-4)


@pytest.mark.evidence("published", "water_properties.expansion_coefficient")
def test_expansion_coefficient():
    assert water_properties.expansion_coefficient(CELSIUS) == pytest.approx(np.array(EXPANSION), rel=3e-3)


@pytest.mark.evidence("published", "water_properties.density")
@pytest.mark.parametrize(("celsius", "percent"), GROWTH_FROM_10.items())
def test_growth_from_a_cold_fill(celsius, percent):
    cold, hot = water_properties.density([10.0, celsius])
    assert 100 * (cold / hot - 1) == pytest.approx(percent, abs=2e-3)


@pytest.mark.evidence("published", "water_properties.saturation_temperature")
def test_boiling_point_of_a_solar_loop():
    assert water_properties.saturation_temperature(4e5) == pytest.approx(BOILING_AT_4_BAR, abs=5e-3)


LATENT_HEAT = {20: 2453.55, 60: 2357.69, 85: 2295.38, 100: 2256.47}  # kJ/kg
STEAM_VOLUME = {20: 57.7615, 60: 7.66766, 85: 2.82593, 100: 1.67186}  # m3/kg


@pytest.mark.evidence("published", "water_properties.saturation_pressure")
@pytest.mark.parametrize("celsius", LATENT_HEAT)
def test_the_slope_of_the_boiling_curve_gives_the_latent_heat(celsius):
    # Clausius and Clapeyron: latent heat = T (v steam - v water) dp/dT
    below, above = water_properties.saturation_pressure([celsius - 0.01, celsius + 0.01])
    water = 1 / water_properties.density(celsius, max(above, 1e4))
    latent = (celsius + 273.15) * (STEAM_VOLUME[celsius] - water) * (above - below) / 0.02
    assert latent / 1000 == pytest.approx(LATENT_HEAT[celsius], rel=1e-4)
