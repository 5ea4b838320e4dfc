"""Book 02's printed numbers, worked again by the library; tolerance is half the last figure that the course prints.

The numbers are our own course sums, worked by hand twice; published numbers behind them stand in published/.
"""

import numpy as np
import pytest

from tlib.panels import starts
from tlib.panels.books import hot_on_top
from tlib.solar_radiation import collector_efficiency
from tlib.stratification import mix_number, usable_heat

KWH, STORE = 3.6e6, 300.0
MIXED, LAYERED, STIRRED, _ = (line.value for line in hot_on_top.sums(hot_on_top.BY_HAND))
A = hot_on_top.two_layers(0.4, 75.0, 35.0)
GOOD, BAD = [35, 35, 38, 62, 74, 75], [45, 48, 52, 56, 61, 68]
SIX = np.array([30, 30, 32, 58, 72, 74])
START = starts(*hot_on_top.SIGHT, *hot_on_top.MORE)

PRINTED = {
    "both stores, mean [°C]": (A.mean(), 51, 0.5),
    "mixed [°C]": (MIXED, 51, 0.5),
    "A above 40 °C [kWh]": (LAYERED / KWH, 4.88, 0.005),
    "B above 40 °C [kWh]": (STIRRED / KWH, 3.84, 0.005),
    "A above 40 °C, layer by layer [kWh]": (usable_heat(A, STORE, 40.0) / KWH, 4.88, 0.005),
    "A above 60 °C [l]": (STORE * np.mean(A > 60), 120, 0.5),
    "good layers, MIX": (mix_number(GOOD, 35, 75), 0.045, 0.0005),
    "poor layers, MIX": (mix_number(BAD, 35, 75), 0.56, 0.005),
    "poor layers by their own ends, MIX": (mix_number(BAD, 45, 68), 0.22, 0.005),
    "collector at 30 °C [%]": (100 * collector_efficiency(600.0, 15.0, 0.78, 3.9, 0.0), 68, 0.5),
    "collector at 65 °C [%]": (100 * collector_efficiency(600.0, 50.0, 0.78, 3.9, 0.0), 46, 0.5),
    "six layers, mean [°C]": (SIX.mean(), 49.3, 0.05),
    "six layers above 50 °C [kWh]": (usable_heat(SIX, STORE, 50.0) / KWH, 3.14, 0.005),
    "six layers stirred, above 50 °C [kWh]": (usable_heat(np.full(6, SIX.mean()), STORE, 50.0) / KWH, 0, 0.005),
}


@pytest.mark.parametrize("name", PRINTED)
def test_printed_number(name):
    ours, printed, half = PRINTED[name]
    assert ours == pytest.approx(printed, abs=half)


def did(**values):
    """Return the two pictures for these values, and the numbers of the second one."""
    where, what = hot_on_top.pictures(**START | values)
    return where, what, {name: (float(was.split()[0]), float(now.split()[0])) for name, was, now in what.rows[1:]}


def test_warm_water_at_the_top_brings_heat_and_takes_the_taps():
    """By hand: 120 l at 75 °C and 60 l at 45 °C, mixed as the warm water sinks through the hot, make 65 °C."""
    where, what, told = did()
    assert "heavier than what lies below its inlet. It sinks" in where.words
    assert "The store gained" in what.words
    assert told["top of the store"][0] == 75
    assert told["top of the store"][1] == pytest.approx(
        (120 * 75 + 60 * 45) / 180, abs=1.5
    )  # and the jet stirs a little
    assert told["heat above 60 °C"][1] < 0.5 * told["heat above 60 °C"][0]


def test_the_guess_stands_beside_what_the_top_did_and_what_was_there_before():
    where, what = hot_on_top.pictures(**START, prediction="It stays at 75 °C")
    assert "The top was 75 °C and is now 64 °C. You predicted: it stays at 75 °C." in where.words
    assert "predicted" not in what.words
    assert [row[:2] for row in where.rows if row[0].startswith("before")] == [
        ("before: 35 °C", "0 % to 60 %"),
        ("before: 75 °C", "60 % to 100 %"),
    ]


def test_a_store_of_one_temperature_has_one_bracket():
    where, _ = hot_on_top.pictures(**START | {"hot_share": 0})
    assert [row[0] for row in where.rows if row[0].startswith("before")] == ["before: 35 °C"]


def test_the_player_begins_with_the_store_before_and_ends_with_the_panels_store():
    run = hot_on_top.come_in(**START)
    (first,), (last,) = (hot_on_top.frame(run, time) for time in (0.0, 1200.0))
    assert first.words == "The top is still at 75 °C. The bottom is at 35 °C."
    assert [row[2] for row in last.rows[1:13]] == [row[2] for row in hot_on_top.pictures(**START)[0].rows[1:13]]
    assert "1 minute later" in hot_on_top.frame(run, 60.0)[0].markup


def test_the_same_water_put_in_low_leaves_the_top_alone():
    where, _, told = did(inlet_height=0.1)
    assert "lighter than what lies above its inlet. It rises" in where.words
    assert told["top of the store"] == (75, 75)
    assert "The top is still at 75 °C." in where.words
    _, _, high = did()
    assert told["how stirred"][1] < 0.5 * high["how stirred"][1]


def test_a_fast_pump_stirs_what_its_water_never_reaches():
    slow, fast = did(inlet_height=0.5, inlet_flow=3)[2], did(inlet_height=0.5, inlet_flow=40)[2]
    assert fast["how stirred"][1] > 2 * slow["how stirred"][1]
    assert fast["heat above 60 °C"][1] < 0.7 * slow["heat above 60 °C"][1]


def test_water_goes_home_to_where_the_store_is_as_warm():
    layers = hot_on_top.two_layers(0.4, 75.0, 35.0)
    assert hot_on_top.home(layers, 45.0) == pytest.approx(0.6)
    assert hot_on_top.home(layers, 20.0) == 0.0
    assert hot_on_top.home(layers, 85.0) == 1.0


def test_the_edge_between_two_layers_may_lie_inside_one():
    assert hot_on_top.two_layers(0.41, 75.0, 35.0).mean() == pytest.approx(0.41 * 75 + 0.59 * 35)


def test_what_comes_in_and_goes_out_is_what_the_store_gained():
    run = hot_on_top.come_in(40, 1, 3, 45, 75, 35)
    assert run.ledger.closure <= 1e-12
    gained = (run.layers[-1].mean() - run.layers[0].mean()) * STORE * 1.163 / 1000
    _, what, _ = did()
    assert f"gained {gained:.1f} kWh" in what.words


def test_stirring_is_counted_between_ends_that_stay_and_are_named():
    _, what, _ = did(inlet_temperature=85, inlet_height=0)
    assert "counted from 35 to 85 °C" in what.words
    assert hot_on_top.ends_of(75, 35, 20) == (20, 75)


def test_a_store_of_one_temperature_has_no_stirring_to_count():
    _, what = hot_on_top.pictures(**START | {"hot_share": 100, "inlet_temperature": 75})
    assert "It has one temperature, so there is no stirring to count." in what.words
    assert what.rows[-1][:2] == ("how stirred", "not defined")


def test_the_two_stores_say_what_the_sum_says():
    a, b = (hot_on_top.two_stores(mixed) for mixed in (False, True))
    assert "120 litres above 60 °C. Above 40 °C it holds 4.9 kWh" in a.words
    assert "no water above 60 °C. Above 40 °C it holds 3.8 kWh" in b.words
    assert a.rows[-1][:2] == ("120 l above 60 °C", "60 % to 100 %")
    assert b.rows[-1][0] == "none above 60 °C"


def test_lines_are_left_out_and_then_all():
    assert list(hot_on_top.second_store().fields) == [1, 3]
    assert list(hot_on_top.third_store().fields) == [1, 2, 3, 4]
