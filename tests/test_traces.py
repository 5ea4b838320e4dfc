"""A logged day: ten channels, rounded, with noise that comes again with its seed; and the pressure of the system."""

import numpy as np
import pytest
from scipy.optimize import brentq

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


# ---- three faults that the pressure tells apart --------------------------------------------------------------

AIR = 101_325.0
OF_WATER_ABOVE = AIR + 6.0 * 9.80665 * 1000.0  # 6 m stand above the store at Tansy Wharf


def gas_law(litres, charge=0.8):
    """Pressure in the 25 l vessel by the gas law and a root finder, the way of tests/published/test_en_12828.py."""
    start = charge * 1e5 + AIR
    return brentq(lambda p: p * (25.0 - litres) - start * 25.0, 1e4, 1e8, xtol=1e-6)


def litres_cold():
    """What the vessel holds as filled, 1.1 bar on the gauge over 0.8 bar of charge, by hand: 3.549 l."""
    return 25.0 * (1.0 - (0.8e5 + AIR) / (1.1e5 + AIR))


def standing(*faults, hours=24.0, site=TANSY):
    """Pressure of a cold store that nobody warms, and what its water has grown since it was filled [l]."""
    run = simulate(site, Conditions(start=18.0, duration=hours * HOUR, faults=faults))
    return run, run.readings["system pressure"], 180.0 * expanded_fraction(10.0, run.layers).mean(axis=1)


def test_a_passing_valve_loses_its_litres_an_hour_by_the_gas_law():
    run, pressure, growth = standing(Fault("relief valve passing", 2 * HOUR, 22 * HOUR, 0.1))
    for row, lost in ((60, 0.0), (120, 0.0), (720, 1.0), (1320, 2.0), (1440, 2.0)):
        assert pressure[row] == pytest.approx(gas_law(litres_cold() + growth[row] - lost), rel=1e-7), row
    assert "relief valve lifts" not in [event.name for event in run.events]


def test_when_the_vessel_is_empty_only_the_water_above_presses():
    """Of 3.5 l, 0.5 l/h leave nothing after seven hours and a half; pressure falls from the charge to the head."""
    _, pressure, _ = standing(Fault("relief valve passing", severity=0.5))
    assert pressure[400] > 0.8e5 + AIR
    assert pressure[500:] == pytest.approx(OF_WATER_ABOVE, rel=1e-9)


def test_water_that_warms_after_the_vessel_ran_empty_fills_it_again():
    run = simulate(TANSY, Conditions(
        start=18.0, boiler=[(12 * HOUR, DAY)], faults=[Fault("relief valve passing", 0.0, 10 * HOUR, 1.0)]
    ))  # fmt: skip
    pressure = run.readings["system pressure"]
    growth = 180.0 * expanded_fraction(10.0, run.layers).mean(axis=1)
    assert pressure[700] == pytest.approx(OF_WATER_ABOVE, rel=1e-9)
    empty = growth[:600][np.isclose(pressure[:600], OF_WATER_ABOVE)][0]
    assert pressure[-1] == pytest.approx(gas_law(growth[-1] - empty), rel=2e-3)  # to a row's litres, 1/60 l


def test_an_open_filling_loop_lets_its_litres_an_hour_in_by_the_gas_law():
    _, pressure, growth = standing(Fault("fill loop open", 2 * HOUR, 12 * HOUR, 0.5), "vessel flat")
    flat = 25.0 * (1.0 - AIR / (1.1e5 + AIR))
    assert pressure[720] == pytest.approx(min(gas_law(flat + growth[720] + 5.0, 0.0), 3e5 + AIR), rel=1e-7)
    _, pressure, growth = standing(Fault("fill loop open", 2 * HOUR, 12 * HOUR, 0.5))
    for row, let_in in ((120, 0.0), (420, 2.5), (720, 5.0), (1440, 5.0)):
        assert pressure[row] == pytest.approx(gas_law(litres_cold() + growth[row] + let_in), rel=1e-7), row


def test_an_open_filling_loop_lifts_the_relief_valve_or_stops_at_the_mains():
    run, pressure, _ = standing(Fault("fill loop open", severity=2.0))
    assert pressure.max() == pytest.approx(3.0e5 + AIR, rel=1e-9)
    assert [event.name for event in run.events].count("relief valve lifts") == 1
    strong = TANSY.model_copy(update={"safety": TANSY.safety.model_copy(update={"relief": 6.0e5 + AIR})})
    run, pressure, _ = standing(Fault("fill loop open", severity=2.0), site=strong)
    assert pressure.max() == pytest.approx(3.5e5 + AIR, rel=1e-4)  # the mains, common practice
    assert "relief valve lifts" not in [event.name for event in run.events]


def test_nothing_is_let_in_while_the_mains_are_off():
    _, pressure, growth = standing(Fault("fill loop open", severity=0.5), Fault("mains off", 4 * HOUR, 10 * HOUR))
    assert pressure[540] == pytest.approx(gas_law(litres_cold() + growth[540] + 2.0), rel=1e-7)
    assert pressure[900] == pytest.approx(gas_law(litres_cold() + growth[900] + 4.5), rel=1e-7)


WARM, COLD = (4 * 12, 28 * 12, 52 * 12), (0, 20 * 12, 44 * 12, 68 * 12)  # lines of five minutes


def three_days(*faults):
    """Each day warmed in its first hours and drawn cold at noon; the log of the pressure [bar gauge]."""
    days = [day * DAY for day in range(3)]
    conditions = Conditions(
        start=20.0, begins=0.0, duration=3 * DAY, boiler=[(t, t + 8 * HOUR) for t in days],
        draws=[(t + 12 * HOUR, 0.4, 40.0, 0.15) for t in days], faults=faults,
    )  # fmt: skip
    return trace(simulate(TANSY, conditions), noise_seed=3).channels["system pressure"]


def test_flat_passing_and_filling_each_write_a_history_of_its_own():
    """A flat vessel swings and comes back; a valve that passes only falls; a loop left open rises, cold too."""
    sound, flat, passing, filling = (
        three_days(*fault) for fault in ((), ["vessel flat"], ["relief valve passing"], ["fill loop open"])
    )
    warm, cold = list(WARM), list(COLD)
    assert np.ptp(sound[cold]) < 0.1
    assert np.ptp(flat[cold]) < 0.1
    assert (flat[warm] - flat[cold[:3]]).min() > 1.5 * (sound[warm] - sound[cold[:3]]).max()
    assert np.all(np.diff(passing[cold][:3]) < -0.1)
    assert np.all(np.diff(passing[warm]) < -0.1)
    assert np.all(passing[warm] < sound[warm])
    assert filling[cold[1]] > filling[cold[0]] + 1.0
    assert filling[14 * 12 : 19 * 12 : 12] == pytest.approx(sorted(filling[14 * 12 : 19 * 12 : 12]))
    assert filling.max() == pytest.approx(3.0, abs=0.05)
    assert flat.max() < 2.0


def test_a_perfect_log_of_a_passing_valve_falls_while_nothing_else_changes():
    _, pressure, _ = standing("relief valve passing")
    assert np.all(np.diff(pressure[1:]) < 0.0)
    _, pressure, _ = standing("fill loop open", hours=12.0)
    assert np.all(np.diff(pressure[1:]) > 0.0)
