"""Commission Regulation (EU) 814/2013, annex I: quantities that follow from its definitions; annex III: profiles.

Obtained: read. Grade A.
"""

import numpy as np
import pytest

from tlib import solar_radiation, stratification
from tlib.heat_loads.draw_offs import draw_off_profile

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


# Annex III, table 1: draws of a day, reference energy / kWh, first and last draw
PROFILES = [
    ("S", 11, 2.1, "07:00", "21:30"), ("M", 23, 5.845, "07:00", "21:30"),
    ("L", 24, 11.655, "07:00", "21:30"), ("XL", 30, 19.07, "07:00", "21:30"),
]  # fmt: skip
# Of profile S: start, heat / kWh, flow / l/min, and the peak / °C or, where none is printed, the useful temperature
S = [
    ("07:00", 0.105, 3, 25), ("07:30", 0.105, 3, 25), ("08:30", 0.105, 3, 25), ("09:30", 0.105, 3, 25),
    ("11:30", 0.105, 3, 25), ("11:45", 0.105, 3, 25), ("12:45", 0.315, 4, 55), ("18:00", 0.105, 3, 25),
    ("18:15", 0.105, 3, 40), ("20:30", 0.42, 4, 55), ("21:30", 0.525, 5, 45),
]  # fmt: skip
# The draws for a shower or a bath: start, heat / kWh, flow / l/min, temperature / °C
LARGE = [
    ("M", "07:05", 1.4, 6, 40), ("M", "21:30", 1.4, 6, 40),
    ("L", "07:05", 1.4, 6, 40), ("L", "08:05", 3.605, 10, 40), ("L", "21:00", 3.605, 10, 40),
    ("XL", "07:15", 1.82, 6, 40), ("XL", "07:45", 4.42, 10, 40), ("XL", "20:46", 4.42, 10, 40),
    ("XL", "21:30", 4.42, 10, 40),
]  # fmt: skip


def seconds(text):
    hours, minutes = text.split(":")
    return 3600 * int(hours) + 60 * int(minutes)


def heat(volume, temperature):
    """Annex I: mass times specific heat times the rise above the cold water; 1.163 Wh/K a litre, in kWh."""
    return 1.163 * volume * (temperature - 10.0)


@pytest.mark.parametrize(("name", "count", "reference", "first", "last"), PROFILES)
def test_a_day_of_draws_has_the_printed_reference_energy(name, count, reference, first, last):
    rows = draw_off_profile(name)
    assert len(rows) == count
    assert sum(heat(volume, temperature) for _, volume, temperature, _ in rows) == pytest.approx(reference, abs=1e-9)
    assert (rows[0][0], rows[-1][0]) == (seconds(first), seconds(last))
    assert {round(60 * flow, 9) for *_, flow in rows} <= {3.0, 4.0, 5.0, 6.0, 10.0}


def test_every_draw_of_profile_s():
    for (at, volume, temperature, flow), (start, energy, litres, printed) in zip(draw_off_profile("S"), S, strict=True):
        assert (at, temperature) == (seconds(start), printed)
        assert heat(volume, temperature) == pytest.approx(energy, rel=1e-12)
        assert 60 * flow == pytest.approx(litres, rel=1e-12)


@pytest.mark.parametrize(("name", "start", "energy", "litres", "printed"), LARGE)
def test_showers_and_baths(name, start, energy, litres, printed):
    (row,) = [row for row in draw_off_profile(name) if row[0] == seconds(start)]
    assert heat(*row[1:3]) == pytest.approx(energy, rel=1e-12)
    assert row[2] == printed
    assert 60 * row[3] == pytest.approx(litres, rel=1e-12)
