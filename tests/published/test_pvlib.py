"""pvlib: an independent library for light on slopes, PV, and the measured years it ships."""

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from tlib import solar_radiation

DATA = Path(pvlib.__file__).parent / "data"
YEARS = ["723170TYA.CSV", "703165TY.csv"]  # Greensboro, North Carolina; Sand Point, Alaska: TMY3, public domain

# pvlib get_total_irradiance(model="isotropic"): tilt 35, facing 180, sun 50 degrees up in the south, direct 700,
# level 500 and sky 120 W/m2, albedo 0.2 / W/m2. The three do not add up, on purpose: no part may lean on another.
ISOTROPIC = {"total": 815.53, "beam": 697.34, "sky": 109.15, "ground": 9.04}

HOURS = pd.date_range("2026-01-01", "2027-01-01", freq="3h", tz="UTC")[:-1]


def sky(latitude=51.5, longitude=-2.0):
    """Return a year of made-up skies that are consistent: sun, direct, diffuse, level, outside."""
    spa = pvlib.solarposition.spa_python(HOURS, latitude, longitude)
    random = np.random.default_rng(8)
    elevation = spa["elevation"].to_numpy()
    up = np.sin(np.radians(elevation))
    direct = np.where(up > 0.02, random.uniform(0, 900, len(HOURS)) * random.integers(0, 2, len(HOURS)), 0.0)
    diffuse = np.where(up > 0, random.uniform(0, 300, len(HOURS)), 0.0)
    outside = pvlib.irradiance.get_extra_radiation(HOURS).to_numpy()
    return elevation, spa["azimuth"].to_numpy(), direct, diffuse, diffuse + direct * np.maximum(up, 0), outside


@pytest.mark.evidence("published", "solar_radiation.isotropic_irradiance")
@pytest.mark.parametrize("part", ISOTROPIC)
def test_isotropic_sky_in_one_case(part):
    incidence = solar_radiation.incidence_angle(50, 180, 35, 180)
    light = solar_radiation.isotropic_irradiance(700, 120, 500, incidence, 35)
    assert getattr(light, part) == pytest.approx(ISOTROPIC[part], abs=0.005)


@pytest.mark.evidence(
    "published",
    "solar_radiation.incidence_angle",
    "solar_radiation.isotropic_irradiance",
    "solar_radiation.reindl_irradiance",
)
@pytest.mark.parametrize(("slope", "facing"), [(0, 180), (35, 180), (35, 90), (90, 225), (60, 0), (120, 180)])
@pytest.mark.parametrize("model", ["isotropic", "reindl"])
def test_a_year_of_skies_on_slopes(model, slope, facing):
    elevation, azimuth, direct, diffuse, level, outside = sky()
    theirs = pvlib.irradiance.get_total_irradiance(
        slope, facing, 90 - elevation, azimuth, direct, level, diffuse, dni_extra=outside, albedo=0.2, model=model
    )
    incidence = solar_radiation.incidence_angle(elevation, azimuth, slope, facing)
    assert incidence == pytest.approx(pvlib.irradiance.aoi(slope, facing, 90 - elevation, azimuth), abs=1e-9)
    if model == "isotropic":
        ours = solar_radiation.isotropic_irradiance(direct, diffuse, level, incidence, slope)
    else:
        ours = solar_radiation.reindl_irradiance(direct, diffuse, level, incidence, slope, elevation, outside)
    # their sky divides by no less than cos 89 degrees written 0.01745, ours by its sine: three parts in 1e5 there
    assert ours.total == pytest.approx(theirs["poa_global"], rel=5e-5, abs=1e-6)
    assert ours.beam == pytest.approx(theirs["poa_direct"], abs=1e-9)
    assert ours.sky == pytest.approx(theirs["poa_sky_diffuse"], rel=5e-5, abs=1e-6)
    assert ours.ground == pytest.approx(theirs["poa_ground_diffuse"], abs=1e-9)


@pytest.mark.evidence("published", "solar_radiation.read_weather")
@pytest.mark.parametrize("name", YEARS)
def test_a_shipped_year_reads_the_same(name):
    ours = solar_radiation.read_weather(DATA / name)
    theirs, place = pvlib.iotools.read_tmy3(DATA / name)
    assert (ours.latitude, ours.longitude) == (place["latitude"], place["longitude"])
    assert ours.air.tolist() == theirs["temp_air"].tolist()
    assert ours.direct.tolist() == theirs["dni"].tolist()
    assert ours.diffuse.tolist() == theirs["dhi"].tolist()
    assert ours.horizontal.tolist() == theirs["ghi"].tolist()
    ends = theirs.index.tz_convert("UTC").tz_localize(None).to_numpy().astype("datetime64[s]")
    # one hour may differ: at 24:00 on 28 February of a leap year they go on to 1 March, we to the 29th
    assert np.count_nonzero(ours.utc + np.timedelta64(1800, "s") != ends) <= 1


@pytest.mark.evidence("published", "solar_radiation.weather_on_slope")
@pytest.mark.parametrize("name", YEARS)
def test_a_shipped_year_on_a_roof(name):
    year = solar_radiation.read_weather(DATA / name)
    ours = solar_radiation.weather_on_slope(year, slope=40, facing=200)
    times = pd.DatetimeIndex(year.utc, tz="UTC")
    spa = pvlib.solarposition.spa_python(times, year.latitude, year.longitude)
    outside = pvlib.irradiance.get_extra_radiation(times, solar_constant=1361.0, method="nrel")
    theirs = pvlib.irradiance.get_total_irradiance(
        40, 200, spa["zenith"], spa["azimuth"], year.direct, year.horizontal, year.diffuse,
        dni_extra=outside, albedo=0.2, model="reindl",
    )  # fmt: skip
    risen = spa["elevation"].to_numpy() > 0.02
    assert ours.total[risen] == pytest.approx(theirs["poa_global"].to_numpy()[risen], abs=0.25)
    # hours in whose middle the sun is down carry a thousandth of the year
    assert ours.total.sum() == pytest.approx(theirs["poa_global"].sum(), rel=2e-3)


@pytest.mark.evidence("published", "solar_radiation.incidence_modifier")
@pytest.mark.parametrize("b0", [0.0, 0.05, 0.1, 0.2])
def test_incidence_modifier(b0):
    angles = np.linspace(0, 79.9, 50)
    assert solar_radiation.incidence_modifier(angles, b0) == pytest.approx(pvlib.iam.ashrae(angles, b0), abs=1e-12)


@pytest.mark.evidence("published", "solar_radiation.cell_temperature", "solar_radiation.pv_power")
@pytest.mark.parametrize("irradiance", [0.0, 150.0, 800.0, 1100.0])
@pytest.mark.parametrize("air", [-10.0, 20.0, 38.0])
def test_cell_temperature_and_power(irradiance, air):
    cell = solar_radiation.cell_temperature(irradiance, air, nominal=47.0)
    assert cell == pytest.approx(pvlib.temperature.ross(irradiance, air, noct=47.0), abs=1e-12)
    ours = solar_radiation.pv_power(irradiance, cell, peak=4000.0, coefficient=-0.0035, inverter=1.0)
    assert ours == pytest.approx(pvlib.pvsystem.pvwatts_dc(irradiance, cell, 4000.0, -0.0035), rel=1e-12)


@pytest.mark.evidence("published", "solar_radiation.invented_year")
def test_the_sky_of_the_invented_year_is_no_brighter_than_a_clear_one():
    year = solar_radiation.invented_year()
    times = pd.DatetimeIndex(year.utc, tz="UTC")
    spa = pvlib.solarposition.spa_python(times, year.latitude, year.longitude)
    clear = pvlib.clearsky.haurwitz(spa["zenith"])["ghi"].to_numpy()
    assert np.all(year.horizontal <= 1.12 * clear + 2.0), "12 % over the clear sky is the brightest month's scale"
    assert year.horizontal.sum() < 0.8 * clear.sum()
