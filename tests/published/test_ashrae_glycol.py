"""ASHRAE Handbook - Fundamentals (2001), "Physical properties of secondary coolants (brines)", propylene glycol.

Tables for inhibited propylene glycol in water, by volume. Obtained: SI rows read in the data to which the reference
library's curves were fitted; four of them (30 and 40 % at 20 and 40 °C) read again in another reproduction, and they
agree. Grade A. Tolerances: the last digit for density and specific heat; 0.15 % for conductivity and 2.5 % for
viscosity, which is how near the library's curves come to the table. Rows in imperial units, of the 2013 edition, were
read in a third transcription: viscosity agrees, density lies 0.12 % higher throughout.
"""

import numpy as np
import pytest

from tlib import water_properties

SHARES = np.array([0.1, 0.2, 0.3, 0.4, 0.5])
KEPT_LIQUID = 1.1e5  # absolute pressure [Pa] at which the row of 100 °C is not refused

DENSITY = {  # °C: kg/m3 at each share
    0: (1013.85, 1025.84, 1036.24, 1045.12, 1052.71),
    20: (1008.13, 1019.01, 1028.35, 1036.24, 1042.87),
    40: (1000.46, 1010.16, 1018.42, 1025.3, 1030.98),
    60: (990.82, 999.31, 1006.44, 1012.3, 1017.04),
    80: (979.23, 986.44, 992.42, 997.25, 1001.05),
    100: (965.68, 971.56, 976.36, 980.14, 983.0),
}
SPECIFIC_HEAT = {  # °C: J/(kg K) at each share
    0: (4042, 3929, 3793, 3636, 3455),
    20: (4075, 3973, 3848, 3702, 3532),
    40: (4107, 4016, 3903, 3768, 3609),
    60: (4139, 4060, 3958, 3834, 3686),
    80: (4171, 4104, 4013, 3900, 3763),
    100: (4203, 4147, 4068, 3966, 3841),
}
CONDUCTIVITY = {  # °C: mW/(m K) at each share
    0: (510, 464, 423, 385, 349),
    20: (543, 492, 445, 402, 362),
    40: (569, 513, 462, 415, 372),
    60: (589, 529, 475, 425, 378),
    80: (602, 540, 482, 430, 382),
    100: (608, 544, 485, 432, 382),
}
VISCOSITY = {  # °C: hundredths of a mPa s at each share
    0: (268, 405, 708, 1237, 1840),
    20: (142, 202, 306, 457, 665),
    40: (89, 118, 163, 221, 311),
    60: (62, 78, 101, 130, 175),
    80: (46, 56, 70, 88, 112),
    100: (35, 43, 53, 66, 79),
}
IMPERIAL = [
    # °F, share, lb/ft3, centipoise
    (40, 0.3, 64.67, 5.75),
    (40, 0.5, 65.67, 14.28),
    (70, 0.4, 64.73, 4.36),
    (100, 0.3, 63.73, 1.73),
    (150, 0.4, 63.02, 1.16),
    (190, 0.5, 62.14, 0.97),
]
FREEZING = [
    # share, °C
    (0.0, 0.0), (0.048, -1.6), (0.096, -3.3), (0.145, -5.1), (0.194, -7.1), (0.244, -9.6), (0.294, -12.7),
    (0.344, -16.4), (0.396, -21.1), (0.447, -26.7), (0.499, -33.5),
]  # fmt: skip
BELOW_NOUGHT = [
    # °C, share, kg/m3, J/(kg K)
    (-10, 0.3, 1039.42, 3765),
    (-15, 0.4, 1050.43, 3586),
    (-25, 0.5, 1062.11, 3358),
]


@pytest.mark.evidence("published", "water_properties.density")
@pytest.mark.parametrize(("celsius", "printed"), DENSITY.items())
def test_density(celsius, printed):
    assert water_properties.density(celsius, KEPT_LIQUID, SHARES) == pytest.approx(np.array(printed), abs=0.01)


@pytest.mark.evidence("published", "water_properties.specific_heat")
@pytest.mark.parametrize(("celsius", "printed"), SPECIFIC_HEAT.items())
def test_specific_heat(celsius, printed):
    assert water_properties.specific_heat(celsius, KEPT_LIQUID, SHARES) == pytest.approx(np.array(printed), abs=0.6)


@pytest.mark.evidence("published", "water_properties.conductivity")
@pytest.mark.parametrize(("celsius", "printed"), CONDUCTIVITY.items())
def test_conductivity(celsius, printed):
    computed = 1000 * water_properties.conductivity(celsius, KEPT_LIQUID, SHARES)
    assert computed == pytest.approx(np.array(printed), rel=1.5e-3)


@pytest.mark.evidence("published", "water_properties.viscosity")
@pytest.mark.parametrize(("celsius", "printed"), VISCOSITY.items())
def test_viscosity(celsius, printed):
    computed = 1e5 * water_properties.viscosity(celsius, KEPT_LIQUID, SHARES)
    assert computed == pytest.approx(np.array(printed), rel=0.025)


@pytest.mark.evidence("published", "water_properties.density", "water_properties.viscosity")
@pytest.mark.parametrize(("fahrenheit", "share", "pounds", "centipoise"), IMPERIAL)
def test_the_imperial_rows_agree(fahrenheit, share, pounds, centipoise):
    celsius = (fahrenheit - 32) / 1.8
    cubic_foot, pound = 0.028316846592, 0.45359237
    assert water_properties.density(celsius, glycol=share) * cubic_foot / pound == pytest.approx(pounds, rel=1.5e-3)
    assert 1000 * water_properties.viscosity(celsius, glycol=share) == pytest.approx(centipoise, rel=0.025)


@pytest.mark.evidence("published", "water_properties.density", "water_properties.specific_heat")
@pytest.mark.parametrize(("celsius", "share", "density", "specific_heat"), BELOW_NOUGHT)
def test_colder_than_ice(celsius, share, density, specific_heat):
    assert water_properties.density(celsius, glycol=share) == pytest.approx(density, abs=0.01)
    assert water_properties.specific_heat(celsius, glycol=share) == pytest.approx(specific_heat, abs=0.6)


@pytest.mark.evidence("published", "water_properties.expansion_coefficient")
@pytest.mark.parametrize("place", range(len(SHARES)))
def test_expansion_is_the_slope_of_the_printed_densities(place):
    below, above = DENSITY[40][place], DENSITY[80][place]
    printed = np.log(below / above) / 40.0  # mean over 40 to 80 °C
    computed = water_properties.expansion_coefficient(np.linspace(40, 80, 41), glycol=SHARES[place]).mean()
    assert computed == pytest.approx(printed, rel=1e-3)


@pytest.mark.evidence("published", "water_properties.enthalpy")
@pytest.mark.parametrize("place", range(len(SHARES)))
def test_enthalpy_is_the_sum_of_the_printed_specific_heats(place):
    ends = (SPECIFIC_HEAT[20][place] + SPECIFIC_HEAT[80][place]) / 2
    inside = SPECIFIC_HEAT[40][place] + SPECIFIC_HEAT[60][place]
    rise = water_properties.enthalpy([20.0, 80.0], glycol=SHARES[place])
    assert rise[1] - rise[0] == pytest.approx(20.0 * (ends + inside), rel=2e-4)


@pytest.mark.evidence("published", "water_properties.freezing_temperature")
@pytest.mark.parametrize(("share", "printed"), FREEZING)
def test_freezing_point(share, printed):
    assert water_properties.freezing_temperature(share) == pytest.approx(printed, abs=0.1)
