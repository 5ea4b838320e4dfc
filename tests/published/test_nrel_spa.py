"""[Reda 2008], the NREL solar position algorithm: its printed example, and years of it as pvlib computes it."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from tlib import solar_radiation

# Table A5.1: 17 October 2003 12:30:30 at UTC-7, 39.742476 N 105.1786 W, 820 mbar, 11 °C / degree
TABLE_A5_1 = {"zenith": 50.11162, "azimuth": 194.34024, "incidence": 25.18700}
CLASS = 0.012  # degree: what `sun_position` promises; the table's own digits are finer

# London 51.5 N 0 E at noon UTC, 35 degree roof to the south; pvlib's spa_python / elevation, incidence
LONDON = [("2026-06-21T12:00", 61.93, 6.95), ("2026-12-21T12:00", 15.06, 39.94)]


@pytest.mark.evidence(
    "published",
    "solar_radiation.sun_position",
    "solar_radiation.apparent_elevation",
    "solar_radiation.incidence_angle",
)
def test_the_printed_example():
    sun = solar_radiation.sun_position("2003-10-17T19:30:30", 39.742476, -105.1786)
    seen = solar_radiation.apparent_elevation(sun.elevation, pressure=82_000.0, temperature=11.0)
    assert 90 - seen == pytest.approx(TABLE_A5_1["zenith"], abs=CLASS)
    assert sun.azimuth == pytest.approx(TABLE_A5_1["azimuth"], abs=CLASS)
    incidence = solar_radiation.incidence_angle(seen, sun.azimuth, slope=30, facing=170)
    assert incidence == pytest.approx(TABLE_A5_1["incidence"], abs=CLASS)


@pytest.mark.evidence("published", "solar_radiation.incidence_angle")
def test_incidence_from_the_printed_sun():
    incidence = solar_radiation.incidence_angle(90 - TABLE_A5_1["zenith"], TABLE_A5_1["azimuth"], 30, 170)
    assert incidence == pytest.approx(TABLE_A5_1["incidence"], abs=2e-5)


@pytest.mark.evidence("published", "solar_radiation.sun_position", "solar_radiation.incidence_angle")
@pytest.mark.parametrize(("time", "elevation", "incidence"), LONDON)
def test_noon_in_london(time, elevation, incidence):
    sun = solar_radiation.sun_position(time, 51.5, 0.0)
    assert sun.elevation == pytest.approx(elevation, abs=0.005 + CLASS)
    computed = solar_radiation.incidence_angle(sun.elevation, sun.azimuth, slope=35, facing=180)
    assert computed == pytest.approx(incidence, abs=0.005 + CLASS)


@pytest.mark.evidence("published", "solar_radiation.sun_position", "solar_radiation.apparent_elevation")
@pytest.mark.parametrize(("latitude", "longitude"), [(54.0, -3.0), (-35.0, 150.0), (5.0, 20.0), (70.0, 25.0)])
def test_a_hundred_years_anywhere(latitude, longitude):
    times = pd.date_range("1950-01-01", "2050-01-01", periods=3000, tz="UTC")
    spa = pvlib.solarposition.spa_python(times, latitude, longitude, pressure=101325, temperature=12, delta_t=None)
    sun = solar_radiation.sun_position(times.tz_localize(None).to_numpy(), latitude, longitude)
    assert sun.elevation == pytest.approx(spa["elevation"].to_numpy(), abs=CLASS)
    turned = (sun.azimuth - spa["azimuth"].to_numpy() + 180) % 360 - 180
    assert np.abs(turned * np.cos(np.radians(sun.elevation))).max() < CLASS
    risen = spa["elevation"].to_numpy() > 0
    seen = solar_radiation.apparent_elevation(sun.elevation)
    assert seen[risen] == pytest.approx(spa["apparent_elevation"].to_numpy()[risen], abs=CLASS)


@pytest.mark.evidence("published", "solar_radiation.extraterrestrial_irradiance")
def test_the_distance_of_the_sun():
    times = pd.date_range("1950-01-01", "2050-01-01", periods=3000, tz="UTC")
    outside = pvlib.irradiance.get_extra_radiation(times, solar_constant=1361.0, method="nrel")
    computed = solar_radiation.extraterrestrial_irradiance(times.tz_localize(None).to_numpy())
    assert computed == pytest.approx(outside.to_numpy(), abs=0.3)
