"""IAPWS R15-11, Table 4: thermal conductivity at a temperature and a density; the row within our range of pressure.

Obtained: rows read in several public test suites that agree. Grade A. The table leaves out the term for the critical
region, which adds 0.02 % to liquid water at 25 °C: the tolerance.
"""

import pytest
from scipy.optimize import brentq

from tlib import water_properties

TABLE_4 = [
    # T / K, density / (kg/m3), conductivity / (mW/(m K))
    (298.15, 998.0, 607.712868),
]


@pytest.mark.evidence("published", "water_properties.conductivity")
@pytest.mark.parametrize(("kelvin", "density", "printed"), TABLE_4)
def test_conductivity_of_liquid_water(kelvin, density, printed):
    celsius = kelvin - 273.15
    pressure = brentq(lambda pascal: water_properties.density(celsius, pascal) - density, 1e5, 3e6)
    assert 1e3 * water_properties.conductivity(celsius, pressure) == pytest.approx(printed, rel=2e-4)
