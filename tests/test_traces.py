"""A logged day: ten channels, rounded, with noise that comes again with its seed; and the pressure of the system."""

import numpy as np
import pytest

from tlib import installation, tables
from tlib.simulation import CHANNELS, Conditions, Fault, Start, simulate, trace
from tlib.thermal_expansion import expanded_fraction, hot_pressure
from tlib.validation import OutOfRange

HOUR, DAY = 3600.0, 86_400.0
SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, TANSY = (installation.load(SITES / f"{name}.toml") for name in ("larkrigg", "tansy"))


def evening(*faults):
    return simulate(LARKRIGG, Conditions(
        start=Start(40.0, 20.0), firing=[(HOUR, 6.0, 0.2)], draws=[(3 * HOUR, 0.04, 40.0, 8 / 60)], faults=faults,
    ))  # fmt: skip


def test_ten_channels_on_one_clock():
    logged = trace(evening())
    assert set(logged.channels) == set(CHANNELS)
    assert len(CHANNELS) + 1 == 10
    assert logged.minutes.tolist() == list(range(0, 1441, 5))
    for values in (*logged.channels.values(), *logged.states.values()):
        assert values.size == logged.minutes.size


def test_a_perfect_log_is_the_run_rounded():
    run = evening()
    logged = trace(run, every=600.0)
    assert np.abs(logged.channels["store top"] - run.readings["store top"][::10]).max() <= 0.05 + 1e-9
    assert np.all(np.round(logged.channels["burner flow"], 1) == logged.channels["burner flow"])


def test_the_tap_keeps_the_last_that_was_drawn():
    tap = trace(evening()).channels["tap"]
    shown = np.flatnonzero(np.isfinite(tap))
    assert shown.tolist() == [37]  # drawn for five minutes from 180 min on
    assert tap[37] == pytest.approx(40.0, abs=0.05)


def test_states_are_what_held_for_most_of_a_line():
    run = evening()
    pump = trace(run).states["charge pump"]
    assert pump.sum() * 5 == pytest.approx(run.states["charge pump"].sum(), abs=5)


def test_noise_is_the_same_for_the_same_seed_and_small():
    run = evening()
    one, two, other, clean = (trace(run, noise_seed=seed) for seed in (7, 7, 8, None))
    assert np.array_equal(one.channels["store top"], two.channels["store top"])
    assert not np.array_equal(one.channels["store top"], other.channels["store top"])
    spread = one.channels["store middle"] - clean.channels["store middle"]
    assert 0.15 < spread.std() < 0.25
    assert np.array_equal(np.isnan(one.channels["tap"]), np.isnan(clean.channels["tap"]))


def test_a_faulty_day_shows_in_its_log():
    sound, dead = trace(evening()), trace(evening("charge pump dead"))
    assert np.nanmax(dead.channels["burner flow"]) > np.nanmax(sound.channels["burner flow"]) + 10.0
    assert dead.channels["store top"].max() < sound.channels["store top"].max()


@pytest.mark.parametrize(("every", "says"), [(90.0, "whole rows of 60 s; got 90"), (30.0, "must be 60 s or more")])
def test_lines_that_fit_no_rows_are_refused(every, says):
    with pytest.raises(OutOfRange, match=says):
        trace(evening(), every=every)


# ---- the pressure of the system ------------------------------------------------------------------------------


def test_a_vented_system_has_the_pressure_of_its_head():
    """5 m of water: 0.49 bar on the gauge."""
    gauge = (evening().readings["system pressure"] - 101_325.0) / 1e5
    assert gauge == pytest.approx(np.full(gauge.size, 0.49), abs=0.005)


def test_a_sealed_system_follows_its_vessel():
    """Gas at one temperature, pressure times volume constant; the water's growth from its density."""
    run = simulate(TANSY, Conditions(start=60.0, duration=HOUR))
    vessel = TANSY.vessel
    reserve = vessel.volume * (1.0 - vessel.charge / vessel.fill)
    growth = TANSY.store.volume * float(expanded_fraction(10.0, 60.0))
    assert run.readings["system pressure"][0] == pytest.approx(
        float(hot_pressure(vessel.volume, reserve, growth, vessel.charge)), rel=1e-9
    )


def test_a_sealed_system_may_pass_the_boiling_point_of_open_water():
    """The water's growth from its density under pressure, which 0.3 bar more or less hardly change."""
    run = simulate(TANSY, Conditions(start=105.0, duration=60.0))
    vessel = TANSY.vessel
    reserve = vessel.volume * (1.0 - vessel.charge / vessel.fill)
    growth = TANSY.store.volume * float(expanded_fraction(10.0, 105.0, pressure=1.5e5))
    assert run.readings["system pressure"][0] == pytest.approx(
        float(hot_pressure(vessel.volume, reserve, growth, vessel.charge)), rel=1e-4
    )


def test_the_relief_valve_lets_no_more_than_its_pressure_stand():
    small = TANSY.model_copy(update={"vessel": TANSY.vessel.model_copy(update={"volume": 0.006})})
    run = simulate(small, Conditions(start=20.0, boiler=[(0.0, DAY)]))
    pressure = run.readings["system pressure"]
    assert pressure.max() == pytest.approx(TANSY.safety.relief, rel=1e-9)
    assert [event.name for event in run.events].count("relief valve lifts") == 1


def test_water_that_was_let_go_is_missing_when_it_cools():
    small = TANSY.model_copy(update={"vessel": TANSY.vessel.model_copy(update={"volume": 0.006})})
    run = simulate(small, Conditions(start=80.0, duration=2 * DAY, draws=[(0.0, 0.4, 40.0, 0.2)]))
    assert run.readings["system pressure"][-1] < TANSY.vessel.fill


def test_a_flat_vessel_only_while_it_is_flat():
    run = simulate(TANSY, Conditions(start=60.0, duration=3 * HOUR, faults=[Fault("vessel flat", HOUR, 2 * HOUR)]))
    pressure = run.readings["system pressure"]
    assert pressure[90] > pressure[30]
    assert pressure[150] == pytest.approx(pressure[30], rel=0.05)
