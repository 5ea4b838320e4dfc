"""IAPWS R6-95(2018), Table 7: check values in the single-phase region; the liquid row within our range of pressure.

Obtained: row read in several public test suites that agree. Grade A.
"""

import pytest

from tlib import water_properties

TABLE_7 = [
    # T / K, density / (kg/m3), p / MPa
    (300.0, 996.556, 0.0992418352),
]


@pytest.mark.evidence("published", "water_properties.density")
@pytest.mark.parametrize(("kelvin", "printed", "megapascal"), TABLE_7)
def test_density_of_liquid_water(kelvin, printed, megapascal):
    computed = water_properties.density(kelvin - 273.15, megapascal * 1e6)
    assert computed == pytest.approx(printed, abs=5e-4)  # half of the last digit
