"""Faults overrule controls, never physics: each does what its name says, and the chain answers in the order it must.

The expected orders are those that the trade teaches, common practice, no source; each case says in words why. The books
balance through every fault.
"""

import numpy as np
import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.installation import OnRise
from tlib.safety import FAULTS
from tlib.simulation import Conditions, Day, Fault, Heating, Start, layers_acted, simulate
from tlib.solar_radiation import invented_year
from tlib.validation import OutOfRange

HOUR, DAY = 3600.0, 86_400.0
SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK, TANSY = (installation.load(SITES / f"{name}.toml") for name in ("larkrigg", "quillbeck", "tansy"))


def hot_evening(site, *faults, logs=4.0, start=78.0, hours=6, **more):
    """A store left hot, a burner at work, logs just put on; then the fault."""
    conditions = Conditions(
        start=Start(start, min(start, 75.0)), begins=21 * HOUR, duration=hours * HOUR, firing=[(0.0, logs, 0.20)],
        faults=faults, **more,
    )  # fmt: skip
    return simulate(site, conditions)


def acted(run):
    return [layer.number for layer in layers_acted(run)]


# ---- the single faults with the fire lit, and what carries each ----------------------------------------------

CARRIED = {
    (): "1",
    ("power cut",): "25",
    ("charge pump dead",): "25",
    ("loading valve stuck shut",): "25",
    ("pipe thermostat fails open",): "25",
    ("mains off",): "1",
    ("thermal valve seized shut",): "1",
    ("heat leak air-locked",): "14",
    ("power cut", "heat leak air-locked"): "5",
    ("charge pump dead", "heat leak air-locked"): "5",
    ("charge pump dead", "heat leak air-locked", "thermal valve seized shut"): "6",
    ("power cut", "heat leak air-locked", "mains off"): "6",
}


@pytest.mark.parametrize("faults", CARRIED, ids=lambda faults: " and ".join(faults) or "all is well")
def test_the_layers_act_in_the_order_they_must(faults):
    run = hot_evening(LARKRIGG, *faults)
    assert "".join(acted(run)) == CARRIED[faults]
    assert run.boiled == ("6" in CARRIED[faults])
    assert run.ledger.closure <= 1e-12


def test_a_sensor_in_the_store_cannot_see_a_burner_that_has_lost_its_pump():
    """Ask of every device where it feels, and what can be hot while it feels cool."""
    in_store = LARKRIGG.safety.thermal_valve.model_copy(update={"sensor": "store top"})
    blind = LARKRIGG.model_copy(update={"safety": LARKRIGG.safety.model_copy(update={"thermal_valve": in_store})})
    faults = ("charge pump dead", "heat leak air-locked")
    seen, unseen = hot_evening(LARKRIGG, *faults), hot_evening(blind, *faults)
    assert not seen.boiled
    assert unseen.boiled
    assert "5" not in acted(unseen)
    assert unseen.readings["store top"].max() < 80.0


def test_a_thermal_valve_in_the_store_guards_the_store():
    in_store = LARKRIGG.safety.thermal_valve.model_copy(update={"sensor": "store top"})
    moved = LARKRIGG.model_copy(update={"safety": LARKRIGG.safety.model_copy(update={"thermal_valve": in_store})})
    run = hot_evening(moved, "high limit fails open", "heat leak air-locked", start=88.0, logs=4.0)
    assert not run.boiled
    assert run.readings["store top"].max() >= 97.0
    assert run.ledger["thermal valve"] < 0.0
    assert run.ledger.closure <= 1e-12


def test_no_dump_without_its_sensor_its_valve_or_power():
    hot = dict(start=86.0, logs=8.0)
    sound = hot_evening(LARKRIGG, **hot)
    assert "4" in acted(sound)
    for fault in ("high limit fails open", "zone valve stuck shut", "power cut"):
        assert "4" not in acted(hot_evening(LARKRIGG, fault, **hot)), fault


def test_a_high_limit_stuck_made_empties_the_store_day_and_night():
    run = hot_evening(LARKRIGG, "high limit stuck made", start=60.0, logs=0.0)
    assert np.all(run.states["heating pump"] == 1)
    assert run.layers[-1].mean() < run.layers[0].mean() - 15.0


def test_under_wiring_b_a_full_store_stops_the_pump_and_the_leak_carries():
    """Every full store is then a planned stop with the fire lit: the leak is a working part, not a spare."""
    full = hot_evening(QUILLBECK)
    assert "".join(acted(full)).startswith("12")
    stop = next(event for event in full.events if event.name == "charge pump stops")
    breaks = next(event for event in full.events if event.name == "store limit breaks")
    assert stop.time == breaks.time
    assert breaks.temperature >= 80.0
    assert acted(hot_evening(QUILLBECK, "store limit stuck open"))[0] == "2"


def test_both_wirings_from_the_same_store():
    """Wiring (a) carries everything into the store; wiring (b) stops at 80 °C and the burner runs hotter."""
    plain = QUILLBECK.burner.model_copy(update={"wiring": "pipe thermostat"})
    a, b = hot_evening(QUILLBECK.model_copy(update={"burner": plain})), hot_evening(QUILLBECK)
    assert a.readings["store store limit"].max() > b.readings["store store limit"].max()
    assert b.readings["burner flow"].max() > a.readings["burner flow"].max() + 5.0


# ---- each fault's own mark on a day --------------------------------------------------------------------------


def cold_evening(*faults, site=LARKRIGG, **more):
    return hot_evening(site, *faults, start=30.0, logs=6.0, **more)


def test_a_loading_valve_stuck_open_lets_cold_water_at_the_fire():
    sound, stuck = cold_evening(), cold_evening("loading valve stuck open")
    running = sound.states["charge pump"] == 1
    assert np.median(sound.readings["burner return"][1:][running]) > 58.0
    assert np.count_nonzero(stuck.readings["burner return"][30:150] < 45.0) > 30
    assert stuck.readings["burner flow"].max() < sound.readings["burner flow"].max()


def test_a_loose_pipe_thermostat_starts_the_pump_late_and_in_bursts():
    sound, loose = cold_evening(), cold_evening("pipe thermostat loose")
    first = [np.flatnonzero(run.states["charge pump"])[0] for run in (sound, loose)]
    assert first[1] > first[0]
    assert loose.readings["burner flow"][first[1]] >= 70.0


def test_a_reversed_pipe_thermostat_runs_the_pump_cold_and_stops_it_hot():
    run = cold_evening("pipe thermostat reversed")
    assert run.states["charge pump"][0] == 1
    hot = run.readings["burner flow"][:-1] > 60.0
    assert not np.any(run.states["charge pump"][hot])


def test_part_of_a_pump_s_flow_lost_lifts_the_burner_s_flow():
    """Heat balance: the same power through less water is a larger rise; 573 l/h and 15 K become 344 l/h and 25 K."""
    sound, weak = cold_evening(), cold_evening(Fault("charge pump dead", severity=0.4))
    assert weak.readings["burner flow"].max() > sound.readings["burner flow"].max() + 2.0
    assert weak.flows["burner to store"].max() <= 0.6 * LARKRIGG.burner.pump.flow * (1 + 1e-9)


def test_wet_wood_gives_less_heat_for_the_same_kilos():
    dry, wet = cold_evening(), cold_evening("wet wood")
    share = wet.ledger["fuel"] / dry.ledger["fuel"]
    by_hand = (19.0 * 0.6 - 2.44 * 0.4) / (19.0 * 0.8 - 2.44 * 0.2)  # net calorific values at 40 and 20 % moisture
    assert share == pytest.approx(by_hand, rel=1e-9)


SHOWERS = [(HOUR, 0.06, 45.0, 0.15), (2 * HOUR, 0.06, 45.0, 0.15)]


def taps(*faults, start=75.0):
    return simulate(LARKRIGG, Conditions(start=start, duration=4 * HOUR, draws=SHOWERS, faults=faults))


def test_a_blending_valve_that_fails_hot_scalds():
    sound, hot = taps(), taps("blending valve fails hot")
    assert np.nanmax(sound.readings["tap"]) <= 45.0 + 1e-6
    assert np.nanmax(hot.readings["tap"]) > 55.0
    assert np.nanmax(hot.readings["tap"] - hot.readings["hot-water coil"]) == pytest.approx(0.0, abs=1e-9)


def test_a_blending_valve_that_fails_cool_gives_tepid_water_from_a_hot_store():
    cool = taps(Fault("blending valve fails cool", severity=32.0))
    assert np.nanmax(cool.readings["tap"]) == pytest.approx(32.0, abs=1e-6)
    assert cool.ledger["hot water short"] > 0.0


def test_a_scaled_coil_gives_less_at_the_same_top():
    sound, scaled = taps(start=58.0), taps("coil scaled", start=58.0)
    first = np.flatnonzero(np.isfinite(sound.readings["hot-water coil"]))[0]
    assert scaled.readings["hot-water coil"][first] < sound.readings["hot-water coil"][first] - 4.0


def test_without_mains_nothing_comes_and_nothing_cools():
    off = taps("mains off")
    assert np.all(np.isnan(off.readings["tap"]))
    assert off.ledger["hot water"] == 0.0
    assert off.ledger["hot water short"] == pytest.approx(2 * 60 * 35 * 1.163 * 3600, rel=1e-9)


def test_heating_drawn_from_the_top_takes_the_top_down_with_it():
    never = OnRise.model_construct(makes=22.0, breaks=21.0)  # so that no thermostat ends the heating early
    site = LARKRIGG.model_copy(update={"heating": LARKRIGG.heating.model_copy(update={"enough_heat": never})})
    hours = dict(start=70.0, programme=[Heating(0.0, 4 * HOUR, 6000.0)], duration=4 * HOUR)
    sound, wrong = (simulate(site, Conditions(faults=f, **hours)) for f in ((), ["heating drawn from the top"]))
    assert sound.layers[-1, -1] > 65.0
    assert wrong.layers[-1, -1] < 50.0


def test_pumping_over_costs_heat_while_the_pump_runs():
    hours = Conditions(start=70.0, programme=[Heating(0.0, 2 * HOUR, None, 21.0)], duration=3 * HOUR)
    over = simulate(QUILLBECK, Conditions(**(vars(hours) | {"faults": [Fault("pumping over at the vent")]})))
    running = np.count_nonzero(over.flows["heating"] > 0.0) / 60.0
    assert -over.ledger["pumped over"] / 3.6e6 == pytest.approx(0.6 * running, rel=1e-6)
    assert over.ledger.closure <= 1e-12


SUMMER = dict(begins=0.0, day=170, weather=invented_year())


def test_a_missing_non_return_valve_cools_the_store_at_night():
    night = dict(start=70.0, duration=6 * HOUR, **SUMMER)
    sound, open_ = (simulate(LARKRIGG, Conditions(faults=f, **night)) for f in ((), ["non-return valve missing"]))
    assert np.all(sound.flows["solar"] == 0.0)
    assert open_.flows["solar"].min() < 0.0
    losses = [run.layers[0].mean() - run.layers[-1].mean() for run in (sound, open_)]
    assert losses[1] > 1.5 * losses[0]
    assert open_.ledger.closure <= 1e-12


def test_a_slipped_solar_sensor_runs_the_pump_when_it_should_rest():
    day, slip = dict(start=60.0, duration=DAY, **SUMMER), Fault("solar sensor slipped", severity=25.0)
    sound, slipped = (simulate(LARKRIGG, Conditions(faults=f, **day)) for f in ((), [slip]))
    assert slipped.states["solar pump"].sum() > sound.states["solar pump"].sum()
    gains = [run.ledger["solar to store"] for run in (sound, slipped)]
    assert gains[1] < gains[0]


def test_an_immersion_with_a_welded_thermostat_climbs_to_its_cut_out():
    sunny = dict(start=60.0, begins=0.0, duration=3 * DAY, weather=Day(15.0, 25.0, 1000.0))
    sound, welded = (simulate(QUILLBECK, Conditions(faults=f, **sunny)) for f in ((), ["immersion thermostat welded"]))
    assert sound.layers[-1, -1] < 70.0
    trips = [event for event in welded.events if event.name.endswith("cut-out trips")]
    assert trips
    assert trips[0].temperature >= 85.0
    assert "E" in acted(welded)


def test_a_hand_clears_a_cut_out_only_once_it_has_cooled():
    """It clears ten kelvin below its trip, and not before: pressed hot, it stays as it is."""
    sunny = dict(
        start=60.0, begins=0.0, duration=3 * DAY, weather=Day(15.0, 25.0, 1000.0),
        faults=[Fault("immersion thermostat welded", 0.0, 1.5 * DAY)], draws=[(1.6 * DAY, 1.5, 45.0, 0.2)],
    )  # fmt: skip
    tripped = simulate(QUILLBECK, Conditions(**sunny))
    trip = next(event.time for event in tripped.events if event.name.endswith("cut-out trips"))
    assert trip < 1.5 * DAY
    for pressed, clears in ((trip + 60.0, False), (1.9 * DAY, True)):
        run = simulate(QUILLBECK, Conditions(resets=[pressed], **sunny))
        assert any(event.name.endswith("cut-out is reset") for event in run.events) == clears


def test_a_tripped_cut_out_lets_no_power_through():
    sunny = dict(start=30.0, begins=0.0, duration=DAY, weather=Day(15.0, 25.0, 1000.0))
    assert simulate(QUILLBECK, Conditions(**sunny)).ledger["immersions"] > 0.0
    tripped = simulate(QUILLBECK, Conditions(faults=["immersion cut-out tripped"], **sunny))
    assert tripped.powers["immersions"].max() == 0.0


def test_a_store_thermostat_stuck_made_runs_the_boiler_to_its_own_control():
    hours = dict(start=50.0, boiler=[(0.0, DAY)], duration=DAY)
    sound, stuck = (simulate(LARKRIGG, Conditions(faults=f, **hours)) for f in ((), ["store thermostat stuck made"]))
    assert stuck.ledger["boiler"] > sound.ledger["boiler"]
    assert stuck.readings["store boiler thermostat"][-1] > sound.readings["store boiler thermostat"][-1]


def test_a_boiler_thermostat_low_in_the_store_lets_the_boiler_run_long():
    hours = dict(start=40.0, boiler=[(0.0, DAY)], duration=DAY)
    sound, low = (simulate(LARKRIGG, Conditions(faults=f, **hours))
                  for f in ((), ["boiler thermostat low in the store"]))  # fmt: skip
    assert low.states["boiler"].sum() > sound.states["boiler"].sum()


def test_a_flat_vessel_swings_to_the_relief_valve():
    warm_up = dict(start=20.0, boiler=[(0.0, DAY)], duration=DAY)
    sound, flat = (simulate(TANSY, Conditions(faults=f, **warm_up)) for f in ((), ["vessel flat"]))
    gauge = [(run.readings["system pressure"] - 101_325.0) / 1e5 for run in (sound, flat)]
    assert gauge[0].max() < 2.5
    assert np.ptp(gauge[1]) > 1.5 * np.ptp(gauge[0])


# ---- windows, severities, refusals ---------------------------------------------------------------------------


def test_a_fault_lasts_as_long_as_its_window():
    run = hot_evening(LARKRIGG, Fault("charge pump dead", HOUR, 2 * HOUR), start=65.0)
    flowing = run.flows["burner to store"] > 0.0
    assert np.any(flowing[:60])
    assert not np.any(flowing[60:120])
    assert np.any(flowing[120:180])
    named = [event.name for event in run.events if event.name.startswith("charge pump dead")]
    assert named == ["charge pump dead begins", "charge pump dead ends"]


def test_a_power_cut_stops_all_that_needs_power_and_it_starts_again():
    run = simulate(LARKRIGG, Conditions(
        start=50.0, begins=6 * HOUR, duration=8 * HOUR, boiler=[(0.0, 8 * HOUR)], weather=Day(0.0, 10.0, 800.0),
        programme=[Heating(0.0, 8 * HOUR, 4000.0)], faults=[Fault("power cut", 3 * HOUR, 4 * HOUR)],
    ))  # fmt: skip
    cut = slice(180, 240)
    for name in ("charge pump", "heating pump", "boiler", "boiler pump", "solar pump"):
        assert not np.any(run.states[name][cut]), name
    assert np.any(run.states["boiler"][240:])


@pytest.mark.parametrize(
    ("faults", "says"),
    [
        (["gremlins"], "no fault is known by the name 'gremlins'; the names are"),
        (["loading valve stuck open", "loading valve stuck shut"], "both take hold of the loading valve at one time"),
        ([Fault("coil scaled", 0.0, HOUR), Fault("coil scaled", 1800.0)], "both take hold of the hot-water coil"),
        ([Fault("coil scaled", severity=2.0)], "share of its conductance that is lost, must be 0.95 or less; got 2"),
        ([Fault("fill loop open", severity=60.0)], r"water let in \[l/h\], must be 4 or less; got 60"),
        ([Fault("power cut", severity=0.5)], "the severity of the fault 'power cut' must be 1 or more; got 0.5"),
        ([Fault("power cut", HOUR, HOUR)], "the end of the fault 'power cut' must be above 3600 s; got 3600"),
        ([Fault("power cut", 2 * DAY)], "the beginning of the fault 'power cut' must be 86400 s or less"),
    ],
)
def test_impossible_faults_are_refused_in_words(faults, says):
    with pytest.raises(OutOfRange, match=says):
        Conditions(faults=faults)


def test_the_same_fault_may_come_again_later():
    assert len(Conditions(faults=[Fault("power cut", 0.0, HOUR), Fault("power cut", HOUR, 2 * HOUR)]).faults) == 2


@pytest.mark.parametrize(
    ("site", "fault", "says"),
    [
        (TANSY, "charge pump dead", r"3 Tansy Wharf has no \[burner\], so it cannot suffer 'charge pump dead'"),
        (TANSY, "thermal valve passing", r"has no \[safety.thermal_valve\]"),
        (LARKRIGG, "vessel flat", r"Larkrigg Farm has no \[vessel\]"),
        (LARKRIGG, "relief valve passing", r"Larkrigg Farm has no \[vessel\]"),
        (QUILLBECK, "fill loop open", r"Quillbeck Hall has no \[vessel\]"),
        (LARKRIGG, "immersion cut-out tripped", r"has no \[immersions\]"),
        (QUILLBECK, "solar sensor slipped", r"has no \[solar\]"),
        (LARKRIGG, "store limit stuck open", "charge pump is wired without the store limit"),
    ],
)
def test_a_fault_of_a_part_that_is_not_there_is_refused(site, fault, says):
    with pytest.raises(OutOfRange, match=says):
        simulate(site, Conditions(faults=[fault]))


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_the_books_balance_through_any_faults(data):
    site = data.draw(st.sampled_from([LARKRIGG, QUILLBECK, TANSY]))
    names = data.draw(st.lists(st.sampled_from(sorted(FAULTS)), max_size=4, unique=True))
    faults = []
    for name in names:
        kind = FAULTS[name]
        begins = data.draw(st.floats(0.0, 80_000.0))
        faults.append(Fault(name, begins, begins + data.draw(st.floats(60.0, 40_000.0)),
                            data.draw(st.floats(kind.least, kind.most))))  # fmt: skip
    conditions = dict(
        start=Start(data.draw(st.floats(15.0, 90.0)), data.draw(st.floats(15.0, 90.0))),
        begins=data.draw(st.sampled_from([0.0, 10 * HOUR, 19 * HOUR])), day=200, weather=invented_year(),
        firing=[(HOUR, data.draw(st.floats(1.0, 15.0)), 0.2)] if site.burner else (), draws=SHOWERS,
        programme=[Heating(0.0, 10 * HOUR, None, 20.0)], boiler=[(0.0, DAY)],
    )  # fmt: skip
    try:
        day = simulate(site, Conditions(faults=faults, **conditions))
    except OutOfRange:  # a part that is not there, or two faults on one thing: refused, as tested above
        reject()
    assert day.ledger.closure <= 1e-12
    assert np.all(np.isfinite(day.layers))
    assert day.layers.max() <= 115.0
