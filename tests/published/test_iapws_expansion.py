"""IAPWS-95 and IF97 by the library iapws, against growth and relief. Obtained: run at test time. Grade B.

Glycol: densities of CoolProp's fit to the ASHRAE tables.
"""

import pytest
from iapws import IAPWS95, IAPWS97

from tlib import thermal_expansion

FROM_10 = {60: 1.679, 75: 2.550, 80: 2.872, 85: 3.210, 90: 3.563, 95: 3.931}  # percent at 101 325 Pa
FROM_4 = {40: 0.782, 50: 1.208, 60: 1.707, 70: 2.272, 75: 2.578, 80: 2.900, 85: 3.238, 90: 3.591, 95: 3.960}
GLYCOL_30 = (20.0, 80.0, 3.62)  # from, to [°C]; percent
# Low pressure steam safety valves, 1 bar gauge: kg/h, kW. A public engineering reference, table read; grade A.
VALVES = [(82, 50), (145, 89), (249, 152), (360, 220), (536, 328), (901, 551), (1244, 761), (2397, 1465)]


@pytest.mark.evidence("published", "thermal_expansion.expanded_fraction")
@pytest.mark.parametrize(("start", "table"), [(10.0, FROM_10), (4.0, FROM_4)])
def test_growth_of_water(start, table):
    for celsius, percent in table.items():
        ours = 100 * thermal_expansion.expanded_fraction(start, float(celsius))
        assert ours == pytest.approx(percent, abs=0.005), f"{start} to {celsius} °C"


@pytest.mark.evidence("published", "thermal_expansion.expansion_volume")
def test_litres_of_growth_by_the_library_itself():
    cold, hot = (IAPWS95(T=t + 273.15, P=0.3).rho for t in (10.0, 85.0))
    ours = thermal_expansion.expansion_volume(0.410, 10.0, 85.0, 3e5)
    assert 1000 * ours == pytest.approx(410 * (cold / hot - 1), abs=0.02)


@pytest.mark.evidence("published", "thermal_expansion.expanded_fraction")
def test_growth_of_glycol_is_not_waters_plus_a_flat_addition():
    cold, hot, percent = GLYCOL_30
    ours = 100 * thermal_expansion.expanded_fraction(cold, hot, 3e5, glycol=0.3)
    assert ours == pytest.approx(percent, abs=0.1)
    assert ours > 100 * thermal_expansion.expanded_fraction(cold, hot, 3e5) + 0.5


@pytest.mark.evidence("published", "thermal_expansion.relief_capacity")
@pytest.mark.parametrize("pressure", [1e5, 2e5, 4.01325e5, 7e5, 1.2e6])
def test_steam_of_a_source(pressure):
    latent = (IAPWS97(P=pressure / 1e6, x=1).h - IAPWS97(P=pressure / 1e6, x=0).h) * 1e3
    assert thermal_expansion.relief_capacity(50e3, pressure) == pytest.approx(50e3 / latent, rel=0.002)


@pytest.mark.evidence("published", "thermal_expansion.relief_capacity")
@pytest.mark.parametrize(("steam", "kilowatts"), VALVES)
def test_table_of_low_pressure_safety_valves(steam, kilowatts):
    ours = 3600 * thermal_expansion.relief_capacity(kilowatts * 1e3, 1e5 + 101_325.0)
    assert ours == pytest.approx(steam, rel=0.5 / kilowatts + 0.002)


@pytest.mark.evidence("published", "thermal_expansion.static_pressure")
def test_weight_of_a_column_of_water():
    # 1 m of water at 4 °C is 9806.65 Pa by definition (conventional metre of water, SI brochure's predecessors).
    assert thermal_expansion.static_pressure(1.0) == pytest.approx(9806.65)
    cold = IAPWS95(T=283.15, P=0.101325).rho
    assert thermal_expansion.static_pressure(5.0, cold) == pytest.approx(cold * 9.80665 * 5.0)
