"""Perry's Chemical Engineers' Handbook, 9th edition (2019), Table 2-135: saturated water.

Obtained: the table read in a public reproduction. Grade A. Per mole as printed (18.0153 g/mol). Its thermodynamic
columns follow the same formulation as ours, its conductivity an older one (up to 1 % lower).
"""

import pytest

from tlib import water_properties

MOLE = 0.018015268  # kg

TABLE_2_135 = [
    # T / K, p / MPa, mol/dm3, h / (kJ/mol), cp / (kJ/(mol K)), conductivity / (mW/(m K)), viscosity / uPa s
    (280.0, 0.000992, 55.501, 0.51877, 0.075688, 574.04, 1433.7),
    (300.0, 0.003537, 55.315, 2.0279, 0.075320, 610.28, 853.84),
    (320.0, 0.010546, 54.919, 3.5340, 0.075317, 639.71, 577.02),
    (340.0, 0.027188, 54.371, 5.0419, 0.075456, 660.55, 421.97),
    (360.0, 0.062194, 53.698, 6.5538, 0.075708, 673.76, 326.10),
    (380.0, 0.12885, 52.918, 8.0725, 0.076098, 681.00, 262.69),
    (390.0, 0.17964, 52.490, 8.8354, 0.076356, 682.83, 238.77),
]
LOWEST = 1e4  # the package's least pressure [Pa], for the rows that boil below it


@pytest.mark.evidence("published", "water_properties.saturation_pressure", "water_properties.saturation_temperature")
@pytest.mark.parametrize(("kelvin", "megapascal"), [row[:2] for row in TABLE_2_135])
def test_boiling(kelvin, megapascal):
    digit = 10.0 ** -len(f"{megapascal}".partition(".")[2])
    assert water_properties.saturation_pressure(kelvin - 273.15) / 1e6 == pytest.approx(megapascal, abs=digit)
    slope = kelvin**2 / 5000.0  # kelvin for a growth of the pressure by e, or more: Clausius and Clapeyron
    allowed = slope * digit / megapascal
    assert water_properties.saturation_temperature(1e6 * megapascal) == pytest.approx(kelvin - 273.15, abs=allowed)


@pytest.mark.evidence(
    "published", "water_properties.density", "water_properties.enthalpy", "water_properties.specific_heat",
    "water_properties.conductivity", "water_properties.viscosity",
)  # fmt: skip
@pytest.mark.parametrize("row", TABLE_2_135, ids=lambda row: f"{row[0]:g} K")
def test_saturated_water(row):
    kelvin, megapascal, amount, enthalpy, specific_heat, conductivity, viscosity = row
    celsius = kelvin - 273.15
    state = celsius, max(1e6 * megapascal, water_properties.saturation_pressure(celsius), LOWEST)
    assert water_properties.density(*state) / MOLE / 1000 == pytest.approx(amount, abs=1e-3)
    assert water_properties.enthalpy(*state) * MOLE / 1000 == pytest.approx(enthalpy, abs=3e-4)
    assert water_properties.specific_heat(*state) * MOLE / 1000 == pytest.approx(specific_heat, abs=2e-6)
    assert 1000 * water_properties.conductivity(*state) == pytest.approx(conductivity, rel=1e-2)
    assert 1e6 * water_properties.viscosity(*state) == pytest.approx(viscosity, rel=1e-3)
