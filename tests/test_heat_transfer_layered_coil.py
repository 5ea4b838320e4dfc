"""The coil that changes the layers it passes: closed forms, closure, and the still store as its limit."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import heat_transfer as heat
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT, march_coil, outlet_of_coil

ROW = st.lists(st.floats(5.0, 95.0), min_size=2, max_size=12)


def march(layers, inlet=10.0, flow=0.15, span=60.0, capacity=25_000.0, ua=1500.0, first=0, last=None):
    layers = np.array(layers, dtype=float)
    last = len(layers) - 1 if last is None else last
    conductances = np.full(len(layers), ua / len(layers))
    outlet, taken = march_coil(layers, conductances, first, last, flow, inlet, span, capacity)
    return layers, outlet, taken


@pytest.mark.parametrize("layers", [1, 5, 50])
def test_in_water_of_one_temperature_that_hardly_changes_it_is_one_exchanger(layers):
    _, outlet, _ = march(np.full(layers, 60.0), capacity=1e15)
    assert outlet == pytest.approx(heat.coil_outlet(60.0, 10.0, 1500.0, 0.15 * SPECIFIC_HEAT), abs=1e-6)


@pytest.mark.parametrize(("layers", "bound"), [(10, 0.08), (20, 0.02), (70, 0.002)])
def test_in_a_straight_profile_it_comes_to_the_closed_form_with_order_two(layers, bound):
    # Outlet T0 + g - g/N + (Tin - T0 + g/N) exp(-N), 30 to 70 °C, N transfer units: solved by hand.
    units = 1500.0 / (0.15 * SPECIFIC_HEAT)
    exact = 30.0 + 40.0 - 40.0 / units + (10.0 - 30.0 + 40.0 / units) * np.exp(-units)
    profile = 30.0 + 40.0 * (np.arange(layers) + 0.5) / layers
    _, outlet, _ = march(profile, capacity=1e15)
    assert abs(outlet - exact) < bound


@settings(deadline=None)
@given(ROW, st.floats(5.0, 95.0), st.floats(0.001, 1.0), st.floats(1.0, 600.0))
def test_heat_out_of_the_water_is_heat_into_the_layers(row, inlet, flow, span):
    after, outlet, taken = march(row, inlet=inlet, flow=flow, span=span)
    gained = (after - np.array(row)).sum() * 25_000.0
    assert gained == pytest.approx(-taken, rel=1e-9, abs=1e-3)
    assert taken == pytest.approx(flow * SPECIFIC_HEAT * span * (outlet - inlet), rel=1e-9, abs=1e-3)
    low, high = min([*row, inlet]) - 1e-9, max([*row, inlet]) + 1e-9
    assert low <= after.min()
    assert after.max() <= high
    assert low <= outlet <= high


def test_up_and_down_are_mirror_images():
    row = [20.0, 40.0, 70.0]
    up, outlet, taken = march(row)
    down, other, same = march(row[::-1], first=2, last=0)
    assert down[::-1] == pytest.approx(up)
    assert (other, same) == pytest.approx((outlet, taken))


def test_no_flow_and_no_time_change_nothing():
    for quiet in ({"flow": 0.0}, {"span": 0.0}):
        after, outlet, taken = march([20.0, 40.0, 70.0], **quiet)
        assert after.tolist() == [20.0, 40.0, 70.0]
        assert (outlet, taken) == (70.0, 0.0)
        still = np.array([20.0, 40.0, 70.0])
        arguments = {"flow": 0.15, "span": 60.0} | quiet
        assert outlet_of_coil(still, np.full(3, 500.0), 0, 2, arguments["flow"], 10.0, arguments["span"], 25e3) == 70.0


@settings(deadline=None)
@given(ROW, st.floats(5.0, 95.0), st.floats(0.001, 1.0))
def test_asking_for_the_outlet_leaves_the_store_alone(row, inlet, flow):
    layers = np.array(row)
    conductances = np.full(len(row), 1500.0 / len(row))
    asked = outlet_of_coil(layers, conductances, 0, len(row) - 1, flow, inlet, 60.0, 25_000.0)
    assert layers.tolist() == row
    assert asked == pytest.approx(march(row, inlet=inlet, flow=flow)[1], abs=1e-12)
