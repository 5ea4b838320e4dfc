"""Each control rule walked row by row, and each thermostat at exactly its settings.

The rows are written out here a second time, from the wiring in words; common practice, no source.
"""

from itertools import product

import numpy as np
import pytest

from tlib.controls import (
    BOILER_DEMAND,
    CHARGE_PUMP,
    CHARGE_PUMP_LIMITED,
    HEATING,
    breaks_on_rise,
    makes_on_rise,
    manual_reset,
)


@pytest.mark.parametrize("clock", [0, 1])
@pytest.mark.parametrize(("room", "enough", "high"), list(product([0, 1], repeat=3)))
def test_heating_runs_when_wanted_and_able_or_to_dump(clock, room, enough, high):
    assert HEATING[clock, room, enough, high] == int((clock and room and enough) or high)


@pytest.mark.parametrize(("clock", "store", "pipe"), list(product([0, 1], repeat=3)))
def test_the_boiler_waits_while_the_fire_is_charging(clock, store, pipe):
    assert BOILER_DEMAND[clock, store, pipe] == int(clock and store and not pipe)


def test_boiler_demand_has_one_true_row_in_eight():
    assert BOILER_DEMAND.sum() == 1


def test_a_hot_store_never_stops_the_charge_pump_unless_it_is_wired_to():
    assert CHARGE_PUMP.tolist() == [0, 1]
    assert CHARGE_PUMP_LIMITED.tolist() == [[0, 0], [0, 1]]


@pytest.mark.parametrize(
    ("state", "temperature", "expected"),
    [(0, 54.9, 0), (0, 55.0, 1), (1, 54.9, 1), (1, 47.1, 1), (1, 47.0, 0), (0, 47.1, 0)],
)
def test_a_pipe_thermostat_makes_on_the_rise(state, temperature, expected):
    assert makes_on_rise(state, temperature, 55.0, 47.0) == expected


@pytest.mark.parametrize(
    ("state", "temperature", "expected"),
    [(1, 74.9, 1), (1, 75.0, 0), (0, 74.9, 0), (0, 67.1, 0), (0, 67.0, 1), (1, 67.1, 1)],
)
def test_a_store_thermostat_breaks_on_the_rise(state, temperature, expected):
    assert breaks_on_rise(state, temperature, 75.0, 67.0) == expected


def test_inside_the_gap_the_temperature_alone_cannot_tell_the_state():
    up = down = 0
    for temperature in np.arange(40.0, 51.0):
        up = makes_on_rise(up, temperature, 55.0, 47.0)
    for temperature in np.arange(60.0, 49.0, -1.0):
        down = makes_on_rise(down, temperature, 55.0, 47.0)
    assert (up, down) == (0, 1), "both stand at 50 °C"


@pytest.mark.parametrize(
    ("tripped", "temperature", "pressed", "expected"),
    [(0, 89.9, 0, 0), (0, 90.0, 0, 1), (1, 20.0, 0, 1), (1, 80.0, 1, 1), (1, 79.9, 1, 0), (0, 95.0, 1, 1)],
)
def test_a_manual_reset_needs_a_hand_and_ten_kelvin(tripped, temperature, pressed, expected):
    assert manual_reset(tripped, temperature, 90.0, pressed) == expected
