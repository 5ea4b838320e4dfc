"""Each control rule walked row by row, and each thermostat at exactly its settings.

The rows are written out here a second time, from the wiring in words; common practice, no source.
"""

from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest

from tlib.controls import (
    BOILER_DEMAND,
    BREAKS_ON_RISE,
    CHARGE_PUMP,
    CHARGE_PUMP_LIMITED,
    HEATING,
    HIGH_FIRST,
    IMMERSION,
    LOCKS_OUT,
    MAKES_ON_RISE,
    Contact,
    breaks_on_rise,
    difference_latch,
    makes_on_rise,
    manual_reset,
    move_contact,
)

# Pipe thermostat, store over its high limit, charge pump.
CHARGE_ROWS = [(0, 0, 0), (0, 1, 0), (1, 0, 1), (1, 1, 1)]
# Pipe thermostat, store under its limit, charge pump.
LIMITED_ROWS = [(0, 0, 0), (0, 1, 0), (1, 0, 0), (1, 1, 1)]
# Clock, store thermostat, pipe thermostat, boiler demand.
BOILER_ROWS = [
    (0, 0, 0, 0), (0, 0, 1, 0), (0, 1, 0, 0), (0, 1, 1, 0),
    (1, 0, 0, 0), (1, 0, 1, 0), (1, 1, 0, 1), (1, 1, 1, 0),
]  # fmt: skip
# Clock, room thermostat, enough heat, high limit, heating pump and zone valve.
HEATING_ROWS = [
    (0, 0, 0, 0, 0), (0, 0, 1, 0, 0), (0, 1, 0, 0, 0), (0, 1, 1, 0, 0),
    (1, 0, 0, 0, 0), (1, 0, 1, 0, 0), (1, 1, 0, 0, 0), (1, 1, 1, 0, 1),
    (0, 0, 0, 1, 1), (0, 0, 1, 1, 1), (0, 1, 0, 1, 1), (0, 1, 1, 1, 1),
    (1, 0, 0, 1, 1), (1, 0, 1, 1, 1), (1, 1, 0, 1, 1), (1, 1, 1, 1, 1),
]  # fmt: skip
# Supply, cut-out whole, thermostat calls, surplus, immersion heater.
IMMERSION_ROWS = [
    (0, 0, 0, 0, 0), (0, 0, 0, 1, 0), (0, 0, 1, 0, 0), (0, 0, 1, 1, 0),
    (0, 1, 0, 0, 0), (0, 1, 0, 1, 0), (0, 1, 1, 0, 0), (0, 1, 1, 1, 0),
    (1, 0, 0, 0, 0), (1, 0, 0, 1, 0), (1, 0, 1, 0, 0), (1, 0, 1, 1, 0),
    (1, 1, 0, 0, 0), (1, 1, 0, 1, 0), (1, 1, 1, 0, 0), (1, 1, 1, 1, 1),
]  # fmt: skip
# A draw is due soon, the top is cool, the upper heater goes first.
HIGH_FIRST_ROWS = [(0, 0, 0), (0, 1, 0), (1, 0, 0), (1, 1, 1)]


@pytest.mark.parametrize(("pipe", "over", "pump"), CHARGE_ROWS)
def test_charge_pump_by_its_pipe_thermostat_row_by_row(pipe, over, pump):
    assert CHARGE_PUMP[pipe] == pump, f"whether the store is over its high limit ({over}) does not matter"


@pytest.mark.parametrize(
    ("rule", "rows"),
    [
        (CHARGE_PUMP_LIMITED, LIMITED_ROWS),
        (BOILER_DEMAND, BOILER_ROWS),
        (HEATING, HEATING_ROWS),
        (IMMERSION, IMMERSION_ROWS),
        (HIGH_FIRST, HIGH_FIRST_ROWS),
    ],
    ids=["charge pump with a store limit", "boiler demand", "heating", "immersion", "upper first"],
)
def test_each_rule_row_by_row(rule, rows):
    assert len(rows) == len(set(rows)) == rule.size, "every combination stands there once"
    wrong = [row for row in rows if rule[row[:-1]] != row[-1]]
    assert wrong == []


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


@pytest.mark.parametrize(
    ("state", "difference", "allowed", "expected"),
    [
        (0, 6.9, 1, 0), (0, 7.0, 1, 1), (1, 6.9, 1, 1), (1, 3.1, 1, 1), (1, 3.0, 1, 0), (0, 3.1, 1, 0),
        (0, 20.0, 0, 0), (1, 20.0, 0, 0), (1, 5.0, 0, 0),
    ],
)  # fmt: skip
def test_a_differential_control_starts_at_seven_stops_at_three_and_obeys_its_limits(
    state, difference, allowed, expected
):
    assert difference_latch(state, difference, 7.0, 3.0, allowed) == expected


@pytest.mark.parametrize(
    ("kind", "upper", "lower", "was", "felt", "pressed", "expected"),
    [
        (MAKES_ON_RISE, 55.0, 47.0, 0, 55.0, 0, 1), (MAKES_ON_RISE, 55.0, 47.0, 1, 47.0, 0, 0),
        (MAKES_ON_RISE, 55.0, 47.0, 1, 50.0, 0, 1), (BREAKS_ON_RISE, 75.0, 67.0, 1, 75.0, 0, 0),
        (BREAKS_ON_RISE, 75.0, 67.0, 0, 67.0, 0, 1), (BREAKS_ON_RISE, 75.0, 67.0, 0, 70.0, 0, 0),
        (LOCKS_OUT, 85.0, 75.0, 1, 85.0, 0, 0), (LOCKS_OUT, 85.0, 75.0, 1, 84.9, 0, 1),
        (LOCKS_OUT, 85.0, 75.0, 0, 20.0, 0, 0), (LOCKS_OUT, 85.0, 75.0, 0, 75.0, 1, 0),
        (LOCKS_OUT, 85.0, 75.0, 0, 74.9, 1, 1), (LOCKS_OUT, 85.0, 75.0, 0, 90.0, 1, 0),
    ],
)  # fmt: skip
def test_a_contact_moves_by_its_kind_and_says_whether_it_moved(kind, upper, lower, was, felt, pressed, expected):
    """A cut-out is made, 1, while it is whole; once tripped it stays open until a hand resets it, 10 K lower."""
    contact = SimpleNamespace(**Contact(feels=0, kind=kind, upper=upper, lower=lower, state=was)._asdict())
    assert move_contact(contact, felt, pressed) == (expected != was)
    assert contact.state == expected
