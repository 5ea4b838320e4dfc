"""Çengel, Heat and Mass Transfer, problem 3-94: a hot-water pipe through a cold cellar.

Obtained: the published solution, read in full. Grade A. Zero Celsius is 273 K there.
"""

import pytest

from tlib import heat_transfer

LENGTH, BORE, OUTSIDE, CONDUCTIVITY = 15.0, 0.04, 0.046, 52.0
INSIDE, CONVECTION, EMISSIVITY = 120.0, 15.0, 0.7
GUESSED_SURFACE, SURROUNDINGS = 353.0 - 273.0, 283.0 - 273.0
RADIATION, RESISTANCE, HEAT = 5.167, 0.02732, 2928.0  # printed [W/(m2 K)], [K/W], [W]


@pytest.mark.evidence("published", "heat_transfer.radiative_coefficient")
def test_radiation_from_the_pipe():
    ours = heat_transfer.radiative_coefficient(GUESSED_SURFACE, SURROUNDINGS, EMISSIVITY)
    assert ours == pytest.approx(RADIATION, rel=0.002)  # 273 against 273.15 is worth 0.14 %


@pytest.mark.evidence("published", "heat_transfer.tube_conductance")
def test_resistance_and_heat_of_the_pipe():
    ours = heat_transfer.tube_conductance(LENGTH, BORE, OUTSIDE, CONDUCTIVITY, INSIDE, CONVECTION + RADIATION)
    assert 1 / ours == pytest.approx(RESISTANCE, abs=0.000005)
    assert 80.0 * ours == pytest.approx(HEAT, abs=0.5)


@pytest.mark.evidence("published", "heat_transfer.coil_outlet")
def test_the_water_cools_by_the_three_degrees_of_the_problem():
    # 0.186 m/s makes it 3 K; the problem takes the loss at 90 °C all along, we let it fall, 2 % less.
    rate = 0.186 * 3.14159 * BORE**2 / 4 * 1000.0 * 4180.0
    ours = heat_transfer.coil_outlet(store=10.0, inlet=90.0, ua=1 / RESISTANCE, capacity_rate=rate)
    assert 90.0 - ours == pytest.approx(3.0, rel=0.03)
