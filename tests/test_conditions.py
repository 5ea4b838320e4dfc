"""What may happen in a run: conditions checked in words, weather and clocks laid out step by step, files read."""

import dataclasses
import math

import numpy as np
import pytest

from tlib import installation, tables
from tlib.documents import UnreadableDocument
from tlib.simulation import Air, Conditions, Day, Firing, Heating, Hours, load_conditions, simulate
from tlib.simulation.moments import moments_of, outside_of
from tlib.solar_radiation import invented_year, weather_on_slope
from tlib.validation import OutOfRange

HOUR, DAY = 3600.0, 86_400.0
SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK = (installation.load(SITES / f"{name}.toml") for name in ("larkrigg", "quillbeck"))


def moments(conditions, site=LARKRIGG, first=0, count=1440, step=60.0):
    return moments_of(conditions, outside_of(site, conditions), first, count, step)


# ---- weather and clocks, step by step ------------------------------------------------------------------------


def test_a_constant_outside_has_no_sun():
    quiet = moments(Conditions(weather=-3.0))
    assert np.all(quiet.air == -3.0)
    assert not np.any(quiet.sun)


def test_a_day_is_coldest_at_three_and_warmest_at_fifteen():
    day = moments(Conditions(begins=0.0, weather=Day(2.0, 12.0, 800.0)))
    hours = (np.arange(1440) + 0.5) / 60
    assert hours[np.argmin(day.air)] == pytest.approx(3.0, abs=0.2)
    assert hours[np.argmax(day.air)] == pytest.approx(15.0, abs=0.2)
    assert day.air.min() == pytest.approx(2.0, abs=0.01)
    assert day.air.max() == pytest.approx(12.0, abs=0.01)


def test_the_sun_of_a_day_is_a_half_sine():
    """Mean of a half sine over its span: 2 / pi of its height; here twelve hours of 800 W/m2."""
    day = moments(Conditions(begins=0.0, weather=Day(2.0, 12.0, 800.0)))
    assert day.sun.sum() * 60 / 3600 == pytest.approx(800 * 12 * 2 / math.pi, rel=2e-3)
    assert not np.any(day.sun[: 6 * 60 - 1])
    assert not np.any(day.sun[18 * 60 + 1 :])


def test_a_run_that_begins_in_the_afternoon_meets_the_afternoon():
    late = moments(Conditions(begins=15 * HOUR, weather=Day(0.0, 10.0)))
    assert late.air[0] == pytest.approx(10.0, abs=0.01)


def test_a_year_is_met_on_its_own_days():
    year = invented_year()
    summer = moments(Conditions(begins=0.0, day=180, weather=year))
    noon = 180 * 24 + 12
    assert summer.air[12 * 60] == pytest.approx(0.5 * (year.air[noon - 1] + year.air[noon]), abs=0.1)


def test_light_on_the_collector_is_what_falls_on_its_slope_less_the_slant():
    year = invented_year()
    falls = weather_on_slope(year, LARKRIGG.solar.slope, LARKRIGG.solar.azimuth).total
    taken = outside_of(LARKRIGG, Conditions(weather=year)).sun[1:-1]  # it reaches over both ends
    assert np.all(taken <= falls + 1e-9)
    assert 0.85 < taken.sum() / falls.sum() < 0.98  # a twentieth to a tenth of a year's light comes in aslant


def test_surplus_is_what_the_modules_make_less_the_house():
    night = moments(Conditions(begins=0.0, weather=Day(5.0, 5.0, 900.0)), QUILLBECK)
    assert night.surplus[0] == pytest.approx(-QUILLBECK.pv.house)
    assert night.surplus[720] > 4000.0


def test_stretches_laid_end_to_end_are_the_whole():
    conditions = Conditions(
        begins=7 * HOUR, duration=2 * DAY, weather=Day(1.0, 8.0, 500.0), air=[(3 * HOUR, 0.5), (30 * HOUR, 1.1)],
        programme=[Heating(HOUR, 40 * HOUR, 3000.0)], boiler=[Hours(20 * HOUR, 26 * HOUR)],
    )  # fmt: skip
    whole = moments(conditions, count=2880)
    parts = np.concatenate([moments(conditions, first=0, count=1000), moments(conditions, first=1000, count=1880)])
    for name in whole.dtype.names:
        assert whole[name] == pytest.approx(parts[name], rel=1e-12, abs=1e-9), name


def test_overlapping_heating_hours_ask_for_the_larger():
    asked = moments(Conditions(programme=[Heating(0.0, 2 * HOUR, 1000.0), Heating(HOUR, 3 * HOUR, 4000.0)]))
    assert [asked.power[k] for k in (30, 90, 150, 210)] == [1000.0, 4000.0, 4000.0, 0.0]
    assert [asked.heating[k] for k in (30, 150, 210)] == [1, 1, 0]


def test_a_step_belongs_to_the_hours_that_hold_its_middle():
    asked = moments(Conditions(programme=[Heating(90.0, 209.0, 1000.0)]))
    assert asked.heating[:5].tolist() == [0, 1, 1, 0, 0]


# ---- refusals ------------------------------------------------------------------------------------------------


def with_gap():
    year = invented_year()
    air = year.air.copy()
    air[41] = np.nan
    return dataclasses.replace(year, air=air)


@pytest.mark.parametrize(
    ("case", "says"),
    [
        (dict(programme=[(HOUR, 0.0, 1000.0)]), "the end of a heating period must be 3600 s or more; got 0"),
        (dict(programme=[(0.0, HOUR)]), "either a power or a room temperature, and not both"),
        (dict(programme=[(0.0, HOUR, 1000.0, 20.0)]), "either a power or a room temperature, and not both"),
        (dict(programme=[(0.0, HOUR, 1e3), (0.0, HOUR, None, 20.0)]), "must all give a power, or all set the room"),
        (dict(programme=[(0.0, HOUR, None, 50.0)]), "the setting of the room thermostat must be 35 °C or less; got 50"),
        (dict(boiler=[(HOUR, 0.0)]), "the end of the boiler's hours must be 3600 s or more; got 0"),
        (dict(air=[(0.0, 0.1)]), "the air setting must be 0.3 or more; got 0.1"),
        (dict(air=[(60.0, 1.0), (60.0, 0.5)]), "must come in order of time"),
        (dict(weather=100.0), "the outside temperature must be 60 °C or less; got 100"),
        (dict(weather=Day(5.0, 2.0)), "the warmest of the day must be 5 °C or more; got 2"),
        (dict(weather=Day(5.0, 9.0, 2000.0)), "the sun at the middle of the day must be 1400 W/m2 or less"),
        (dict(weather=Day(5.0, 9.0, 100.0, 9 * HOUR, 8 * HOUR)), "sunset must be above 32400 s; got 28800"),
        (dict(day=400), "the day of the year at the start must be 365 or less; got 400"),
        (dict(weather=with_gap()), "the air of hour 42 is not a number; a year of weather has no gaps"),
    ],
)
def test_impossible_conditions_are_refused_in_words(case, says):
    with pytest.raises(OutOfRange, match=says):
        simulate(LARKRIGG, Conditions(**case))


@pytest.mark.parametrize(
    ("part", "case"),
    [
        ("burner", dict(firing=[(0.0, 1.0, 0.2)])),
        ("burner", dict(air=[(0.0, 1.0)])),
        ("hot_water", dict(draws=[(0.0, 0.01, 40.0, 0.1)])),
        ("heating", dict(programme=[(0.0, HOUR, 1000.0)])),
        ("boiler", dict(boiler=[(0.0, HOUR)])),
    ],
)
def test_a_use_without_its_part_is_refused(part, case):
    without = LARKRIGG.model_copy(update={part: None})
    with pytest.raises(OutOfRange, match=rf"Larkrigg Farm has no \[{part}\], so {next(iter(case))} must be empty"):
        simulate(without, Conditions(**case))


# ---- the file ------------------------------------------------------------------------------------------------

EVENING = """\
format = 1
begins = "17:00"
start = { store = "35 degC", burner = "20 degC" }
weather = { coldest = "1 degC", warmest = "9 degC", sun = "400 W/m2" }
draws = [ { time = "06:30", volume = "48 litre", temperature = "40 degC", flow = "8 litre/minute" } ]
firing = [ { time = "18:00", kilos = "8 kg", moisture = "20 %" } ]
air = [ { time = "19:30", setting = 0.6 } ]
programme = [ { from = "18:00", to = "22:00", power = "2 kW" } ]
"""


def written(tmp_path, text):
    path = tmp_path / "evening.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_file_says_the_same_as_the_fields(tmp_path):
    read = load_conditions(written(tmp_path, EVENING))
    assert read.start.store == 35.0
    assert read.start.burner == 20.0
    assert read.weather == Day(1.0, 9.0, 400.0)
    assert read.firing == (Firing(HOUR, 8.0, 0.20),)
    assert read.air == (Air(2.5 * HOUR, 0.6),)
    assert read.programme == (Heating(HOUR, 5 * HOUR, 2000.0, None),)
    (draw,) = read.draws
    assert draw == pytest.approx((13.5 * HOUR, 0.048, 40.0, 8 / 60))


def test_rows_come_again_every_day_and_hours_may_run_over_midnight(tmp_path):
    text = EVENING.replace('begins = "17:00"', 'begins = "17:00"\nduration = "3 day"\nrepeat = "every day"')
    text = text.replace('from = "18:00", to = "22:00"', 'from = "16:00", to = "01:00"')
    read = load_conditions(written(tmp_path, text))
    assert [batch.time / HOUR for batch in read.firing] == [1.0, 25.0, 49.0]
    assert [(period.begins / HOUR, period.ends / HOUR) for period in read.programme] == [
        (0.0, 8.0), (23.0, 32.0), (47.0, 56.0), (71.0, 80.0),
    ]  # fmt: skip


def test_a_regulation_profile_is_named_and_capped(tmp_path):
    text = 'format = 1\nbegins = "00:00"\ndraws = "M"\nwarmest_draw = "50 degC"\n'
    text += 'boiler = [{ from = "05:00", to = "08:00" }]\n'
    read = load_conditions(written(tmp_path, text))
    heat = sum(1.163 * draw.volume * (draw.temperature - 10.0) for draw in read.draws)
    assert heat == pytest.approx(5.845, abs=5e-4)  # EU 814/2013, annex III, table 1: profile M
    assert max(draw.temperature for draw in read.draws) == 50.0
    assert read.boiler == (Hours(5 * HOUR, 8 * HOUR),)


def test_an_invented_year_is_called_by_name(tmp_path):
    read = load_conditions(written(tmp_path, 'format = 1\nday = 32\nweather = "invented year"\n'))
    assert read.day == 31
    assert read.weather.invented


@pytest.mark.parametrize(
    ("change", "key", "says"),
    [
        (('begins = "17:00"', 'begins = "5 pm"'), "begins", "must be a time of day, written like"),
        (('"8 kg"', '"8 kW"'), "firing.0.kilos", "'8 kW' is a power, not a mass"),
        (('moisture = "20 %"', 'moist = "20 %"'), "firing.0.moist", "is not a key that is known here"),
        (("setting = 0.6", "setting = 1.6"), "air.0.setting", "must be 1.2 or less"),
        (("format = 1", 'format = 1\nwarmest_draw = "50 degC"'), "file", "'warmest_draw' belongs to a named profile"),
    ],
)
def test_a_fault_in_a_file_is_named_with_its_key(tmp_path, change, key, says):
    assert change[0] in EVENING
    with pytest.raises(UnreadableDocument) as refusal:
        load_conditions(written(tmp_path, EVENING.replace(*change, 1)))
    faults = {fault.key: fault.says for fault in refusal.value.faults}
    assert says in faults.get(key, ""), faults


def test_a_weather_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(UnreadableDocument, match=r"nowhere\.epw, line 0: file: there is no such file"):
        load_conditions(written(tmp_path, 'format = 1\nweather = "nowhere.epw"\n'))
