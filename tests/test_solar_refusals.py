"""The sun, slopes, collectors and PV refuse what cannot be, with a sentence; what can be may be arrays."""

import numpy as np
import pytest

from tlib import solar_radiation as sr
from tlib.validation import OutOfRange

FLAT_PLATE = {"eta0": 0.78, "a1": 3.9, "a2": 0.015}

USUAL = {
    "sun_position": {"time": "2026-06-21T12:00", "latitude": 51.5, "longitude": 0.0},
    "extraterrestrial_irradiance": {"time": "2026-06-21T12:00"},
    "declination": {"day": 44},
    "sun_angles": {"latitude": 43, "declination": -14, "hour_angle": -22.5},
    "apparent_elevation": {"elevation": 5, "pressure": 1e5, "temperature": 12},
    "incidence_angle": {"elevation": 40, "azimuth": 180, "slope": 35, "facing": 180},
    "isotropic_irradiance": {
        "direct": 700, "diffuse": 120, "horizontal": 500, "incidence": 5, "slope": 35, "albedo": 0.2,
    },
    "reindl_irradiance": {
        "direct": 700, "diffuse": 120, "horizontal": 500, "incidence": 5, "slope": 35, "elevation": 40,
        "extraterrestrial": 1361, "albedo": 0.2,
    },
    "collector_gain": {"irradiance": 700, "excess": 30} | FLAT_PLATE,
    "collector_efficiency": {"irradiance": 700, "excess": 30} | FLAT_PLATE,
    "critical_irradiance": {"excess": 30} | FLAT_PLATE,
    "stagnation_excess": {"irradiance": 700} | FLAT_PLATE,
    "incidence_modifier": {"incidence": 40, "b0": 0.2},
    "cell_temperature": {"irradiance": 700, "air": 20, "nominal": 45},
    "pv_power": {"irradiance": 700, "cell": 40, "peak": 4000, "coefficient": -0.004, "inverter": 0.96},
    "pv_surplus": {"generation": 2000, "load": 500, "margin": 0},
    "bought_power": {"generation": 2000, "load": 500},
}  # fmt: skip

REFUSED = [
    ("sun_position", {"time": "noon"}, "time must be a date and time in UTC such as 2026-06-21T12:00; got 'noon'"),
    ("sun_position", {"time": "NaT"}, "time must be a date from 1900 to 2099; got NaT"),
    ("sun_position", {"time": ["2026-01-01", "1789-07-14"]}, "time must be a date from 1900 to 2099; got 1789-07-14"),
    ("sun_position", {"latitude": 91}, "latitude must be 90 degree or less; got 91"),
    ("sun_position", {"longitude": -181}, "longitude must be -180 degree or more; got -181"),
    ("sun_position", {"time": 12.5}, "time must be a date and time in UTC"),
    ("extraterrestrial_irradiance", {"time": "2100-01-01"}, "time must be a date from 1900 to 2099; got 2100-01-01"),
    ("extraterrestrial_irradiance", {"time": "soon"}, "time must be a date and time in UTC"),
    ("declination", {"day": 0}, "day must be 1 or more; got 0"),
    ("declination", {"day": 367}, "day must be 366 or less; got 367"),
    ("sun_angles", {"latitude": -91}, "latitude must be -90 degree or more; got -91"),
    ("sun_angles", {"declination": 24}, "declination must be 23.5 degree or less; got 24"),
    ("apparent_elevation", {"elevation": 91}, "elevation must be 90 degree or less; got 91"),
    ("apparent_elevation", {"pressure": -1}, "pressure must be 0 Pa or more; got -1"),
    ("apparent_elevation", {"temperature": -90}, "temperature must be above -90 °C; got -90"),
    ("incidence_angle", {"elevation": -91}, "elevation must be -90 degree or more; got -91"),
    ("incidence_angle", {"slope": 181}, "slope must be 180 degree or less; got 181"),
    ("isotropic_irradiance", {"direct": -1}, "direct irradiance must be 0 W/m2 or more; got -1"),
    ("isotropic_irradiance", {"diffuse": -1}, "diffuse irradiance must be 0 W/m2 or more; got -1"),
    ("isotropic_irradiance", {"horizontal": -1}, "horizontal irradiance must be 0 W/m2 or more; got -1"),
    ("isotropic_irradiance", {"incidence": 181}, "incidence must be 180 degree or less; got 181"),
    ("isotropic_irradiance", {"slope": -1}, "slope must be 0 degree or more; got -1"),
    ("isotropic_irradiance", {"albedo": 1.1}, "albedo must be 1 or less; got 1.1"),
    ("reindl_irradiance", {"direct": 1400}, "direct over extraterrestrial irradiance must be 1 or less; got 1.02"),
    ("reindl_irradiance", {"extraterrestrial": 0}, "extraterrestrial irradiance must be above 0 W/m2; got 0"),
    ("reindl_irradiance", {"elevation": 91}, "elevation must be 90 degree or less; got 91"),
    ("collector_gain", {"irradiance": -1}, "irradiance must be 0 W/m2 or more; got -1"),
    ("collector_gain", {"eta0": 0}, "eta0 must be above 0"),
    ("collector_gain", {"a2": -0.01}, r"a2 must be 0 W/\(m2 K2\) or more; got -0.01"),
    ("collector_efficiency", {"irradiance": -1}, "irradiance must be 0 W/m2 or more; got -1"),
    ("collector_efficiency", {"a1": -1}, r"a1 must be 0 W/\(m2 K\) or more; got -1"),
    ("critical_irradiance", {"eta0": 1.2}, "eta0 must be 1 or less; got 1.2"),
    ("stagnation_excess", {"a1": 0}, r"a1 must be above 0 W/\(m2 K\); got 0"),
    ("stagnation_excess", {"irradiance": -1}, "irradiance must be 0 W/m2 or more; got -1"),
    ("incidence_modifier", {"incidence": -1}, "incidence must be 0 degree or more; got -1"),
    ("incidence_modifier", {"b0": 0.3}, "b0 must be 0.21 or less; got 0.3"),
    ("cell_temperature", {"irradiance": -1}, "irradiance must be 0 W/m2 or more; got -1"),
    ("cell_temperature", {"air": 61}, "air temperature must be 60 °C or less; got 61"),
    ("cell_temperature", {"nominal": 19}, "nominal cell temperature must be 20 °C or more; got 19"),
    ("pv_power", {"peak": -1}, "peak power must be 0 W or more; got -1"),
    ("pv_power", {"cell": 121}, "cell temperature must be 120 °C or less; got 121"),
    ("pv_power", {"coefficient": 0.004}, "temperature coefficient must be 0 1/K or less; got 0.004"),
    ("pv_power", {"inverter": 0}, "inverter efficiency must be above 0"),
    ("pv_surplus", {"generation": -1}, "generation must be 0 W or more; got -1"),
    ("pv_surplus", {"margin": -1}, "margin must be 0 W or more; got -1"),
    ("bought_power", {"load": -1}, "load must be 0 W or more; got -1"),
]  # fmt: skip


@pytest.mark.evidence(
    "error",
    "solar_radiation.sun_position",
    "solar_radiation.extraterrestrial_irradiance",
    "solar_radiation.declination",
    "solar_radiation.sun_angles",
    "solar_radiation.apparent_elevation",
    "solar_radiation.incidence_angle",
    "solar_radiation.isotropic_irradiance",
    "solar_radiation.reindl_irradiance",
    "solar_radiation.collector_gain",
    "solar_radiation.collector_efficiency",
    "solar_radiation.critical_irradiance",
    "solar_radiation.stagnation_excess",
    "solar_radiation.incidence_modifier",
    "solar_radiation.cell_temperature",
    "solar_radiation.pv_power",
    "solar_radiation.pv_surplus",
    "solar_radiation.bought_power",
)
@pytest.mark.parametrize(("name", "change", "says"), REFUSED)
def test_out_of_range_is_refused_with_a_sentence(name, change, says):
    with pytest.raises(OutOfRange, match=says):
        getattr(sr, name)(**USUAL[name] | change)


INPUTS = [(name, key) for name, usual in USUAL.items() for key in usual if key != "time"]


@pytest.mark.parametrize(("name", "key"), INPUTS)
def test_what_is_no_finite_number_is_refused(name, key):
    for wrong, said in ((np.nan, "nan"), (np.inf, "inf"), (-np.inf, "-inf")):
        with pytest.raises(OutOfRange, match=f"must be a finite number; got {said}"):
            getattr(sr, name)(**USUAL[name] | {key: wrong})
    with pytest.raises(OutOfRange, match="must be a number"):
        getattr(sr, name)(**USUAL[name] | {key: "much"})


@pytest.mark.parametrize("name", [name for name in USUAL if len(USUAL[name]) > 1])
def test_shapes_that_do_not_go_together_are_refused(name):
    first, second = list(USUAL[name])[-2:]
    wrong = {first: np.full(2, USUAL[name][first]), second: np.full(3, USUAL[name][second])}
    with pytest.raises(ValueError, match=r"broadcast|shape mismatch"):
        getattr(sr, name)(**USUAL[name] | wrong)


@pytest.mark.parametrize("name", USUAL)
def test_arrays_broadcast_and_scalars_stay_scalars(name):
    call, usual = getattr(sr, name), USUAL[name]
    alone = np.atleast_1d(call(**usual)) if not isinstance(call(**usual), tuple) else call(**usual)
    for part in alone:
        assert np.ndim(part) == 0
    column, row, *_ = [*usual, None]
    change = {column: np.array([usual[column]] * 2)[:, np.newaxis]}
    if row:
        change |= {row: np.array([usual[row]] * 3)}
    many = call(**usual | change)
    for part, one in zip(many if isinstance(many, tuple) else [many], alone, strict=True):
        assert np.shape(part) == ((2, 3) if row else (2, 1))
        assert part == pytest.approx(np.full(np.shape(part), one))


def test_every_function_with_numbers_is_in_the_refusals():
    functions = {name for name in sr.__all__ if not isinstance(getattr(sr, name), type)}
    assert functions - set(USUAL) == {"bare_collector_gain", "read_weather", "invented_year", "weather_on_slope"}
