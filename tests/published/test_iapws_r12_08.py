"""IAPWS R12-08, Table 4: viscosity at a temperature and a density; the row within our range of pressure.

Obtained: the whole table read in several public test suites that agree. Grade A. The row is for a density, so the
pressure that gives that density is found first: the check holds both functions at about 2.2 MPa.
"""

import pytest
from scipy.optimize import brentq

from tlib import water_properties

TABLE_4 = [
    # T / K, density / (kg/m3), viscosity / uPa s
    (298.15, 998.0, 889.735100),
]


@pytest.mark.evidence("published", "water_properties.viscosity")
@pytest.mark.parametrize(("kelvin", "density", "printed"), TABLE_4)
def test_viscosity_of_liquid_water(kelvin, density, printed):
    celsius = kelvin - 273.15
    pressure = brentq(lambda pascal: water_properties.density(celsius, pascal) - density, 1e5, 3e6)
    assert 1e6 * water_properties.viscosity(celsius, pressure) == pytest.approx(printed, rel=1e-6)
