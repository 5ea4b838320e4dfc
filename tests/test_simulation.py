"""An installation through a day: books, limits, what each appliance must do, and known answers.

Outside checks here: the taught sums of an evening fire (1.163 Wh per litre and kelvin; wood's net calorific value
by moisture), the mixing balance, EN 442's radiator exponent. Invented: the place.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import installation, tables
from tlib.installation import OnRise
from tlib.simulation import Conditions, Start, boiling_point, installed, simulate
from tlib.validation import OutOfRange

HOUR = 3600.0
LARKRIGG = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
SHOWER = (0.048, 40.0, 8 / 60)
EVENING = Conditions(
    start=35.0,
    firing=[(HOUR, 8.0, 0.20)],
    draws=[(13.5 * HOUR, *SHOWER), (14 * HOUR, *SHOWER)],
    programme=[(HOUR, 5 * HOUR, 2000.0)],
)


def test_a_quiet_day_only_loses_heat():
    day = simulate(LARKRIGG, Conditions(start=70.0))  # the burner starts, and stays, as warm as its room
    assert {name for name, power in day.powers.items() if np.any(power)} == {"standing loss"}
    assert day.layers[-1].mean() < 70.0


def test_the_books_of_an_evening_balance():
    evening = simulate(LARKRIGG, EVENING)
    assert evening.ledger.closure <= 1e-12
    fuel = evening.ledger["fuel"]
    parts = sum(evening.ledger[name] for name in ("fire to water", "fire to room", "flue", "unburnt"))
    assert parts == pytest.approx(fuel, rel=1e-12)


def test_eight_kilos_give_the_heat_of_the_hand_sum():
    """8 kg at 20 % moisture, 0.75, 0.65: (19.0 (1 - w) - 2.44 w) / 3.6 kWh/kg gives 15.9 kWh to the water."""
    evening = simulate(LARKRIGG, EVENING)
    by_hand = 8 * (19.0 * 0.8 - 2.44 * 0.2) / 3.6 * 0.75 * 0.65
    assert evening.ledger["fire to water"] / 3.6e6 == pytest.approx(by_hand, rel=1e-6)
    assert by_hand == pytest.approx(15.9, abs=0.05)


def test_a_store_left_hot_loses_what_the_hand_sum_says():
    """80 °C at 22:00, 1.85 W/K, a room at 15 °C: 77.3 °C at 06:00, by exp(-8 h / 188 h)."""
    night = simulate(LARKRIGG, Conditions(start=80.0, begins=22 * HOUR, duration=8 * HOUR))
    by_hand = 15 + 65 * math.exp(-8 / (300 * 1.163 / 1.85))
    assert night.layers[-1].mean() == pytest.approx(by_hand, abs=0.05)
    assert by_hand == pytest.approx(77.3, abs=0.05)


def test_the_fire_fills_from_its_flow_up_and_the_return_stays_cool():
    evening = simulate(LARKRIGG, Conditions(start=35.0, firing=[(HOUR, 6.0, 0.20)]))
    bands = evening.bands(2 * HOUR)
    assert bands[-1] > 48.0
    assert bands[0] < 42.0


def test_the_same_kilos_wetter_give_a_fifth_less():
    dry, wet = (simulate(LARKRIGG, Conditions(firing=[(0.0, 8.0, w)])).ledger["fire to water"] for w in (0.20, 0.35))
    assert 1 - wet / dry == pytest.approx(0.22, abs=0.005)


def test_showers_are_warm_from_a_hot_store_and_short_from_a_cool_one():
    def tap(start):
        run = simulate(LARKRIGG, Conditions(start=start, draws=[(HOUR, *SHOWER)], duration=2 * HOUR))
        return np.nanmin(run.readings["tap"])

    assert tap(75.0) == pytest.approx(40.0, abs=1e-6)
    assert tap(38.0) < 38.0


def test_the_heat_of_a_shower_is_that_of_the_hand_sum():
    """8 l/min for 6 min from 10 to 40 °C: 48 x 30 x 1.163 Wh."""
    run = simulate(LARKRIGG, Conditions(start=75.0, draws=[(HOUR, *SHOWER)], duration=2 * HOUR))
    assert -run.ledger["hot water"] == pytest.approx(48 * 30 * 1.163 * 3600, rel=1e-6)


def test_blending_takes_the_share_of_the_mixing_balance():
    """Coil water at the tap's own share: (wanted - cold) / (coil - cold), whatever the coil gives."""
    run = simulate(LARKRIGG, Conditions(start=75.0, draws=[(HOUR, *SHOWER)], duration=2 * HOUR))
    k = int(HOUR / 60)
    share = run.flows["hot-water coil"][k] / SHOWER[2]
    coil = run.readings["hot-water coil"][k]
    assert share == pytest.approx((40 - 10) / (coil - 10), rel=1e-6)


@pytest.mark.parametrize("step", [60.0, 30.0, 15.0])
def test_the_step_hardly_moves_what_the_fire_stores(step):
    """Against a step of one second, while no thermostat stands near its setting (it would make the answer jump)."""

    def stored(step):
        run = simulate(LARKRIGG, Conditions(start=35.0, firing=[(0.0, 6.0, 0.20)], duration=3 * HOUR), step=step)
        return run.ledger["burner to store"] / 3.6e6

    assert stored(step) == pytest.approx(stored(1.0), abs=0.01)


def test_more_layers_agree():
    coarse, fine = (simulate(LARKRIGG, EVENING, layers=n).bands(13 * HOUR) for n in (48, 96))
    assert np.abs(coarse - fine).max() < 2.0
    assert coarse.mean() == pytest.approx(fine.mean(), abs=0.2)


def test_uncompiled_and_compiled_agree(monkeypatch):
    fast = simulate(LARKRIGG, EVENING, layers=20)
    monkeypatch.setattr(installed, "_ENGINE", installed._ENGINE.plain)
    slow = simulate(LARKRIGG, EVENING, layers=20)
    assert slow.layers == pytest.approx(fast.layers, abs=1e-9)


def test_the_same_input_gives_the_same_result_bit_for_bit():
    one, two = simulate(LARKRIGG, EVENING), simulate(LARKRIGG, EVENING)
    assert np.array_equal(one.layers, two.layers)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(15, 85), st.lists(st.tuples(st.floats(0, 80_000), st.floats(0, 10), st.floats(0, 0.5)), max_size=3),
    st.lists(st.tuples(st.floats(0, 86_000), st.floats(0, 0.1), st.floats(20, 50), st.floats(0.03, 0.3)), max_size=6),
    st.lists(st.tuples(st.floats(0, 40_000), st.floats(40_000, 86_000), st.floats(0, 9000)), max_size=2),
    st.sampled_from([20, 50, 100]), st.sampled_from([15.0, 60.0]),
)  # fmt: skip
def test_the_books_balance_whatever_happens(start, firing, draws, programme, layers, step):
    day = simulate(LARKRIGG, Conditions(start=start, firing=firing, draws=draws, programme=programme), step, layers)
    assert day.ledger.closure <= 1e-12
    assert np.all(np.diff(day.layers, axis=1) >= -1e-9), "a merged store is in order"


def test_too_much_wood_on_a_hot_store_ends_in_boiling():
    undumped = LARKRIGG.model_copy(update={"safety": None})
    hot = simulate(undumped, Conditions(start=Start(75.0, 70.0), firing=[(600.0, 20.0, 0.15)]))
    assert hot.boiled
    assert hot.events[-1].name == "boiled"
    assert hot.events[-1].temperature >= boiling_point(LARKRIGG)
    assert hot.time[-1] < 24 * HOUR
    assert hot.ledger.closure <= 1e-12


def test_a_dead_fire_never_pumps_faster_than_its_pump():
    """A jacket a shade above the valve's opening must not divide by what is left of the difference."""
    for store in (59.95, 59.9721, 59.97205, 60.0):
        run = simulate(LARKRIGG, Conditions(start=Start(store, 60.0), duration=HOUR / 6))
        assert run.flows["burner to store"].min() >= 0.0
        assert run.flows["burner to store"].max() <= LARKRIGG.burner.pump.flow * (1 + 1e-9)


def test_a_store_that_starts_too_hot_says_that_it_boiled():
    run = simulate(LARKRIGG, Conditions(start=(60.0,) * 48 + (112.0,) * 2, duration=HOUR))
    assert run.boiled
    assert run.time[-1] == 60.0


def test_the_boiler_is_the_only_source_that_can_wait():
    """While the burner's pipe is hot the boiler stands by; in the same store without a fire it fires at once."""
    hours = dict(start=40.0, boiler=[(0.0, 6 * HOUR)], duration=6 * HOUR)
    alone, beside = (simulate(LARKRIGG, Conditions(firing=fire, **hours)) for fire in ((), [(0.0, 8.0, 0.2)]))
    assert alone.states["boiler"][0] == 1
    charging = np.flatnonzero(beside.states["charge pump"])
    assert charging.size > 60
    assert not np.any(beside.states["boiler"][charging[5:]])


def test_heating_drawn_below_the_hot_water_leaves_the_shower_its_heat():
    """Common practice, no source: the heating flow leaves at 0.60 so that what lies above it stays for the taps."""
    never = OnRise.model_construct(makes=22.0, breaks=21.0)  # so that no thermostat ends the heating early
    low = LARKRIGG.model_copy(update={"heating": LARKRIGG.heating.model_copy(update={"enough_heat": never})})
    high = low.model_copy(update={"store": low.store.model_copy(
        update={"connections": low.store.connections | {"heating_flow": 1.0}})})  # fmt: skip
    evening = Conditions(start=70.0, programme=[(0.0, 4 * HOUR, 6000.0)], duration=5 * HOUR)
    low_top, high_top = (simulate(site, evening).layers[-1, -1] for site in (low, high))
    assert low_top > 65.0
    assert high_top < low_top - 15.0


def shower_minutes(top):
    """Minutes at 10 l/min, 40 °C from 10 °C, until the tap falls below 38 °C, from a store all at one temperature."""
    run = simulate(LARKRIGG, Conditions(start=top, draws=[(0.0, 1.0, 40.0, 10 / 60)], duration=HOUR))
    warm = run.readings["tap"] >= 38.0
    return int(np.argmin(warm)) if not np.all(warm) else warm.size


def test_a_top_at_sixty_gives_cool_water_and_half_the_showers():
    """The trade's figures, common practice, no source: at 60 instead of 80 °C, 10 l/min no longer reaches 48 °C."""

    def first_minute(top):
        run = simulate(LARKRIGG, Conditions(start=top, draws=[(0.0, 0.02, 50.0, 10 / 60)], duration=HOUR))
        return run.readings["hot-water coil"][0]

    assert first_minute(80.0) > 48.0
    assert first_minute(60.0) < 48.0
    assert shower_minutes(60.0) <= 0.5 * shower_minutes(80.0)


def test_a_house_that_is_followed_comes_to_its_room_temperature():
    day = Conditions(
        start=70.0, weather=0.0, boiler=[(0.0, 24 * HOUR)], programme=[(0.0, 24 * HOUR, None, 20.0)],
    )  # fmt: skip
    run = simulate(LARKRIGG, day)
    assert run.readings["room"][-1] == pytest.approx(19.75, abs=0.6)
    assert run.ledger["house loss"] < 0.0
    assert "heating" not in run.ledger.heats
    assert run.ledger.closure <= 1e-12


def test_without_heating_there_is_nowhere_to_dump():
    sealed_off = LARKRIGG.model_copy(update={"heating": None})
    run = simulate(sealed_off, Conditions(start=92.0, duration=HOUR))
    assert not np.any(run.flows["heating"])
    assert run.ledger["heating"] == 0.0


def test_the_boiling_point_is_that_of_the_head():
    """5 m of water above the store: 150.3 kPa absolute; the steam tables give 111.4 °C there (IAPWS-IF97)."""
    from iapws import IAPWS97

    pressure = (101_325 + 999.7 * 9.80665 * 5) / 1e6
    assert boiling_point(LARKRIGG) == pytest.approx(IAPWS97(P=pressure, x=0).T - 273.15, abs=0.02)


def test_the_high_limit_dumps_into_the_heating_at_any_hour():
    hot = simulate(LARKRIGG, Conditions(start=Start(86.0, 80.0), firing=[(600.0, 4.0, 0.20)]))
    dump = next(event for event in hot.events if event.name == "high limit makes")
    assert dump.temperature >= 90.0
    k = int(dump.time / 60)
    assert hot.flows["heating"][k] > 0.0


def test_arrays_of_a_result_are_closed_to_writing():
    day = simulate(LARKRIGG, Conditions(duration=HOUR))
    with pytest.raises(ValueError, match="read-only"):
        day.layers[0, 0] = 1.0


# ---- refusals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "says"),
    [
        (dict(firing=[(0.0, -1.0, 0.2)]), "logs must be 0 kg or more; got -1"),
        (dict(firing=[(0.0, 1.0, 1.2)]), "moisture must be"),
        (dict(draws=[(0.0, 0.05, 60.0, 0.1)]), "temperature of a draw must be 50 °C or less; got 60"),
        (dict(draws=[(90_000.0, 0.05, 40.0, 0.1)]), "the time of a draw must be 86400 s or less"),
        (dict(programme=[(HOUR, 0.0, 1000.0)]), "the end of a heating period must be 3600 s or more; got 0"),
        (dict(faults=["gremlins"]), "no fault is known by the name 'gremlins'"),
        (dict(start=float("inf")), "the store's temperature at the start must be a finite number"),
        (dict(duration=100.0), "whole number of steps"),
        (dict(start=Start(35.0, float("nan"))), "the burner's temperature at the start must be a finite number"),
    ],
)
def test_impossible_conditions_are_refused_in_words(case, says):
    with pytest.raises(OutOfRange, match=says):
        simulate(LARKRIGG, Conditions(**case))


def test_a_step_longer_than_a_minute_is_refused():
    with pytest.raises(OutOfRange, match="the step must be 60 s or less; got 600"):
        simulate(LARKRIGG, Conditions(), step=600.0)


def test_a_use_without_its_part_is_refused():
    bare = LARKRIGG.model_copy(update={"burner": None})
    with pytest.raises(OutOfRange, match=r"Larkrigg Farm has no \[burner\], so firing must be empty"):
        simulate(bare, Conditions(firing=[(0.0, 1.0, 0.2)]))


def test_a_store_without_any_parts_still_runs():
    bare = LARKRIGG.model_copy(update={"burner": None, "heating": None, "hot_water": None, "safety": None})
    day = simulate(bare, Conditions(start=60.0))
    assert day.ledger.closure <= 1e-12
    assert -day.ledger["standing loss"] > 0
