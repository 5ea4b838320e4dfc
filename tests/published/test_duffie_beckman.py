"""[Duffie 2013], worked examples of chapters 1 and 2, read as restated in public projects' checks.

They take azimuth from south, west above 0; ours runs clockwise from north.
"""

import pytest

from tlib import solar_radiation

# Example 1.6.2: latitude 43; sun time and date, declination, hour angle / zenith, azimuth from south (degree)
EXAMPLE_1_6_2 = [("9:30, 13 February", -14.0, -37.5, 66.5, -40.0), ("18:30, 1 July", 23.1, 97.5, 79.6, 112.0)]

# Examples 1.8.1 to 1.8.3: latitude, declination, hour angle, slope, facing from south / beam on slope over level
BEAM_RATIOS = [(43, -13.95, -22.5, 45, 15, 1.66), (40, -12.95, -37.5, 30, 0, 1.61), (40, -12.95, -37.5, 50, 0, 1.79)]


@pytest.mark.evidence("published", "solar_radiation.declination")
@pytest.mark.parametrize(
    ("day", "printed", "places"), [(44, -14.0, 0.06), (44, -13.95, 0.005), (246, 7.0, 0.5), (162, 23.0, 0.1)]
)
def test_declination(day, printed, places):
    """Examples 1.6.1 (13 February), 2.11.1 (3 September) and 2.12.1 (11 June)."""
    assert solar_radiation.declination(day) == pytest.approx(printed, abs=places)


@pytest.mark.evidence("published", "solar_radiation.sun_angles")
@pytest.mark.parametrize(("when", "declination", "hour_angle", "zenith", "azimuth"), EXAMPLE_1_6_2)
def test_zenith_and_azimuth(when, declination, hour_angle, zenith, azimuth):
    sun = solar_radiation.sun_angles(43.0, declination, hour_angle)
    assert 90 - sun.elevation == pytest.approx(zenith, abs=0.06)
    assert sun.azimuth - 180 == pytest.approx(azimuth, abs=0.09)


@pytest.mark.evidence("published", "solar_radiation.incidence_angle")
def test_incidence_in_the_forenoon():
    """Example 1.6.1: 43 N, 10:30 sun time on 13 February, slope 45, 15 degrees west of south: 35 degrees."""
    sun = solar_radiation.sun_angles(43.0, -14.0, -22.5)
    incidence = solar_radiation.incidence_angle(sun.elevation, sun.azimuth, 45.0, 195.0)
    assert incidence == pytest.approx(35.0, abs=0.25)
    exact = solar_radiation.sun_angles(43.0, solar_radiation.declination(44), -22.5)
    incidence = solar_radiation.incidence_angle(exact.elevation, exact.azimuth, 45.0, 195.0)
    assert incidence == pytest.approx(35.16, abs=0.005)


@pytest.mark.evidence("published", "solar_radiation.isotropic_irradiance")
@pytest.mark.parametrize(("latitude", "declination", "hour_angle", "slope", "facing", "ratio"), BEAM_RATIOS)
def test_beam_on_a_slope_over_beam_on_the_level(latitude, declination, hour_angle, slope, facing, ratio):
    sun = solar_radiation.sun_angles(latitude, declination, hour_angle)

    def beam(tilt):
        incidence = solar_radiation.incidence_angle(sun.elevation, sun.azimuth, tilt, 180 + facing)
        return solar_radiation.isotropic_irradiance(800.0, 0.0, 0.0, incidence, tilt).beam

    assert beam(slope) / beam(0.0) == pytest.approx(ratio, abs=0.006)
