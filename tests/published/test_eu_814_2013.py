"""Commission Regulation (EU) 814/2013, annex I: quantities that follow from its definitions."""

import numpy as np
import pytest

from tlib import solar_radiation, stratification

# Annex III, tables 2 and 3, average climate (Strasbourg): monthly mean air / °C and light on 45 degrees south / W/m2
AIR = [2.8, 2.6, 7.4, 12.2, 16.3, 19.8, 21.0, 22.0, 17.0, 11.9, 5.6, 3.2]
LIGHT = [70, 104, 149, 192, 221, 222, 232, 217, 176, 129, 80, 56]


@pytest.mark.evidence("published", "stratification.usable_heat")
def test_mixed_water_at_40_degrees():
    """Annex I(24): V40 is the water at 40 °C with the heat drawn above 10 °C; 150 l at 65 °C make 275 l."""
    heat = stratification.usable_heat([65.0] * 3, 150.0, limit=10.0, specific_heat=4186.0)
    assert heat / (4186.0 * 30.0) == pytest.approx(275.0, abs=0.1)


@pytest.mark.evidence("published", "solar_radiation.invented_year", "solar_radiation.weather_on_slope")
def test_every_month_of_the_invented_year_has_the_printed_mean():
    year = solar_radiation.invented_year()
    light = solar_radiation.weather_on_slope(year, slope=45, facing=180).total
    days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    starts = np.cumsum([0, *days]) * 24
    for start, end, air, irradiance in zip(starts, starts[1:], AIR, LIGHT, strict=False):
        assert year.air[start:end].mean() == pytest.approx(air, abs=1e-9)
        assert light[start:end].mean() == pytest.approx(irradiance, rel=1e-6)


def test_the_means_of_the_year():
    """Equal months: 11.82 °C, 154.0 W/m2, 1349 kWh/m2."""
    assert np.mean(AIR) == pytest.approx(11.82, abs=0.01)
    assert np.mean(LIGHT) == pytest.approx(154.0, abs=0.1)
    assert np.mean(LIGHT) * 8.76 == pytest.approx(1349, abs=1)
