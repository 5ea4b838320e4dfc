"""The iapws library (IAPWS-IF97 and R6-95): expansion, density and entropy for the measures of a stratified store."""

import numpy as np
import pytest
from iapws import IAPWS95, IAPWS97

from tlib import stratification

# g beta dT H / v^2 with g = 9.80665 m/s2 and beta of the library at the mean temperature, 0.101325 MPa
# beta/K, dT/K, H/m, v/(m/s), Ri
RICHARDSON = [
    (0.000457407, 60, 1.5, 0.01, 4037.1),
    (0.000384947, 40, 1.0, 0.1, 15.1),
    (0.00042217, 60, 1.2, 0.05, 119.23),
]


@pytest.mark.evidence("published", "stratification.richardson_number")
@pytest.mark.parametrize(("expansion", "difference", "height", "speed", "expected"), RICHARDSON)
def test_richardson_number(expansion, difference, height, speed, expected):
    computed = stratification.richardson_number(expansion, difference, height, speed)
    assert computed == pytest.approx(expected, rel=1e-3 if expected == 15.1 else 1e-4)


@pytest.mark.evidence("published", "stratification.merged")
@pytest.mark.parametrize(
    "layers", [[0.5, 1.0, 3.0, 6.0], [7.0, 5.0, 4.0, 2.0], [2.0, 9.0, 0.2, 4.0, 3.9, 1.0], [8.0, 0.5, 60.0, 12.0]]
)
def test_water_near_4_degrees_comes_to_rest_with_the_densest_lowest(layers):
    rested = stratification.merged(layers)
    densities = [IAPWS95(T=t + 273.15, P=0.101325).rho for t in rested]
    assert np.all(np.diff(densities) <= 1e-9)
    assert rested.mean() == pytest.approx(np.mean(layers), rel=1e-13)


@pytest.mark.evidence("published", "stratification.stratification_efficiency")
@pytest.mark.parametrize(("cold", "hot"), [(20.0, 60.0), (10.0, 80.0), (35.0, 75.0)])
def test_exergy_destroyed_by_stirring_in_part(cold, hot):
    """T0 times the entropy that IF97 at 0.3 MPa says is made when equal parts of heat are exchanged."""
    water = [IAPWS97(T=t + 273.15, P=0.3) for t in (cold, hot)]

    def made(share):
        low, high = water[0].h + share * (water[1].h - water[0].h), water[1].h - share * (water[1].h - water[0].h)
        after = (IAPWS97(P=0.3, h=low).s + IAPWS97(P=0.3, h=high).s) / 2
        return 283.15e3 * (after - (water[0].s + water[1].s) / 2)

    layers = [[cold, hot], [cold + 0.2 * (hot - cold), hot - 0.2 * (hot - cold)], [(cold + hot) / 2] * 2]
    start, part, stirred = stratification.exergy(layers, 1.0, dead_state=10.0)
    computed = stratification.stratification_efficiency(start - part, start - stirred)
    assert computed == pytest.approx(1 - made(0.2) / made(0.5), abs=2e-3)
    # one specific heat for all temperatures costs less than 1 % of what mixing destroys
    assert start - stirred == pytest.approx(made(0.5), rel=0.01)
