"""IAPWS SR6-08(2011), Table 8: liquid water at 0.1 MPa and 298.15 K.

Obtained: the table read in several public test suites that agree. Grade A. The release states simple equations whose
values lie this near to the full formulations: 3 in 100,000 (specific heat, viscosity, conductivity).
"""

import pytest

from tlib import water_properties

TABLE_8 = {
    "rho": 997.047013,  # kg/m3
    "cp": 4181.44618,  # J/(kg K)
    "mu": 889.996774,  # uPa s
    "k": 0.606502308,  # W/(m K)
    "g": -4.5617537,  # kJ/kg
    "s": 0.36720145,  # kJ/(kg K)
    "vt": 2.58054178e-7,  # m3/(kg K), the slope of volume with temperature
    "vp": -4.53803340e-7,  # m3/(kg MPa), the slope of volume with pressure
}
STATE = 25.0, 1e5


@pytest.mark.evidence(
    "published", "water_properties.density", "water_properties.specific_heat", "water_properties.viscosity",
    "water_properties.conductivity",
)  # fmt: skip
def test_liquid_water_at_25_degrees():
    assert water_properties.density(*STATE) == pytest.approx(TABLE_8["rho"], rel=1e-7)
    assert water_properties.specific_heat(*STATE) == pytest.approx(TABLE_8["cp"], rel=4e-5)
    assert 1e6 * water_properties.viscosity(*STATE) == pytest.approx(TABLE_8["mu"], rel=4e-5)
    assert water_properties.conductivity(*STATE) == pytest.approx(TABLE_8["k"], rel=4e-5)


@pytest.mark.evidence("published", "water_properties.enthalpy")
def test_enthalpy_has_the_zero_of_the_steam_tables():
    printed = 1000 * (TABLE_8["g"] + 298.15 * TABLE_8["s"])
    assert water_properties.enthalpy(*STATE) == pytest.approx(printed, abs=1.0)


@pytest.mark.evidence("published", "water_properties.expansion_coefficient")
def test_growth_with_temperature():
    printed = TABLE_8["vt"] * TABLE_8["rho"]
    assert water_properties.expansion_coefficient(*STATE) == pytest.approx(printed, rel=4e-5)


@pytest.mark.evidence("published", "water_properties.density")
def test_shrinking_with_pressure():
    step = 1e4
    denser, thinner = (water_properties.density(25.0, 1e5 + way * step) for way in (1, -1))
    assert (denser - thinner) / (2 * step) == pytest.approx(-TABLE_8["vp"] * TABLE_8["rho"] ** 2 * 1e-6, rel=3e-4)
