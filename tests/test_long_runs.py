"""Weeks, years and many cases at once: the same books however a run is cut up, and results that can be kept."""

import csv
import os

import numpy as np
import pytest

from tlib import installation, tables
from tlib.heat_loads import draw_off_profile
from tlib.simulation import (
    Conditions,
    Day,
    Firing,
    Heating,
    Hours,
    Start,
    every_day,
    simulate,
    simulate_all,
    write_csv,
)
from tlib.solar_radiation import invented_year
from tlib.validation import OutOfRange

HOUR, DAY = 3600.0, 86_400.0
SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK, TANSY = (installation.load(SITES / f"{name}.toml") for name in ("larkrigg", "quillbeck", "tansy"))


def lived_in(site, days, day=0, **more):
    """A household's ordinary days: fire on winter evenings, heating twice a day, hot water by the regulation."""
    return Conditions(
        start=45.0, begins=0.0, day=day, duration=days * DAY, weather=invented_year(),
        draws=every_day(draw_off_profile("M", warmest=50.0), days),
        firing=every_day([Firing(18 * HOUR, 6.0, 0.20)], days) if site.burner and day < 120 else (),
        programme=every_day([Heating(6 * HOUR, 9 * HOUR, None, 19.0), Heating(16 * HOUR, 22 * HOUR, None, 20.0)],
                            days, times=2),
        boiler=every_day([Hours(5 * HOUR, 9 * HOUR)], days, times=2), **more,
    )  # fmt: skip


@pytest.mark.parametrize("site", [LARKRIGG, QUILLBECK, TANSY], ids=lambda site: site.name)
@pytest.mark.parametrize("day", [15, 105, 196])
def test_a_week_at_each_place_balances(site, day):
    week = simulate(site, lived_in(site, 7, day))
    assert week.ledger.closure <= 1e-12
    assert not week.boiled


def test_the_books_of_a_year_balance():
    year = simulate(LARKRIGG, lived_in(LARKRIGG, 365), every=HOUR)
    assert year.time.size == 8761
    assert year.ledger.closure <= 1e-10
    assert year.ledger["sun on collector"] > 0.0


def test_rows_of_an_hour_are_sums_of_minutes():
    fine, coarse = (simulate(LARKRIGG, lived_in(LARKRIGG, 2), every=every) for every in (None, HOUR))
    assert np.array_equal(fine.layers[::60], coarse.layers)
    for name, power in coarse.powers.items():
        assert power == pytest.approx(fine.powers[name].reshape(-1, 60).mean(axis=1), rel=1e-9, abs=1e-6), name
    assert fine.ledger.heats == pytest.approx(coarse.ledger.heats, rel=1e-9, abs=1.0)
    assert str(coarse.events) == str(fine.events)  # as words, for a temperature may be no number


def test_a_run_does_not_care_that_it_is_stepped_a_day_at_a_time(monkeypatch):
    whole = simulate(LARKRIGG, lived_in(LARKRIGG, 3))
    monkeypatch.setattr("tlib.simulation.installed.STRETCH", 5 * HOUR)
    cut = simulate(LARKRIGG, lived_in(LARKRIGG, 3))
    assert cut.layers == pytest.approx(whole.layers, abs=1e-9)
    assert [event.name for event in cut.events] == [event.name for event in whole.events]


def test_progress_is_told_week_by_week():
    told = []
    simulate(TANSY, lived_in(TANSY, 28), every=HOUR, progress=told.append)
    assert told == pytest.approx([0.25, 0.5, 0.75, 1.0])


def test_the_same_input_gives_the_same_result_bit_for_bit():
    one, two = (simulate(QUILLBECK, lived_in(QUILLBECK, 3)) for _ in range(2))
    assert np.array_equal(one.layers, two.layers)
    for name in one.powers:
        assert np.array_equal(one.powers[name], two.powers[name])
    assert str(one.events) == str(two.events)


def test_many_cases_at_once_are_each_what_they_are_alone():
    cases = [lived_in(LARKRIGG, 1, day) for day in range(0, 360, 60)]
    told = []
    together = simulate_all(LARKRIGG, cases, progress=told.append)
    assert told == pytest.approx([(k + 1) / 6 for k in range(6)])
    for case, result in zip(cases, together, strict=True):
        assert np.array_equal(result.layers, simulate(LARKRIGG, case).layers)


def test_many_places_take_one_case_each():
    both = simulate_all([LARKRIGG, TANSY], [Conditions(start=50.0), Conditions(start=60.0)])
    assert both[1].layers[0, 0] == 60.0
    with pytest.raises(OutOfRange, match="one installation for each of 2 cases; got 1"):
        simulate_all([LARKRIGG], [Conditions(), Conditions()])


@pytest.mark.parametrize(
    ("every", "says"),
    [
        (90.0, "whole steps of 60 s, and go into 86400 s without rest; got 90"),
        (7 * HOUR, "without rest; got 25200"),
        (30.0, "the time kept in a row must be 60 s or more; got 30"),
    ],
)
def test_rows_that_do_not_fit_are_refused(every, says):
    with pytest.raises(OutOfRange, match=says):
        simulate(LARKRIGG, Conditions(), every=every)


@pytest.mark.parametrize(("layers", "says"), [(9, "10 or more; got 9"), (201, "200 or less; got 201")])
def test_too_few_and_too_many_layers_are_refused(layers, says):
    with pytest.raises(OutOfRange, match=f"layers must be {says}"):
        simulate(LARKRIGG, Conditions(), layers=layers)


def test_a_run_that_boils_keeps_whole_rows_and_the_last_in_part():
    undumped = LARKRIGG.model_copy(update={"safety": None})
    hot = simulate(undumped, Conditions(start=80.0, firing=[(600.0, 25.0, 0.15)]), every=HOUR)
    assert hot.boiled
    assert hot.time.size == hot.layers.shape[0] == hot.powers["hot water"].size + 1
    assert hot.time[-1] % HOUR
    assert hot.ledger.closure <= 1e-12


# ---- a file for a spreadsheet --------------------------------------------------------------------------------


def test_a_spreadsheet_file_holds_what_the_result_holds(tmp_path):
    day = simulate(TANSY, Conditions(start=60.0, weather=Day(5.0, 15.0, 600.0), boiler=[(0.0, DAY)]))
    path = write_csv(day, tmp_path / "day.csv")
    with path.open(encoding="utf-8-sig", newline="") as file:
        head, *rows = csv.reader(file)
    assert len(rows) == 1440
    columns = dict(zip(head, zip(*rows, strict=True), strict=True))
    assert [float(x) for x in columns["store top [°C]"]] == day.readings["store top"][:-1].tolist()
    assert [float(x) for x in columns["boiler to store [W]"]] == day.powers["boiler to store"].tolist()
    assert set(columns["tap [°C]"]) == {""}


def test_the_same_run_writes_the_same_file(tmp_path):
    conditions = lived_in(LARKRIGG, 1)
    one, two = (write_csv(simulate(LARKRIGG, conditions), tmp_path / f"{k}.csv").read_bytes() for k in range(2))
    assert one == two


@pytest.mark.skipif(os.cpu_count() < 2, reason="one core only")
def test_the_engine_lets_go_of_the_interpreter():
    """Many cases can only run on all cores if a run does not hold the interpreter: another thread counts meanwhile."""
    import threading

    counted, done = [0], threading.Event()

    def count():
        while not done.is_set():
            counted[0] += 1

    simulate(LARKRIGG, Conditions(duration=HOUR))
    thread = threading.Thread(target=count)
    thread.start()
    simulate(LARKRIGG, lived_in(LARKRIGG, 60), step=10.0, every=DAY)
    done.set()
    thread.join()
    assert counted[0] > 0


@pytest.mark.parametrize("site", [LARKRIGG, QUILLBECK, TANSY], ids=lambda site: site.name)
def test_every_place_is_warm_on_a_cold_day_with_its_boiler_alone(site):
    """No thermostat may wait for another: an emptied heating part must call the boiler, and come back."""
    room = site.heating.radiators.room
    cold = Conditions(
        start=Start(70.0, room=room - 2.0), begins=0.0, duration=2 * DAY, weather=2.0, boiler=[(0.0, 2 * DAY)],
        programme=[(0.0, 2 * DAY, None, room)],
    )  # fmt: skip
    assert simulate(site, cold).readings["room"][-720:].min() > room - 1.5
