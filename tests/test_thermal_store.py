"""The layered store against closed forms: limits, conservation, convergence and what must not change.

Each case is an exact solution, worked in the test from its own formula (Incropera for conduction and exchangers);
the engine is only asked to meet it, to converge on it at the order its scheme has, and to keep its books.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression
from scipy.special import erf

from tlib import thermal_store
from tlib.heat_transfer.layered_coil import outlet_of_coil
from tlib.installation import Store
from tlib.simulation import Coil, Element, Loop, run_store
from tlib.stratification.column import spanned_shares
from tlib.validation import OutOfRange

HOUR = 3600.0
CP = 4186.8


def tank(volume="300 litre", height="1.26 m", loss="0 W/K", room="20 degC", wall="0.001 mm"):
    return Store(
        volume=volume, height=height, wall={"material": "stainless steel", "thickness": wall}, loss=loss, room=room
    )


# ---- limits -------------------------------------------------------------------------------------------------


def test_nothing_happens_without_flow_or_loss():
    start = np.linspace(20.0, 80.0, 50)
    still = run_store(tank(), [Loop(0.1, 0.9, 0.0, 50.0)], [Coil(0.1, 0.9, 900.0, 0.0, 10.0)], start=[55.0] * 50)
    assert np.all(still.layers == 55.0)
    assert run_store(tank(), [], start=start, duration=60.0).layers[-1] == pytest.approx(start, abs=0.2)


def test_a_uniform_store_cools_exponentially():
    """One body losing heat: T = T_room + (T_0 - T_room) exp(-G t / C), Incropera eq. 5.6 (lumped capacitance)."""
    cooled = run_store(tank(loss="2 W/K"), [], start=65.0, duration=24 * HOUR, layers=2)
    exact = 20.0 + 45.0 * math.exp(-2.0 * 24 * HOUR / (0.3 * thermal_store.FILL_DENSITY * CP))
    assert cooled.layers[-1].mean() == pytest.approx(exact, abs=2e-3)
    finer = run_store(tank(loss="2 W/K"), [], start=65.0, duration=24 * HOUR, layers=2, step=6.0)
    assert abs(finer.layers[-1].mean() - exact) < abs(cooled.layers[-1].mean() - exact) / 8


def test_an_element_lifts_a_losing_store_to_its_balance():
    """T tends to T_room + P / G exponentially; 300 kg, 3 kW, 3 W/K, 2 h from 40 °C in 20 °C."""
    heated = run_store(tank(loss="3 W/K"), [], elements=[Element(0.0, 1.0, 3000.0)], start=40.0, duration=2 * HOUR)
    capacity = 0.3 * thermal_store.FILL_DENSITY * CP
    exact = 1020.0 - 980.0 * math.exp(-3.0 * 2 * HOUR / capacity)
    assert heated.layers[-1].mean() == pytest.approx(exact, abs=5e-3)


def carry(start, flow, step, steps, inlet=10.0):
    """Push water in at the bottom and out at the top, with nothing else going on."""
    layers, temperatures = start.size, start.copy()
    made = thermal_store.tank_of(tank(), layers)
    loop = thermal_store.Loops(
        np.array([layers - 1]), np.array([0]), np.array([flow]), np.array([inlet]), np.zeros(1), np.zeros(1)
    )
    for _ in range(steps):
        thermal_store.advect(temperatures, made, loop, step, thermal_store.work_for(layers))
    return temperatures


def test_a_whole_cell_a_step_is_plug_flow():
    """At a Courant number of one the profile shifts by whole layers, exactly."""
    layers = 50
    flow = 0.3 * thermal_store.FILL_DENSITY / layers / 60.0
    start = np.random.default_rng(1).uniform(20.0, 80.0, layers)
    pushed = carry(start, flow, 60.0, 5)
    assert pushed == pytest.approx(np.concatenate([np.full(5, 10.0), start[:-5]]), abs=1e-10)


# ---- closed forms and convergence ---------------------------------------------------------------------------


def spread_error(layers):
    """Largest error of a step that spreads by conduction alone, against the error function (Incropera eq. 5.60)."""
    store = tank(height="1.7 m", volume="500 litre")
    heights = (np.arange(layers) + 0.5) / layers
    start = np.where(heights < 0.5, 20.0, 70.0)
    after = run_store(store, [], start=start, duration=24 * HOUR, layers=layers).layers[-1]
    made = thermal_store.tank_of(store, layers)
    diffusivity = made.link * (1.7 / layers) ** 2 / made.capacity
    exact = 45.0 + 25.0 * erf((heights - 0.5) * 1.7 / (2.0 * math.sqrt(diffusivity * 24 * HOUR)))
    return np.abs(after - exact).max()


def test_conduction_meets_the_error_function_at_second_order():
    errors = [spread_error(layers) for layers in (20, 40, 80)]
    orders = [math.log2(coarse / fine) for coarse, fine in pairwise(errors)]
    assert errors[-1] < 0.05
    assert min(orders) > 1.7, f"errors {errors}"


def test_a_smooth_front_is_carried_at_second_order():
    """Half a cell a step; the exact answer is the front, moved."""
    errors = []
    for layers in (50, 100, 200):
        heights = (np.arange(layers) + 0.5) / layers
        step, steps = 1000.0 / layers, layers // 2
        flow = 0.5 * 0.3 * thermal_store.FILL_DENSITY / layers / step

        def front(z):
            return 40.0 + 20.0 * np.tanh((z - 0.35) / 0.08)

        carried = carry(front(heights), flow, step, steps, inlet=20.0)
        inner = (heights > 0.3) & (heights < 0.95)
        errors.append(np.abs(carried - front(heights - 0.25))[inner].mean())
    orders = [math.log2(coarse / fine) for coarse, fine in pairwise(errors)]
    assert min(orders) > 1.6, f"errors {errors}"


@pytest.mark.parametrize("layers", [2, 10, 50])
def test_a_coil_in_a_uniform_store_meets_the_effectiveness(layers):
    """T_out = T_store - (T_store - T_in) exp(-NTU), Incropera table 11.4, capacity ratio zero."""
    conductance = 1500.0 * spanned_shares(0.0, 1.0, layers)
    outlet = outlet_of_coil(np.full(layers, 60.0), conductance, 0, layers - 1, 0.15, 10.0, 1e-6, 1e6)
    assert outlet == pytest.approx(60.0 - 50.0 * math.exp(-1500.0 / (0.15 * CP)), abs=1e-6)


def test_a_coil_in_a_linear_store_converges_at_second_order():
    """Exact outlet for a store rising evenly from 30 to 70 °C; dT/dx = N (T_store(x) - T), solved by hand."""
    ntu = 1500.0 / (0.15 * CP)
    exact = 70.0 - 40.0 / ntu + (10.0 - 30.0 + 40.0 / ntu) * math.exp(-ntu)
    errors = []
    for layers in (10, 20, 40):
        store = 30.0 + 40.0 * (np.arange(layers) + 0.5) / layers
        conductance = 1500.0 * spanned_shares(0.0, 1.0, layers)
        outlet = outlet_of_coil(store, conductance, 0, layers - 1, 0.15, 10.0, 1e-9, 1e6)
        errors.append(abs(outlet - exact))
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.1)


def test_a_mixed_draw_falls_exponentially():
    """A store stirred by its own buoyancy (hot water put in at the bottom): T_in + (T_0 - T_in) exp(-m t / M)."""
    errors = []
    mass = 0.3 * thermal_store.FILL_DENSITY
    exact = 60.0 - 50.0 * math.exp(-0.1 * HOUR / mass)
    for step in (60.0, 30.0, 15.0):
        run = run_store(tank(), [Loop(1.0, 0.0, 0.1, 60.0)], start=10.0, duration=HOUR, step=step, layers=10)
        errors.append(abs(run.layers[-1].mean() - exact))
    assert errors[-1] < 0.1
    assert errors[0] / errors[1] == pytest.approx(2.0, rel=0.1), "first order in the step"


# ---- conservation -------------------------------------------------------------------------------------------

loops = st.lists(
    st.builds(Loop, st.floats(0, 1), st.floats(0, 1), st.floats(0, 0.5), st.floats(5, 95)), min_size=0, max_size=3
)
coils = st.lists(
    st.builds(Coil, st.floats(0, 0.45), st.floats(0.5, 1), st.floats(50, 2000), st.floats(0, 0.3), st.floats(5, 90)),
    max_size=2,
)
elements = st.lists(st.builds(Element, st.floats(0, 0.4), st.floats(0.45, 1), st.floats(0, 6000)), max_size=2)


@settings(max_examples=40, deadline=None)
@given(loops, coils, elements, st.integers(2, 100), st.sampled_from([10.0, 60.0, 300.0]), st.integers(0, 10_000))
def test_the_books_balance_for_any_flows(loops, coils, elements, layers, step, seed):
    start = np.random.default_rng(seed).uniform(5.0, 95.0, layers)
    run = run_store(
        tank(loss="2 W/K"), loops, coils, elements, start=start, duration=20 * step, step=step, layers=layers
    )
    assert run.ledger.closure <= 1e-12


@settings(max_examples=40, deadline=None)
@given(loops, st.integers(2, 100), st.sampled_from([10.0, 60.0, 300.0]), st.integers(0, 10_000))
def test_no_layer_leaves_the_span_of_start_inlets_and_room(loops, layers, step, seed):
    start = np.random.default_rng(seed).uniform(5.0, 95.0, layers)
    run = run_store(tank(loss="2 W/K"), loops, start=start, duration=20 * step, step=step, layers=layers)
    known = [*start, 20.0, *(loop.inlet for loop in loops)]
    assert run.layers.min() >= min(known) - 1e-9
    assert run.layers.max() <= max(known) + 1e-9


@given(st.lists(st.floats(5, 95), min_size=2, max_size=60))
def test_merging_is_the_isotonic_regression(temperatures):
    layers = np.array(temperatures)
    expected = isotonic_regression(layers).x
    thermal_store.merge(layers, thermal_store.work_for(layers.size))
    assert layers == pytest.approx(expected, abs=1e-9)


def test_losses_and_coils_are_shared_out_whole():
    made = thermal_store.tank_of(tank(loss="1.85 W/K"), 37)
    assert made.loss.sum() == pytest.approx(1.85, rel=1e-12)
    assert made.loss[0] > made.loss[1]
    assert spanned_shares(0.08, 0.97, 37).sum() == pytest.approx(1.0, rel=1e-12)


def test_insulation_gives_the_loss_that_heat_transfer_gives():
    from tlib.heat_transfer import store_loss_coefficient

    insulated = Store(
        volume="300 litre", height="1.26 m", wall={"material": "steel", "thickness": "3 mm"}, room="20 degC",
        loss={"insulation": "50 mm", "conductivity": "0.025 W/(m K)", "fittings": "0.4 W/K"},
    )  # fmt: skip
    diameter = math.sqrt(4 * 0.3 / 1.26 / math.pi)
    shell = store_loss_coefficient(diameter, 1.26, 0.05, 0.025, 8.0)
    assert thermal_store.tank_of(insulated, 50).loss.sum() == pytest.approx(shell + 0.4, rel=1e-12)


# ---- what must not change anything --------------------------------------------------------------------------


def test_two_half_loops_are_one_loop():
    start = np.linspace(20.0, 80.0, 50)
    one = run_store(tank(), [Loop(0.05, 0.45, 0.2, 70.0)], start=start, duration=2 * HOUR)
    two = run_store(tank(), [Loop(0.05, 0.45, 0.1, 70.0)] * 2, start=start, duration=2 * HOUR)
    assert two.layers == pytest.approx(one.layers, abs=1e-9)


def test_a_port_in_a_steep_front_takes_no_more_than_is_there():
    """One loop draws where another's water passes: no layer may fall below everything that came in."""
    layers = 50
    flow = 0.5 * 0.3 * thermal_store.FILL_DENSITY / layers / 60.0
    start = np.concatenate([np.full(25, 20.0), [40.0], np.full(24, 100.0)])
    loops = thermal_store.Loops(
        np.array([49, 25]), np.array([0, 0]), np.full(2, flow), np.full(2, 20.0), np.zeros(2), np.zeros(2)
    )
    thermal_store.advect(start, thermal_store.tank_of(tank(), layers), loops, 60.0, thermal_store.work_for(layers))
    assert start.min() >= 20.0 - 1e-12


def test_many_loops_in_a_store_of_few_layers():
    run = run_store(tank(), [Loop(0.0, 1.0, 0.001, 50.0)] * 40, start=20.0, duration=600.0, layers=2)
    assert run.ledger.closure <= 1e-12
    assert run.layers.max() <= 50.0


def test_the_order_of_loops_is_no_matter():
    start = np.linspace(20.0, 80.0, 50)
    loops = [Loop(0.05, 0.45, 0.2, 70.0), Loop(0.6, 0.1, 0.1, 30.0)]
    there = run_store(tank(), loops, start=start, duration=2 * HOUR)
    back = run_store(tank(), loops[::-1], start=start, duration=2 * HOUR)
    assert back.layers == pytest.approx(there.layers, abs=1e-9)


def test_all_temperatures_shift_together():
    start = np.linspace(20.0, 80.0, 50)
    plain = run_store(tank(loss="2 W/K"), [Loop(0.05, 0.9, 0.1, 70.0)], start=start, duration=HOUR)
    shifted = run_store(
        tank(loss="2 W/K", room="25 degC"), [Loop(0.05, 0.9, 0.1, 75.0)], start=start + 5.0, duration=HOUR
    )
    assert shifted.layers - 5.0 == pytest.approx(plain.layers, abs=1e-9)


def test_uncompiled_and_compiled_agree(monkeypatch):
    from tlib.simulation import bare

    case = dict(
        store=tank(loss="2 W/K"), loops=[Loop(0.05, 0.45, 0.2, 75.0)], coils=[Coil(0.1, 0.9, 900.0, 0.1, 10.0)],
        elements=[Element(0.2, 0.5, 2000.0)], start=np.linspace(20.0, 60.0, 20), duration=HOUR, layers=20,
    )  # fmt: skip
    fast = run_store(**case)
    monkeypatch.setattr(bare, "_ENGINE", bare._ENGINE.plain)
    assert run_store(**case).layers == pytest.approx(fast.layers, abs=1e-9)


# ---- refusals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "says"),
    [
        (dict(loops=[Loop(1.2, 0.0, 0.1, 20.0)]), "height must be 1 of the store or less; got 1.2"),
        (dict(loops=[Loop(1.0, 0.0, -0.1, 20.0)]), "the flow of a loop must be 0 kg/s or more; got -0.1"),
        (dict(loops=[], start=[20.0, 30.0]), "one temperature for each of 50 layers; got 2"),
        (dict(loops=[], start=float("nan")), "the store's temperature at the start must be a finite number"),
        (dict(loops=[], duration=90.0), "whole number of steps of 60 s; got 90 s"),
        (dict(loops=[], layers=1), "layers must be 2"),
        (dict(loops=[], elements=[Element(0.5, 0.2, 100.0)]), "upper end must be above 0.5"),
    ],
)
def test_impossible_runs_are_refused_in_words(case, says):
    with pytest.raises(OutOfRange, match=says):
        run_store(tank(), **case)
