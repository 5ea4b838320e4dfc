"""The sun, slopes, collectors, PV and weather files: limits, conservation and symmetry, errors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib import solar_radiation as sr

EXCUSED = [
    ("error", "solar_radiation.bare_collector_gain", "a kernel of the engine checks nothing; collector_gain does"),
    ("error", "solar_radiation.invented_year", "it takes no input that could be wrong"),
    ("published", "solar_radiation.pv_surplus", "a difference of two powers, which no source prints"),
    ("published", "solar_radiation.bought_power", "a difference of two powers, which no source prints"),
]

latitudes = st.floats(-89, 89)
angles = st.floats(-90, 90)
light = st.floats(0, 1200)
reports = st.tuples(st.floats(0.3, 1.0), st.floats(0.5, 8.0), st.floats(0.0, 0.05))
FLAT_PLATE = {"eta0": 0.78, "a1": 3.9, "a2": 0.015}

# --- the sun ---


@pytest.mark.evidence("limit", "solar_radiation.sun_position", "solar_radiation.sun_angles")
def test_the_sun_at_the_pole_stands_as_high_as_its_declination():
    sun = sr.sun_angles(90.0, 23.4, np.arange(-180.0, 180.0, 30.0))
    assert sun.elevation == pytest.approx(23.4, abs=1e-12)
    assert sr.sun_position("2026-06-21T12:00", 90, 0).elevation == pytest.approx(23.44, abs=0.02)
    assert sr.sun_position("2026-12-21T12:00", 90, 0).elevation == pytest.approx(-23.44, abs=0.02)


@pytest.mark.evidence("limit", "solar_radiation.sun_position")
def test_the_sun_at_the_equinox_rises_in_the_east_and_sets_in_the_west():
    hours = np.arange("2026-03-20T00", "2026-03-21T00", dtype="datetime64[m]")
    sun = sr.sun_position(hours, 51.5, 0.0)
    rising = np.flatnonzero(np.diff(np.sign(sun.elevation)))
    assert sun.azimuth[rising] == pytest.approx([90, 270], abs=1.0)
    assert sun.elevation.max() == pytest.approx(90 - 51.5, abs=0.4)


@pytest.mark.evidence("conservation", "solar_radiation.sun_angles")
@given(latitudes, st.floats(-23.4, 23.4), st.floats(0, 180))
def test_the_afternoon_mirrors_the_forenoon(latitude, declined, hour_angle):
    before, after = (sr.sun_angles(latitude, declined, sign * hour_angle) for sign in (-1, 1))
    assert after.elevation == pytest.approx(before.elevation, abs=1e-9)
    assert (after.azimuth + before.azimuth) % 360 == pytest.approx(0, abs=1e-6) or (
        after.azimuth + before.azimuth
    ) % 360 == pytest.approx(360, abs=1e-6)
    south = sr.sun_angles(-latitude, -declined, hour_angle)
    assert south.elevation == pytest.approx(after.elevation, abs=1e-9), "the other half of the Earth, half a year on"


@pytest.mark.evidence("conservation", "solar_radiation.sun_position")
@given(st.integers(-15_000, 15_000), latitudes, st.floats(-170, 170))
def test_a_step_east_is_four_minutes_for_each_degree(day, latitude, longitude):
    noon = np.datetime64("2010-06-01T12:00:00") + np.timedelta64(day, "D")
    here = sr.sun_position(noon, latitude, longitude)
    east = sr.sun_position(noon - np.timedelta64(4 * 60, "s"), latitude, longitude + 1)
    assert east.elevation == pytest.approx(here.elevation, abs=0.005), "but for what the sun itself moves meanwhile"


@pytest.mark.evidence("limit", "solar_radiation.extraterrestrial_irradiance")
def test_the_sun_is_strongest_in_january_by_the_shape_of_the_path():
    year = np.arange("2026-01-01", "2027-01-01", dtype="datetime64[h]")
    outside = sr.extraterrestrial_irradiance(year)
    assert outside.max() / outside.min() == pytest.approx(((1 + 0.01671) / (1 - 0.01671)) ** 2, rel=1e-3)
    assert year[outside.argmax()].astype("datetime64[M]") == np.datetime64("2026-01")
    assert year[outside.argmin()].astype("datetime64[M]") == np.datetime64("2026-07")


@pytest.mark.evidence("conservation", "solar_radiation.extraterrestrial_irradiance")
def test_a_year_of_sun_is_that_of_the_mean_distance():
    year = np.arange("2026-01-01", "2027-01-01", dtype="datetime64[h]")
    assert sr.extraterrestrial_irradiance(year).mean() == pytest.approx(1361 / np.sqrt(1 - 0.01671**2), rel=1e-4)


@pytest.mark.evidence("limit", "solar_radiation.declination")
def test_declination_at_the_solstices_and_near_the_equinoxes():
    assert sr.declination([172, 355]) == pytest.approx([23.45, -23.45], abs=0.01)
    assert sr.declination([81, 264]) == pytest.approx([0, 0], abs=0.25)


@pytest.mark.evidence("conservation", "solar_radiation.declination")
def test_declination_is_level_over_the_year_and_near_the_true_sun():
    days = np.arange(1, 366)
    assert sr.declination(days).sum() == pytest.approx(0, abs=1e-9)
    noons = np.datetime64("2026-01-01T12:00") + (days - 1).astype("timedelta64[D]")
    assert sr.declination(days) == pytest.approx(sr.sun_position(noons, 90, 0).elevation, abs=1.7)


@pytest.mark.evidence("limit", "solar_radiation.apparent_elevation")
def test_air_bends_light_half_a_degree_at_the_horizon_and_not_overhead():
    assert sr.apparent_elevation(0.0) == pytest.approx(0.48, abs=0.01)
    assert sr.apparent_elevation(90.0) == pytest.approx(90.0, abs=1e-3)
    assert sr.apparent_elevation(-1.0) == -1.0
    assert sr.apparent_elevation(10.0, pressure=0.0) == 10.0, "no air, no bending"


@pytest.mark.evidence("conservation", "solar_radiation.apparent_elevation")
@given(st.floats(-0.8, 89), st.floats(0.001, 1))
def test_what_stands_higher_is_seen_higher(elevation, more):
    assert sr.apparent_elevation(min(elevation + more, 90)) > sr.apparent_elevation(elevation) >= elevation - 2e-3


# --- slopes ---


@pytest.mark.evidence("limit", "solar_radiation.incidence_angle")
def test_incidence_on_the_level_on_a_wall_and_square_on():
    assert sr.incidence_angle(30, 123, slope=0, facing=77) == pytest.approx(60, abs=1e-9)
    assert sr.incidence_angle(0, 200, slope=90, facing=170) == pytest.approx(30, abs=1e-9)
    assert sr.incidence_angle(55, 190, slope=35, facing=190) == pytest.approx(0, abs=1e-9)
    assert sr.incidence_angle(-90, 0, slope=0, facing=0) == pytest.approx(180, abs=1e-9)


@pytest.mark.evidence("conservation", "solar_radiation.incidence_angle")
@given(angles, st.floats(0, 360), st.floats(0, 180), st.floats(0, 360), st.floats(-180, 180))
def test_incidence_turns_with_the_compass_and_backs_onto_the_other_side(elevation, azimuth, slope, facing, turn):
    here = sr.incidence_angle(elevation, azimuth, slope, facing)
    assert sr.incidence_angle(elevation, azimuth + turn, slope, facing + turn) == pytest.approx(here, abs=1e-6)
    assert sr.incidence_angle(elevation, azimuth, 180 - slope, facing + 180) == pytest.approx(180 - here, abs=1e-6)


@pytest.mark.evidence("limit", "solar_radiation.isotropic_irradiance", "solar_radiation.reindl_irradiance")
def test_a_level_surface_gets_sun_and_sky_and_a_ceiling_the_ground():
    for model, more in ((sr.isotropic_irradiance, ()), (sr.reindl_irradiance, (40.0, 1380.0))):
        level = model(600.0, 150.0, 535.7, 50.0, 0.0, *more)
        assert level.ground == 0.0
        assert level.total == pytest.approx(600 * np.cos(np.radians(50)) + 150, rel=1e-6)
        ceiling = model(600.0, 150.0, 535.7, 130.0, 180.0, *more, albedo=1.0)
        assert ceiling.beam == 0.0
        assert ceiling.ground == 535.7
        assert ceiling.sky == pytest.approx(0.0, abs=1e-12)
        assert model(0.0, 0.0, 0.0, 90.0, 35.0, *more).total == 0.0


@pytest.mark.evidence("limit", "solar_radiation.reindl_irradiance")
@given(light, st.floats(0, 180), st.floats(0, 180), st.floats(1, 90))
def test_under_an_overcast_sky_both_models_agree(diffuse, incidence, slope, elevation):
    even = sr.isotropic_irradiance(0.0, diffuse, diffuse, incidence, slope)
    assert sr.reindl_irradiance(0.0, diffuse, diffuse, incidence, slope, elevation, 1361) == pytest.approx(even)


@pytest.mark.evidence("conservation", "solar_radiation.isotropic_irradiance", "solar_radiation.reindl_irradiance")
@given(light, light, st.floats(0, 180), st.floats(0, 180), st.floats(1, 90))
def test_the_parts_make_the_whole_and_twice_the_light_is_twice_the_light(direct, diffuse, incidence, slope, elevation):
    horizontal = diffuse + direct * np.sin(np.radians(elevation))
    for model, more in ((sr.isotropic_irradiance, ()), (sr.reindl_irradiance, (elevation, 1361.0))):
        one = model(direct, diffuse, horizontal, incidence, slope, *more)
        assert one.total == pytest.approx(one.beam + one.sky + one.ground, rel=1e-12)
        doubled = (elevation, 2722.0) if more else ()
        two = model(2 * direct, 2 * diffuse, 2 * horizontal, incidence, slope, *doubled)
        assert two.total == pytest.approx(2 * one.total, rel=1e-9)


@pytest.mark.evidence("conservation", "solar_radiation.isotropic_irradiance")
@given(light, st.floats(0, 90))
def test_a_slope_and_its_back_share_an_even_sky(diffuse, slope):
    front, back = (sr.isotropic_irradiance(0.0, diffuse, diffuse, 90.0, s, albedo=1.0) for s in (slope, 180 - slope))
    assert front.sky + back.sky == pytest.approx(diffuse)
    assert front.total == pytest.approx(diffuse), "a white ground is as bright as the sky"


# --- collectors ---


@pytest.mark.evidence("limit", "solar_radiation.collector_efficiency", "solar_radiation.collector_gain")
def test_without_excess_a_collector_has_its_own_efficiency_and_without_light_none():
    assert sr.collector_efficiency(700, 0, **FLAT_PLATE) == 0.78
    assert np.isnan(sr.collector_efficiency(0, 10, **FLAT_PLATE))
    assert sr.collector_gain(0, 10, **FLAT_PLATE) == pytest.approx(-(39 + 1.5))


def test_worked_sums_of_the_solar_book():
    """4 m2 at 700 W/m2 and 27 K; 500 W/m2 and 50 K; 600 W/m2 at 15 and 50 K above the air."""
    assert sr.collector_efficiency([700, 500], [27, 50], **FLAT_PLATE) == pytest.approx([0.614, 0.315], abs=5e-4)
    assert 4 * sr.collector_gain(700, 27, **FLAT_PLATE) == pytest.approx(1719, abs=0.5)
    assert sr.critical_irradiance(50, **FLAT_PLATE) == pytest.approx(298, abs=0.5)
    assert sr.collector_efficiency(600, [15, 50], 0.78, 3.9, 0.0) == pytest.approx([0.68, 0.46], abs=0.0051)


@pytest.mark.evidence(
    "limit",
    "solar_radiation.bare_collector_gain",
    "solar_radiation.critical_irradiance",
    "solar_radiation.stagnation_excess",
)
@given(st.floats(1, 1200), reports)
def test_at_stagnation_and_at_critical_light_nothing_is_gained(irradiance, report):
    excess = sr.stagnation_excess(irradiance, *report)
    assert sr.bare_collector_gain(irradiance, excess, *report) == pytest.approx(0.0, abs=1e-9 * irradiance)
    assert sr.critical_irradiance(excess, *report) == pytest.approx(irradiance, rel=1e-9)
    assert sr.stagnation_excess(0.0, *report) == 0.0
    assert sr.critical_irradiance(0.0, *report) == 0.0


@pytest.mark.evidence("limit", "solar_radiation.stagnation_excess")
def test_stagnation_of_a_flat_plate():
    """147.88 K for 0.78, 3.5, 0.012 at 1000 W/m2; with a2 gone, eta0 G / a1."""
    assert sr.stagnation_excess(1000, 0.78, 3.5, 0.012) == pytest.approx(147.88, abs=0.005)
    assert sr.stagnation_excess(1000, 0.78, 3.5, 0.0) == pytest.approx(780 / 3.5)


@pytest.mark.evidence(
    "conservation",
    "solar_radiation.bare_collector_gain",
    "solar_radiation.collector_gain",
    "solar_radiation.collector_efficiency",
    "solar_radiation.critical_irradiance",
    "solar_radiation.stagnation_excess",
)
@given(st.floats(1, 1200), st.floats(-40, 120), st.floats(0.1, 10), reports)
def test_what_is_absorbed_is_gained_or_lost(irradiance, excess, warmer, report):
    gain = sr.collector_gain(irradiance, excess, *report)
    lost = -sr.bare_collector_gain(0.0, excess, *report)
    assert gain + lost == pytest.approx(report[0] * irradiance, abs=1e-9)
    assert sr.collector_efficiency(irradiance, excess, *report) * irradiance == pytest.approx(gain, abs=1e-9)
    assert -sr.bare_collector_gain(0.0, -excess, *report) == pytest.approx(-lost, abs=1e-9)
    assert sr.collector_gain(irradiance, excess + warmer, *report) < gain
    assert sr.critical_irradiance(excess + warmer, *report) > sr.critical_irradiance(excess, *report)
    assert sr.stagnation_excess(irradiance + warmer, *report) > sr.stagnation_excess(irradiance, *report)


@pytest.mark.evidence("limit", "solar_radiation.incidence_modifier")
def test_glass_lets_straight_light_through_and_grazing_light_not():
    assert sr.incidence_modifier(0.0) == 1.0
    assert sr.incidence_modifier([80.01, 90.0, 120.0, 180.0]).tolist() == [0.0] * 4
    assert sr.incidence_modifier([10.0, 60.0, 79.0], b0=0.0).tolist() == [1.0] * 3


@pytest.mark.evidence("conservation", "solar_radiation.incidence_modifier")
@given(st.floats(0, 180), st.floats(0, 20), st.floats(0, 0.21))
def test_the_more_aslant_the_less_comes_through_and_never_more_than_all(incidence, more, b0):
    steeper, flatter = sr.incidence_modifier([incidence, min(incidence + more, 180.0)], b0)
    assert 0.0 <= flatter <= steeper <= 1.0


# --- PV ---


@pytest.mark.evidence("limit", "solar_radiation.pv_power", "solar_radiation.cell_temperature")
def test_a_module_at_its_rating_and_in_the_dark():
    assert sr.pv_power(1000, 25, 4000, inverter=1.0) == 4000.0
    assert sr.pv_power(0, 25, 4000) == 0.0
    assert sr.cell_temperature(800, 20) == pytest.approx(45.0)
    assert sr.cell_temperature(0, -5) == -5.0


@pytest.mark.evidence("conservation", "solar_radiation.pv_power", "solar_radiation.cell_temperature")
@given(light, st.floats(-20, 40), st.floats(0, 8000), st.floats(0, 8000))
def test_two_arrays_make_what_one_of_both_makes(irradiance, air, one, other):
    cell = sr.cell_temperature(irradiance, air)
    both = sr.pv_power(irradiance, cell, one + other)
    assert both == pytest.approx(sr.pv_power(irradiance, cell, one) + sr.pv_power(irradiance, cell, other))
    assert sr.pv_power(irradiance, cell + 10, one) <= sr.pv_power(irradiance, cell, one)
    assert sr.cell_temperature(irradiance, air) - air == pytest.approx(sr.cell_temperature(irradiance, 0), abs=1e-9)


@pytest.mark.evidence("limit", "solar_radiation.pv_surplus", "solar_radiation.bought_power")
def test_surplus_of_a_dull_hour_is_none_and_a_3_kw_element_on_1800_w_buys_the_rest():
    assert sr.pv_surplus(300, 400) == 0.0
    assert sr.pv_surplus(2200, 400, margin=100) == 1700.0
    assert sr.bought_power(2200, 400) == 0.0
    # 4 hours: 7.2 kWh of surplus, 12 kWh taken, 4.8 kWh bought
    assert 4 * sr.bought_power(2200, 400 + 3000) == pytest.approx(4800)


@pytest.mark.evidence("conservation", "solar_radiation.pv_surplus", "solar_radiation.bought_power")
@given(st.floats(0, 6000), st.floats(0, 6000))
def test_made_and_bought_is_used_and_left_over(generation, load):
    surplus, bought = sr.pv_surplus(generation, load), sr.bought_power(generation, load)
    assert generation + bought == pytest.approx(load + surplus, abs=1e-9)
    assert surplus * bought == 0.0
