"""Years of weather: files read strictly, the invented year labelled, and both laid on slopes."""

import csv

import numpy as np
import pvlib
import pytest

from tlib import solar_radiation as sr
from tlib.documents import UnreadableDocument
from tlib.validation import OutOfRange

EPW_TOP = ["LOCATION,Tansy Wharf,-,GBR,made up,0,51.50,-2.60,0.0,11.0"] + [f"LINE {number}" for number in range(2, 9)]
TMY3_TOP = ['000000,"TANSY WHARF",GB,0.0,51.500,-2.600,11', "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2)"]


@pytest.fixture(scope="module")
def year():
    return sr.invented_year()


@pytest.fixture(scope="module")
def epw(year):
    """Write the invented year as EPW lines."""
    ends = year.time / 3600 + 0.5
    day = np.datetime64("2025-01-01") + ((ends - 1) // 24).astype(int).astype("timedelta64[D]")
    rows = []
    for i, date in enumerate(day.tolist()):
        row = [date.year, date.month, date.day, int((ends[i] - 1) % 24) + 1, 60, "?9", *["0"] * 29]
        row[6], row[13:16] = (
            repr(float(year.air[i])),
            map(repr, map(float, (year.horizontal[i], year.direct[i], year.diffuse[i]))),
        )
        rows.append(row)
    return [*EPW_TOP, *(",".join(map(str, row)) for row in rows)]


def saved(path, lines):
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def edited(lines, number, place, value):
    """Return lines with one field of one line changed."""
    fields = next(csv.reader([lines[number - 1]]))
    fields[place] = value
    return [*lines[: number - 1], ",".join(fields), *lines[number:]]


# --- reading ---


@pytest.mark.evidence("conservation", "solar_radiation.read_weather")
def test_what_is_written_is_what_is_read(year, epw, tmp_path):
    read = sr.read_weather(saved(tmp_path / "wharf.epw", epw))
    for part in ("air", "direct", "diffuse", "horizontal", "time"):
        assert getattr(read, part).tolist() == getattr(year, part).tolist()
    assert read.label == "Weather file wharf.epw: Tansy Wharf"
    assert read.invented is False
    assert (read.latitude, read.longitude) == (51.5, -2.6)


@pytest.mark.evidence("published", "solar_radiation.read_weather")
def test_an_epw_file_reads_as_pvlib_reads_it(epw, tmp_path):
    path = saved(tmp_path / "wharf.epw", epw)
    ours, (theirs, place) = sr.read_weather(path), pvlib.iotools.read_epw(path)
    assert (ours.latitude, ours.longitude) == (place["latitude"], place["longitude"])
    for our_part, their_part in (("air", "temp_air"), ("direct", "dni"), ("diffuse", "dhi"), ("horizontal", "ghi")):
        assert getattr(ours, our_part).tolist() == theirs[their_part].tolist()
    starts = theirs.index.tz_convert("UTC").tz_localize(None).to_numpy().astype("datetime64[s]")
    assert (ours.utc - np.timedelta64(1800, "s")).tolist() == starts.tolist()


@pytest.mark.evidence("limit", "solar_radiation.read_weather")
def test_the_first_hour_is_counted_from_the_start_of_the_local_year(epw, tmp_path):
    top = [EPW_TOP[0].replace(",0.0,11.0", ",5.5,11.0"), *EPW_TOP[1:]]
    read = sr.read_weather(saved(tmp_path / "east.epw", [*top, *epw[8:]]))
    assert read.time[[0, -1]].tolist() == [1800.0, 8760 * 3600 - 1800.0]
    assert str(read.utc[0]) == "2024-12-31T19:00:00"


def test_blank_lines_at_the_end_do_not_matter(epw, tmp_path):
    read = sr.read_weather(saved(tmp_path / "wharf.epw", [*epw, "", ""]))
    assert len(read.time) == 8760


FAULTS = [
    (lambda lines: lines[:5000], r"line 5000: hours: there are 4992 hours, and a year has 8760 or 8784"),
    (lambda lines: edited(lines, 20, 6, "99.9"), "line 20: air temperature: 99.9 °C stands for a missing value"),
    (lambda lines: edited(lines, 20, 6, "-120"), "line 20: air temperature: -120 °C stands for a missing value"),
    (lambda lines: edited(lines, 21, 14, "9999"), "line 21: direct irradiance: 9999 W/m2 stands for a missing value"),
    (lambda lines: edited(lines, 22, 13, "-1"), "line 22: horizontal irradiance: -1 W/m2 stands for a missing value"),
    (lambda lines: edited(lines, 22, 15, "nan"), "line 22: diffuse irradiance: nan W/m2 stands for a missing value"),
    (lambda lines: edited(lines, 23, 15, "dark"), "line 23: diffuse irradiance: is not a number"),
    (lambda lines: edited(lines, 24, 1, "13"), "line 24: date: is not a date and an hour"),
    (lambda lines: edited(lines, 24, 3, "noon"), "line 24: date: is not a date and an hour"),
    (lambda lines: [*lines[:8], "2025,1", *lines[9:]], "line 9: date: is not a date and an hour"),
    (lambda lines: [*lines[:8], "2025,1,1,1", *lines[9:]], "line 9: air temperature: is not a number"),
    (lambda lines: ["LOCATION,Tansy Wharf", *lines[1:]], "line 1: latitude: is not a number"),
    (lambda lines: ["time,air", *lines[1:]], "line 1: layout: is neither an EPW nor a TMY3 weather file"),
    (lambda lines: [], "line 1: layout: is neither an EPW nor a TMY3 weather file"),
    (lambda lines: [*TMY3_TOP, "1/1,1:00,0"], "line 3: date: is not a date and an hour"),
]


@pytest.mark.evidence("error", "solar_radiation.read_weather")
@pytest.mark.parametrize(("spoil", "says"), FAULTS, ids=[says for _, says in FAULTS])
def test_a_fault_is_named_with_its_line(epw, tmp_path, spoil, says):
    path = saved(tmp_path / "wharf.epw", spoil(epw))
    with pytest.raises(UnreadableDocument, match=r"wharf\.epw, " + says):
        sr.read_weather(path)


@pytest.mark.evidence("error", "solar_radiation.read_weather")
def test_a_file_that_is_not_there_is_said_so(tmp_path):
    with pytest.raises(UnreadableDocument, match="there is no such file"):
        sr.read_weather(tmp_path / "nowhere.epw")


# --- the invented year ---


@pytest.mark.evidence("limit", "solar_radiation.invented_year")
def test_the_invented_year_says_so_and_is_dark_at_night(year):
    assert year.invented is True
    assert year.label.startswith("Invented year")
    sun = sr.sun_position(year.utc, year.latitude, year.longitude)
    down = sun.elevation < 0
    assert np.all(year.horizontal[down] == 0)
    assert np.all(year.horizontal >= 0)
    assert np.all(year.direct < sr.extraterrestrial_irradiance(year.utc))
    assert -15 < year.air.min() < year.air.max() < 40


def test_a_year_of_weather_cannot_be_changed(year):
    with pytest.raises(ValueError, match="read-only"):
        year.air[0] = 20.0


@pytest.mark.evidence("conservation", "solar_radiation.invented_year")
def test_level_light_is_that_of_the_sun_and_of_the_sky(year):
    sun = sr.sun_position(year.utc, year.latitude, year.longitude)
    parts = year.diffuse + year.direct * np.maximum(np.sin(np.radians(sun.elevation)), 0)
    assert year.horizontal == pytest.approx(parts, abs=0.01)


# --- a year on a slope ---


@pytest.mark.evidence("conservation", "solar_radiation.weather_on_slope")
def test_on_the_level_a_year_gives_back_its_level_light(year):
    level = sr.weather_on_slope(year, slope=0, facing=180)
    risen = sr.sun_position(year.utc, year.latitude, year.longitude).elevation > 1.0
    assert level.total[risen] == pytest.approx(year.horizontal[risen], abs=0.01)
    assert level.ground.max() == 0.0


@pytest.mark.evidence("limit", "solar_radiation.weather_on_slope")
def test_south_beats_north_and_a_ceiling_sees_the_ground_alone(year):
    south, north = (sr.weather_on_slope(year, 40, facing).total.sum() for facing in (180, 0))
    assert south > 1.5 * north
    ceiling = sr.weather_on_slope(year, 180, 180, albedo=0.2)
    assert ceiling.total == pytest.approx(0.2 * year.horizontal, abs=1e-9)


@pytest.mark.evidence("error", "solar_radiation.weather_on_slope")
@pytest.mark.parametrize(
    ("slope", "facing", "albedo", "says"),
    [
        (181, 180, 0.2, "slope must be 180 degree or less; got 181"),
        (np.nan, 180, 0.2, "slope must be a finite number; got nan"),
        (40, np.inf, 0.2, "facing must be a finite number; got inf"),
        (40, 180, -0.1, "albedo must be 0 or more; got -0.1"),
    ],
)
def test_a_slope_that_cannot_be_is_refused(year, slope, facing, albedo, says):
    with pytest.raises(OutOfRange, match=says):
        sr.weather_on_slope(year, slope, facing, albedo)


@pytest.mark.evidence("error", "solar_radiation.weather_on_slope")
def test_more_direct_light_than_the_sun_gives_is_refused(epw, tmp_path):
    noon = 9 + 24 * 171 + 12
    read = sr.read_weather(saved(tmp_path / "wharf.epw", edited(epw, noon, 14, "1450")))
    with pytest.raises(OutOfRange, match="direct over extraterrestrial irradiance must be 1"):
        sr.weather_on_slope(read, 40, 180)


@pytest.mark.evidence("error", "solar_radiation.weather_on_slope")
def test_slopes_in_another_number_than_hours_are_refused(year):
    with pytest.raises(ValueError, match="broadcast"):
        sr.weather_on_slope(year, np.full(3, 40.0), 180)
